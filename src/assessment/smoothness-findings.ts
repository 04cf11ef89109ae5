import { hertz, signed } from "../quantity/internal";
import { axisAmong, marksIn, miss, type Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";
import { smoothness, type Smoothness } from "./smoothness";

const TOPIC = "on the axis";

/** How far the axis strays from a straight line, and how that line tilts. */
export function smoothnessFindings(context: Context): readonly Finding[] {
  const { before, after } = context;
  const { band } = after;
  const smooth = (pick: (of: Smoothness) => number) =>
    miss(context, (places) => {
      const axis = axisAmong(places);
      return axis === undefined ? undefined : pick(smoothness(axis, { band }));
    });
  const [a, b] = [before.smoothness, after.smoothness];
  return [
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
      says: `From ${hertz(band.from)} to ${hertz(band.to)}, unsmoothed, the level strays from a straight line by ${a.standardDeviationDb.toFixed(2)} dB before and ${b.standardDeviationDb.toFixed(2)} dB after (standard deviation)`,
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
  ];
}
