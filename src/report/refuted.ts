import type { Comparison } from "../assessment";
import { element, type Markup } from "./markup";

/** Whether the loudspeaker as measured refutes the drawing, so that nothing computed from it holds. */
export function isRefuted({ verdict }: Comparison): boolean {
  return verdict.trust.state === "refuted";
}

/** What is true of each part of a page, a text and a build sheet, where the drawing is refuted: what follows from it there. */
const FOLLOWS = {
  summary:
    "What is computed from it doesn’t hold, before or after: nothing is judged by topic or said of tolerances, and curves and findings show what the drawing would do, not this loudspeaker. Find the fault first, put it right or correct the drawing, measure the whole again, and judge then",
  shopping: "Buy nothing by this list, and take no part of the old network for good: both follow from that drawing",
  sheet: "Don’t build by this sheet: its readings are computed, and what is to be reused may be at fault",
} as const;

/** In words: that the drawing is refuted, what follows there, and which one measurement would tell; empty where it isn't refuted. */
export function refutedWords(comparison: Comparison, where: keyof typeof FOLLOWS): readonly string[] {
  if (!isRefuted(comparison)) return [];
  const [first] = comparison.verdict.suspects;
  const alone =
    where !== "summary" || first === undefined || first.explains !== false
      ? ""
      : " No single fault explains all that was measured: more than one thing may be wrong, something that isn’t drawn, or a measurement.";
  return [
    `The drawing is refuted: the loudspeaker as measured is not the one as drawn. ${FOLLOWS[where]}.${alone}`,
    ...(where !== "summary" || first?.wouldTell === undefined ? [] : [`What would tell the first suspects apart: ${first.wouldTell}.`]),
  ];
}

/** The same as a box. */
export function refutedBox(comparison: Comparison, where: keyof typeof FOLLOWS): readonly Markup[] {
  return refutedWords(comparison, where).map((words, index) =>
    index > 0 ? element("p", {}, words) : element("p", { class: "danger" }, element("span", { "aria-hidden": "true" }, "⚠ "), words),
  );
}
