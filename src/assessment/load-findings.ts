import { hertz, signed } from "./axis-findings";
import type { Context } from "./context";
import { driveLevelDb } from "./drive";
import { decide, type Finding } from "./finding";
import { RATED_SHARE, shareSentence } from "./load";

const TOPIC = "load and drive";

/** What the amplifier and the tweeter have to bear. */
export function loadFindings(context: Context): readonly Finding[] {
  const { before, after, model } = context;
  const [a, b] = [before.load, after.load];
  const measured = model?.measured.impedance;
  const found = measured === undefined ? undefined : minimumOf(measured, a.impedance.frequencies);
  const extreme = (load: typeof a) => (Math.abs(load.lowestPhase) > Math.abs(load.highestPhase) ? { angle: load.lowestPhase, at: load.lowestPhaseFrequency } : { angle: load.highestPhase, at: load.highestPhaseFrequency });
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
      threshold: { value: RATED_SHARE * after.ratedImpedance, comparison: "at least", reason: `80 % of the rated ${after.ratedImpedance} Ω is the rule of IEC 60268-5 as remembered, not verified` },
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
      threshold: { value: 0, comparison: "at most", reason: `everywhere at least 80 % of the rated impedance is the rule of IEC 60268-5 as remembered, not verified` },
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
      threshold: { value: 60, comparison: "at most", reason: "beyond that a class B amplifier's output stage dissipates several times what a resistor makes it (common practice, no source)" },
      negligible: 2,
      says: `The phase of the impedance reaches ${signed(p.angle, 0)}° at ${hertz(p.at)} before and ${signed(q.angle, 0)}° at ${hertz(q.at)} after`,
    }),
    ...tweeterFindings(context),
  ];
}

function minimumOf(response: { readonly frequencies: Float64Array; readonly re: Float64Array; readonly im: Float64Array }, grid: Float64Array): number | undefined {
  let least: number | undefined;
  for (let i = 0; i < response.frequencies.length; i++) {
    const frequency = response.frequencies[i]!;
    if (frequency < grid[0]! || frequency > grid[grid.length - 1]!) continue;
    least = Math.min(least ?? Infinity, Math.hypot(response.re[i]!, response.im[i]!));
  }
  return least;
}

/** What each tweeter gets below the crossover, where its excursion grows, when both play equally loud. */
function tweeterFindings({ before, after, crossover }: Context): readonly Finding[] {
  if (crossover === undefined) return [];
  const louder = after.sensitivity.for2V83Db - before.sensitivity.for2V83Db;
  const band = { from: crossover / 4, to: crossover };
  const tweeters = after.prediction.loudspeaker.drivers.filter(({ role }) => role === "tweeter");
  const parts = [...new Set(tweeters.map(({ part }) => part))].filter((part) => part in before.prediction.loudspeaker.network);
  return parts.map((part) => {
    const then = driveLevelDb(before.prediction.loudspeaker, { part, band });
    const now = driveLevelDb(after.prediction.loudspeaker, { part, band }) - louder;
    return decide({
      topic: TOPIC,
      code: "tweeter-drive",
      subject: `drive of ${part} below the crossover`,
      before: then,
      after: now,
      unit: "dB",
      decimals: 1,
      better: "lower",
      negligible: 0.5,
      says: `Over the two octaves below ${hertz(crossover)} the voltage across ${part} is ${signed(then, 1)} dB of the amplifier's before and ${signed(now, 1)} dB after, at equal loudness of the whole; its excursion follows it`,
    });
  });
}
