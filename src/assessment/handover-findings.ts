import { hertz } from "./words";
import { marksIn, type Context } from "./context";
import { decide, type Finding } from "./finding";
import type { Assessment } from "./assess";

const TOPIC = "crossover";

type Pair = Assessment["handovers"][number];

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
  // Limits hold only where it was said what is meant: an ideal alignment of any order keeps its own.
  const order = context.after.goal.intentions.find(({ lower, upper }) => lower === after.lower && upper === after.upper)?.order;
  const pair = `${after.lower} and ${after.upper}`;
  const marks = marksIn(context, after.overlap);
  const list = ({ crossovers, frequency }: Pair) => `${hertz(frequency)}${crossovers.length > 1 ? ` (equal levels also at ${crossovers.filter((other) => other !== frequency).map(hertz).join(", ")})` : ""}`;
  const slopes = ({ lowerSlope, upperSlope }: Pair) => `${lowerSlope === undefined ? "not covered by the data" : Math.abs(lowerSlope).toFixed(1)} and ${upperSlope === undefined ? "not covered by the data" : Math.abs(upperSlope).toFixed(1)}`;
  const mismatch = ({ lowerSlope, upperSlope }: Pair) => (lowerSlope === undefined || upperSlope === undefined ? undefined : Math.abs(Math.abs(lowerSlope) - Math.abs(upperSlope)));
  const steepness = ({ lowerSlope, upperSlope }: Pair) => (lowerSlope === undefined || upperSlope === undefined ? undefined : (Math.abs(lowerSlope) + Math.abs(upperSlope)) / 2);
  const [mismatchBefore, mismatchAfter, steepBefore, steepAfter] = [mismatch(before), mismatch(after), steepness(before), steepness(after)];
  const ideal = [2, 3, 4].map((order) => (3.32 / order).toFixed(2));
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
            threshold: order === undefined ? undefined : { value: 4.5 * order, comparison: "at least", reason: `three quarters of the ${6 * order} dB/octave that were meant: so near the crossover an ideal slope has not yet got there (by computation)` },
            residual: model?.levelDb,
            negligible: 1,
            says: `Over the octave that begins half an octave beyond the crossover, ${pair} fall by ${slopes(before)} dB per octave before and by ${slopes(after)} dB per octave after`,
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
            threshold: order === undefined ? undefined : { value: 4, comparison: "at most", reason: "branches of one order keep a constant phase against each other; a whole order is 6 dB per octave (by computation)" },
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
      threshold: order === undefined ? undefined : { value: (1.25 * 3.32) / order, comparison: "at most", reason: `an ideal pair of order ${order} is within 10 dB over 3.32/${order} octaves (by computation); a quarter more is allowed (choice, no source)` },
      // Across the overlap the difference of levels runs through 20 dB.
      residual: model?.levelDb === undefined ? undefined : (model.levelDb * before.overlapOctaves) / 20,
      negligible: 0.1,
      says: `The levels of ${pair} are within 10 dB of each other over ${before.overlapCut ? "at least " : ""}${before.overlapOctaves.toFixed(2)} octaves (${hertz(before.overlap.from)} to ${hertz(before.overlap.to)}) before and ${after.overlapCut ? "at least " : ""}${after.overlapOctaves.toFixed(2)} octaves (${hertz(after.overlap.from)} to ${hertz(after.overlap.to)}) after; ideal pairs of order 2, 3 and 4 overlap by ${ideal.slice(0, 2).join(", ")} and ${ideal[2]!}`,
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
      residual: model?.levelDb,
      negligible: 0.5,
      says: `Reversing ${after.upper} makes a null ${before.nullDepthDb.toFixed(1)} dB deep at ${hertz(before.nullFrequency)} before and ${after.nullDepthDb.toFixed(1)} dB deep at ${hertz(after.nullFrequency)} after, the deeper the better in phase`,
      marks,
    }),
  ];
}
