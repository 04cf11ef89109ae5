import { axisAmong, marksIn, miss, type Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";
import { sensitivityLevels } from "./sensitivity-levels";
import { smoothness, type Smoothness } from "./smoothness";
import { hertz, signed } from "../quantity/internal";

const TOPIC = "on the axis";

/** What is found on the axis. */
export function axisFindings(context: Context): readonly Finding[] {
  const { before, after } = context;
  const { band, sensitivityBand, ratedImpedance } = after;
  const range = (from: number, to: number) => `${hertz(from)} to ${hertz(to)}`;
  const loudness = miss(context, (places) => {
    const axis = axisAmong(places);
    return axis === undefined ? undefined : sensitivityLevels(axis, { band: sensitivityBand, ratedImpedance }).for2V83Db;
  });
  const smooth = (pick: (of: Smoothness) => number) =>
    miss(context, (places) => {
      const axis = axisAmong(places);
      return axis === undefined ? undefined : pick(smoothness(axis, { band }));
    });
  const [s, t] = [before.sensitivity, after.sensitivity];
  const [a, b] = [before.smoothness, after.smoothness];
  const at = `${after.distance} m`;
  const spread = after.distances.map(({ distance, spreadDb }, index) => {
    const earlier = before.distances[index]!.spreadDb;
    return decide({
      topic: TOPIC,
      code: "distance",
      subject: `change of shape from ${at} to ${distance} m`,
      before: earlier,
      after: spreadDb,
      unit: "dB",
      decimals: 2,
      better: "lower",
      threshold: {
        value: 1,
        comparison: "at most",
        reason: "a listener who moves back should hear the same balance (common practice, no source)",
      },
      negligible: 0.1,
      says: `Between ${at} and ${distance} m the shape of the response changes by ${earlier.toFixed(2)} dB (standard deviation) before and ${spreadDb.toFixed(2)} dB after`,
      marks: marksIn(context, band),
    });
  });
  return [
    decide({
      topic: TOPIC,
      code: "sensitivity-2.83V",
      subject: "sensitivity for 2.83 V",
      before: s.for2V83Db,
      after: t.for2V83Db,
      unit: "dB",
      decimals: 1,
      better: "higher",
      residual: loudness,
      negligible: 0.2,
      says: `At ${at} for 2.83 V the power average from ${range(sensitivityBand.from, sensitivityBand.to)} is ${s.for2V83Db.toFixed(1)} dB before and ${t.for2V83Db.toFixed(1)} dB after`,
      marks: marksIn(context, sensitivityBand),
    }),
    decide({
      topic: TOPIC,
      code: "sensitivity-1W",
      subject: `sensitivity for 1 W into ${ratedImpedance} Ω`,
      before: s.for1WDb,
      after: t.for1WDb,
      unit: "dB",
      decimals: 1,
      better: "neither",
      negligible: 0.2,
      says: `The same for 1 W into the rated ${ratedImpedance} Ω (${Math.sqrt(ratedImpedance).toFixed(2)} V) is ${s.for1WDb.toFixed(1)} dB before and ${t.for1WDb.toFixed(1)} dB after`,
      marks: marksIn(context, sensitivityBand),
    }),
    decide({
      topic: TOPIC,
      code: "smoothness",
      subject: "smoothness on the axis",
      before: a.standardDeviationDb,
      after: b.standardDeviationDb,
      unit: "dB",
      decimals: 2,
      better: "lower",
      threshold: {
        value: 1,
        comparison: "at most",
        reason: "larger deviations over whole octaves are heard as colour (common practice, no source)",
      },
      residual: smooth((of) => of.standardDeviationDb),
      negligible: 0.05,
      says: `From ${range(band.from, band.to)}, unsmoothed, the level strays from a straight line by ${a.standardDeviationDb.toFixed(2)} dB before and ${b.standardDeviationDb.toFixed(2)} dB after (standard deviation)`,
      marks: marksIn(context, band),
    }),
    decide({
      topic: TOPIC,
      code: "worst-deviation",
      subject: "largest deviation on the axis",
      before: a.worstDb,
      after: b.worstDb,
      unit: "dB",
      decimals: 1,
      better: "nearer to zero",
      threshold: { value: 3, comparison: "at most", reason: "±3 dB is what data sheets usually state (common practice, no source)" },
      residual: smooth((of) => of.worstDb),
      negligible: 0.2,
      says: `The largest deviation from that line is ${signed(a.worstDb, 1)} dB at ${hertz(a.worstFrequency)} before and ${signed(b.worstDb, 1)} dB at ${hertz(b.worstFrequency)} after`,
      marks: marksIn(context, band),
    }),
    decide({
      topic: TOPIC,
      code: "tilt",
      subject: "tilt of the response",
      before: a.slopeDbPerOctave,
      after: b.slopeDbPerOctave,
      unit: "dB/octave",
      decimals: 2,
      better: "neither",
      negligible: 0.1,
      says: `That line tilts by ${signed(a.slopeDbPerOctave, 2)} dB per octave before and ${signed(b.slopeDbPerOctave, 2)} dB per octave after`,
      marks: marksIn(context, band),
    }),
    ...causes(context),
    ...spread,
  ];
}

/** Deviations that are said in one row; all of them are in `causes`. */
const SAID = 3;

/** Where the corridor is left: what makes the largest deviations from the target. */
function causes(context: Context): readonly Finding[] {
  const { before, after } = context;
  const here = ({ causes: all }: Context["before"]) => all.filter(({ topic }) => topic === "on the axis").slice(0, SAID);
  if (here(before).length + here(after).length === 0) return [];
  const said = (assessment: Context["before"]) =>
    here(assessment).length === 0
      ? "The response keeps its corridor"
      : here(assessment)
          .map(({ sentence }) => sentence)
          .join(". ");
  return [
    decide({
      topic: TOPIC,
      code: "axis-cause",
      subject: "largest deviation from the target, in third octaves",
      before: before.quality.worstDb,
      after: after.quality.worstDb,
      unit: "dB",
      decimals: 1,
      better: "neither",
      negligible: 0.2,
      says: `Before: ${said(before)}. After: ${said(after)}`,
      marks: marksIn(context, after.band),
    }),
  ];
}
