import { marksIn, type Context } from "./context";
import { decide } from "./finding";
import type { Finding } from "./finding-data";

const TOPIC = "on the axis";

/** Deviations that are said in one row; all of them are in `causes`. */
const SAID = 3;

/** Where the corridor is left: what makes the largest deviations from the target. */
export function axisCauseFindings(context: Context): readonly Finding[] {
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
