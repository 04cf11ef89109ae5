import { hertz } from "../quantity/internal";
import { marksIn, type Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";
import { idealPair } from "./ideal-pair";
import type { Assessment } from "./assessment-data";

const TOPIC = "crossover";

type Pair = Assessment["handovers"][number];

/** What a pair may miss its ideal by (choices, no source): parts of slope and overlap, degrees, and dB of the null. */
const [STEEP, WIDE, TURN_DEGREES, NULL_ROOM_DB, DEEP_DB] = [0.9, 1.25, 30, 3, 20];

/** Octaves by which the crossover may lie beside the stated one (choice, no source). */
const BESIDE = 0.25;

/** dB per octave: below first order. */
const HARDLY_A_SLOPE = 6;

/** Each pair of neighbouring branches that both networks have. */
export function handoverFindings(context: Context): readonly Finding[] {
  return context.after.handovers.flatMap((after) => {
    const before = context.before.handovers.find(({ lower, upper }) => lower === after.lower && upper === after.upper);
    return before === undefined ? [] : pairFindings(context, before, after);
  });
}

function pairFindings(context: Context, before: Pair, after: Pair): readonly Finding[] {
  const { model } = context;
  // Limits hold only where it was said what is meant: an ideal alignment of any family and order keeps its own.
  const { meant } = after;
  const ideal = meant === undefined ? undefined : idealPair(meant);
  const kind = meant === undefined ? "" : `an ideal pair of order ${meant.order}${meant.family === undefined ? "" : ` (${meant.family})`}`;
  const pair = `${after.lower} and ${after.upper}`;
  const marks = marksIn(context, after.overlap);
  const list = ({ crossovers, frequency }: Pair) =>
    `${hertz(frequency)}${
      crossovers.length > 1
        ? ` (equal levels also at ${crossovers
            .filter((other) => other !== frequency)
            .map(hertz)
            .join(", ")})`
        : ""
    }`;
  // By how much each falls away from the crossover: what rises there falls by less than nothing.
  const falls = ({ lowerSlopeDbPerOctave, upperSlopeDbPerOctave }: Pair) =>
    [lowerSlopeDbPerOctave === undefined ? undefined : -lowerSlopeDbPerOctave, upperSlopeDbPerOctave] as const;
  const slopes = (of: Pair) =>
    falls(of)
      .map(
        (fall, index) =>
          `${index === 0 ? after.lower : after.upper} ${fall === undefined ? "isn't covered by the data" : `${fall < 0 ? "rises" : "falls"} by ${Math.abs(fall).toFixed(1)} dB per octave`}`,
      )
      .join(" and ");
  const both = (of: Pair) => {
    const [lower, upper] = falls(of);
    return lower === undefined || upper === undefined ? undefined : { mismatch: Math.abs(lower - upper), steep: (lower + upper) / 2 };
  };
  const mismatch = (of: Pair) => both(of)?.mismatch;
  const steepness = (of: Pair) => both(of)?.steep;
  const [mismatchBefore, mismatchAfter, steepBefore, steepAfter] = [mismatch(before), mismatch(after), steepness(before), steepness(after)];
  const usual = [2, 3, 4].map((order) => (3.32 / order).toFixed(2));
  return [
    decide({
      topic: TOPIC,
      code: "crossover",
      subject: `crossover of ${pair}`,
      before: before.frequency,
      after: after.frequency,
      unit: "Hz",
      decimals: 0,
      better: "neither",
      negligible: 1,
      says: `The levels of ${pair} are equal at ${list(before)} before and at ${list(after)} after`,
      marks,
    }),
    ...(meant?.frequency === undefined
      ? []
      : [
          decide({
            topic: TOPIC,
            code: "crossover-place",
            subject: `crossover of ${pair} against ${hertz(meant.frequency)}`,
            before: Math.log2(before.frequency / meant.frequency),
            after: Math.log2(after.frequency / meant.frequency),
            unit: "octaves",
            decimals: 2,
            better: "nearer to zero",
            threshold: {
              value: BESIDE,
              comparison: "at most",
              reason: `the goal states ${hertz(meant.frequency)}; a quarter of an octave beside it is allowed (choice, no source)`,
            },
            negligible: 0.05,
            says: `The crossover of ${pair} was meant to be at ${hertz(meant.frequency)} and lies at ${hertz(before.frequency)} before and ${hertz(after.frequency)} after`,
            marks,
          }),
        ]),
    ...(mismatchBefore === undefined || mismatchAfter === undefined || steepBefore === undefined || steepAfter === undefined
      ? []
      : [
          decide({
            topic: TOPIC,
            code: "slope-steepness",
            subject: `acoustic slopes of ${pair}`,
            before: steepBefore,
            after: steepAfter,
            unit: "dB/octave",
            decimals: 1,
            better: "higher",
            threshold:
              ideal === undefined
                ? undefined
                : {
                    value: STEEP * ideal.slope,
                    comparison: "at least",
                    reason: `${kind} falls by ${ideal.slope.toFixed(1)} dB/octave there (by computation); a tenth less is allowed (choice, no source)`,
                  },
            residual: model?.levelDb,
            negligible: 1,
            says: `Over the octave that begins half an octave beyond the crossover, ${slopes(before)} before; ${slopes(after)} after`,
            marks,
          }),
          decide({
            topic: TOPIC,
            code: "slope-match",
            subject: `match of the acoustic slopes of ${pair}`,
            before: mismatchBefore,
            after: mismatchAfter,
            unit: "dB/octave",
            decimals: 1,
            // Two branches that hardly fall have nothing to match.
            better: steepBefore < HARDLY_A_SLOPE ? "neither" : "lower",
            threshold:
              ideal === undefined
                ? undefined
                : {
                    value: 4,
                    comparison: "at most",
                    reason:
                      "branches of one order keep a constant phase against each other; a whole order is 6 dB per octave (by computation)",
                  },
            residual: model?.levelDb,
            negligible: 0.5,
            says: `The acoustic slopes of ${pair} differ by ${mismatchBefore.toFixed(1)} dB per octave before${steepBefore < HARDLY_A_SLOPE ? ", where there is hardly a slope to match," : ""} and by ${mismatchAfter.toFixed(1)} dB per octave after`,
            marks,
          }),
        ]),
    decide({
      topic: TOPIC,
      code: "overlap",
      subject: `overlap of ${pair}`,
      before: before.overlapOctaves,
      after: after.overlapOctaves,
      unit: "octaves",
      decimals: 2,
      better: "lower",
      threshold:
        ideal === undefined
          ? undefined
          : {
              value: WIDE * ideal.overlapOctaves,
              comparison: "at most",
              reason: `${kind} is within 10 dB over ${ideal.overlapOctaves.toFixed(2)} octaves (by computation); a quarter more is allowed (choice, no source)`,
            },
      // Across the overlap the difference of levels runs through 20 dB.
      residual: model?.levelDb === undefined ? undefined : (model.levelDb * before.overlapOctaves) / 20,
      negligible: 0.1,
      says: `The levels of ${pair} are within 10 dB of each other over ${before.overlapCut ? "at least " : ""}${before.overlapOctaves.toFixed(2)} octaves (${hertz(before.overlap.from)} to ${hertz(before.overlap.to)}) before and ${after.overlapCut ? "at least " : ""}${after.overlapOctaves.toFixed(2)} octaves (${hertz(after.overlap.from)} to ${hertz(after.overlap.to)}) after; ideal pairs of order 2, 3 and 4 overlap by ${usual.slice(0, 2).join(", ")} and ${usual[2]!}`,
      marks,
    }),
    decide({
      topic: TOPIC,
      code: "phase-tracking",
      subject: `phase between ${pair}`,
      before: before.phaseRmsDegrees,
      after: after.phaseRmsDegrees,
      unit: "°",
      decimals: 0,
      better: "lower",
      threshold:
        ideal === undefined
          ? undefined
          : {
              value: ideal.phaseRmsDegrees + TURN_DEGREES,
              comparison: "at most",
              reason: `the branches of ${kind} are ${ideal.phaseRmsDegrees.toFixed(0)}° apart (by computation); ${TURN_DEGREES}° more cost 0.3 dB of an in-phase sum (by computation), and are allowed (choice, no source)`,
            },
      residual: model?.angleDegrees,
      negligible: 2,
      says: `Where ${pair} overlap, their phases are ${before.phaseRmsDegrees.toFixed(0)}° apart before and ${after.phaseRmsDegrees.toFixed(0)}° after (root mean square)`,
      marks,
    }),
    decide({
      topic: TOPIC,
      code: "reversed-null",
      subject: `null with ${after.upper} reversed`,
      before: before.nullDepthDb,
      after: after.nullDepthDb,
      unit: "dB",
      decimals: 1,
      better: "higher",
      // A pair that isn't nearly in phase makes no null that would tell anything: odd orders are a quarter turn apart.
      threshold:
        ideal === undefined || ideal.nullDepthDb < 2 * NULL_ROOM_DB
          ? undefined
          : {
              value: Math.min(DEEP_DB, ideal.nullDepthDb - NULL_ROOM_DB),
              comparison: "at least",
              reason: `${kind} makes one of ${ideal.nullDepthDb >= 120 ? "any depth" : `${ideal.nullDepthDb.toFixed(1)} dB`} (by computation); ${DEEP_DB} dB, or ${NULL_ROOM_DB} dB less than its own, will do (choice, no source)`,
            },
      residual: model?.levelDb,
      negligible: 0.5,
      says: `Reversing ${after.upper} makes a null ${before.nullDepthDb.toFixed(1)} dB deep at ${hertz(before.nullFrequency)} before and ${after.nullDepthDb.toFixed(1)} dB deep at ${hertz(after.nullFrequency)} after, the deeper the better in phase`,
      marks,
    }),
  ];
}
