import { listOf, hertz, signed } from "../quantity/internal";
import type { Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";
import { RATED_SHARE, shareSentence } from "./load";

const TOPIC = "load and drive";

/** What the amplifier and the tweeter have to bear. */
export function loadFindings(context: Context): readonly Finding[] {
  const { before, after, model } = context;
  const [a, b] = [before.load, after.load];
  const measured = model?.measured.impedance;
  const found = measured === undefined ? undefined : minimumOf(measured, a.impedance.frequencies);
  const extreme = (load: typeof a) =>
    Math.abs(load.lowestPhaseDegrees) > Math.abs(load.highestPhaseDegrees)
      ? { angle: load.lowestPhaseDegrees, at: load.lowestPhaseFrequency }
      : { angle: load.highestPhaseDegrees, at: load.highestPhaseFrequency };
  const [p, q] = [extreme(a), extreme(b)];
  return [
    decide({
      topic: TOPIC,
      code: "impedance-minimum",
      subject: "smallest impedance",
      before: a.minimum,
      after: b.minimum,
      unit: "Ω",
      decimals: 2,
      better: "higher",
      threshold: {
        value: RATED_SHARE * after.ratedImpedance,
        comparison: "at least",
        reason: `80 % of the rated ${after.ratedImpedance} Ω is the rule of IEC 60268-5 as remembered, not verified`,
      },
      residual: found === undefined ? undefined : Math.abs(found - a.minimum),
      negligible: 0.05,
      says: `The impedance falls to ${a.minimum.toFixed(2)} Ω at ${hertz(a.minimumFrequency)} before (${shareSentence(a.shares)}) and to ${b.minimum.toFixed(2)} Ω at ${hertz(b.minimumFrequency)} after (${shareSentence(b.shares)})`,
    }),
    decide({
      topic: TOPIC,
      code: "impedance-below-limit",
      subject: "band below 80 % of the rated impedance",
      before: a.octavesBelowLimit,
      after: b.octavesBelowLimit,
      unit: "octaves",
      decimals: 2,
      better: "lower",
      threshold: {
        value: 0,
        comparison: "at most",
        reason: `everywhere at least 80 % of the rated impedance is the rule of IEC 60268-5 as remembered, not verified`,
      },
      negligible: 0.05,
      says: `The impedance is below 80 % of ${after.ratedImpedance} Ω over ${a.octavesBelowLimit.toFixed(2)} octaves before and ${b.octavesBelowLimit.toFixed(2)} octaves after`,
    }),
    decide({
      topic: TOPIC,
      code: "impedance-phase",
      subject: "largest phase of the impedance",
      before: p.angle,
      after: q.angle,
      unit: "°",
      decimals: 0,
      better: "nearer to zero",
      threshold: {
        value: 60,
        comparison: "at most",
        reason:
          "beyond that a class B amplifier's output stage dissipates several times what a resistor makes it (common practice, no source)",
      },
      negligible: 2,
      says: `The phase of the impedance reaches ${signed(p.angle, 0)}° at ${hertz(p.at)} before and ${signed(q.angle, 0)}° at ${hertz(q.at)} after`,
    }),
    ...sparedFindings(context),
    ...driverFindings(context),
    ...risingFindings(context),
  ];
}

function minimumOf(
  response: { readonly frequencies: Float64Array; readonly re: Float64Array; readonly im: Float64Array },
  grid: Float64Array,
): number | undefined {
  let least: number | undefined;
  for (let i = 0; i < response.frequencies.length; i++) {
    const frequency = response.frequencies[i]!;
    if (frequency < grid[0]! || frequency > grid[grid.length - 1]!) continue;
    least = Math.min(least ?? Infinity, Math.hypot(response.re[i]!, response.im[i]!));
  }
  return least;
}

/** What each driver that is to be spared gets at its own resonance, where its excursion is largest. */
function sparedFindings({ before, after }: Context): readonly Finding[] {
  return after.quality.spared.flatMap(({ driver, resonance, belowDb, limitDb }) => {
    const then = before.quality.spared.find((other) => other.driver === driver)?.belowDb;
    if (resonance === undefined || belowDb === undefined || then === undefined) return [];
    return [
      decide({
        topic: TOPIC,
        code: "spared-driver",
        subject: `${driver} spared at its resonance`,
        before: then,
        after: belowDb,
        unit: "dB",
        decimals: 1,
        better: "higher",
        threshold: {
          value: limitDb,
          comparison: "at least",
          reason: "second order an octave above the resonance (common practice, no source)",
        },
        negligible: 1,
        says: `At its resonance, ${hertz(resonance)}, the ${driver} gets ${then.toFixed(1)} dB less than in its passband before and ${belowDb.toFixed(1)} dB less after; its excursion follows it`,
      }),
    ];
  });
}

/** Heat and excursion of each driver at the goal's amplifier level, where one is stated. */
function driverFindings({ before, after }: Context): readonly Finding[] {
  return after.ratings.drivers.flatMap(({ driver, power, excursion, ratings, first }) => {
    const then = before.ratings.drivers.find((other) => other.driver === driver);
    if (then === undefined) return [];
    const limited =
      first === undefined
        ? ""
        : `; now its first limit is ${first.limit === "power" ? "heat" : "excursion"}, at ${first.voltage.toFixed(1)} V rms of the amplifier's largest sine`;
    const [a, b] = [then.excursion, excursion].map((moved) => (moved === undefined ? undefined : 1000 * moved.peak));
    return [
      decide({
        topic: TOPIC,
        code: "driver-heat",
        subject: `heat in the ${driver}`,
        before: then.power.mean,
        after: power.mean,
        unit: "W",
        decimals: 1,
        better: "lower",
        negligible: Math.max(0.1, 0.1 * then.power.mean),
        threshold:
          ratings.power === undefined
            ? undefined
            : { value: ratings.power, comparison: "at most", reason: "as the driver's rating is stated" },
        says: `Under the signal the ${driver} gets ${then.power.mean.toFixed(1)} W of heat before and ${power.mean.toFixed(1)} W after${limited}`,
      }),
      ...(a === undefined || b === undefined
        ? []
        : [
            decide({
              topic: TOPIC,
              code: "driver-excursion",
              subject: `excursion of the ${driver}`,
              before: a,
              after: b,
              unit: "mm",
              decimals: 2,
              better: "lower",
              negligible: Math.max(0.01, 0.1 * a),
              threshold:
                ratings.excursion === undefined
                  ? undefined
                  : { value: 1000 * ratings.excursion, comparison: "at most", reason: "as the driver's largest excursion is stated" },
              says: `Under the signal the ${driver} moves by up to ${a.toFixed(2)} mm to one side before and ${b.toFixed(2)} mm after`,
            }),
          ]),
    ];
  });
}

/** Branches that give their driver more than the source gives, of either network. */
function risingFindings({ before, after }: Context): readonly Finding[] {
  const parts = [...new Set([...before.rising, ...after.rising].map(({ part }) => part))];
  return parts.map((part) => {
    const [then, now] = [before, after].map(({ rising }) => rising.find((branch) => branch.part === part));
    const said = (branch: typeof then) =>
      branch === undefined
        ? "nowhere above the source"
        : `${branch.gainDb.toFixed(1)} dB above the source at ${hertz(branch.frequency)}${branch.resonating.length === 0 ? "" : `, where ${listOf(branch.resonating)} resonate${branch.q === undefined ? "" : ` (Q ${branch.q.toFixed(1)})`}`}`;
    return decide({
      topic: TOPIC,
      code: "rising-branch",
      subject: `rise of the voltage at ${part}`,
      before: then?.gainDb ?? 0,
      after: now?.gainDb ?? 0,
      unit: "dB",
      decimals: 1,
      better: "neither",
      negligible: 0.5,
      says: `The voltage at ${part} is ${said(then)} before, and ${said(now)} after`,
    });
  });
}
