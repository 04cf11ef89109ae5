import type { Comparison } from "../../assessment";
import { DividingNetworkError } from "../../errors";
import { checkOptions } from "../../errors/internal";
import { checkComparison } from "../check-comparison";
import { checkText } from "../markup";

/** A third network beside the found and the proposed one, such as one made by hand. */
export interface Alternative {
  /** What it is called: "by hand". */
  readonly name: string;
  /** Of the same loudspeaker as found against this network. */
  readonly comparison: Comparison;
}

/** Characters of a name that fit beside a curve and over a column. */
const FITS = 16;

/** What the third network is called where there is little room; the summary says its whole name. */
export function shortName({ name }: Alternative): string {
  return name.length <= FITS ? name : "the third";
}

/** What the third network comes to against the one found, in a sentence or a few. */
export function thirdSentence({ name, comparison }: Alternative): string {
  return `${name}. ${comparison.verdict.sentence.replace(/\bThe new network\b/, "It").replace(/\bthe new network\b/, "it")}`;
}

/** Refuses an alternative to another loudspeaker as found, or by another goal. */
export function checkAlternative(caller: string, value: Alternative | undefined, { before }: Comparison): Alternative | undefined {
  if (value === undefined) return undefined;
  const { name, comparison } = checkOptions<Alternative>(caller, value, ["name", "comparison"]);
  const other = checkComparison(caller, comparison, "alternative.comparison").before;
  if (
    other !== before
    && (other.distance !== before.distance
      || other.band.from !== before.band.from
      || other.band.to !== before.band.to
      || other.quality.axisDb !== before.quality.axisDb)
  ) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "alternative.comparison" must begin with the same loudspeaker as found`,
      "compare(found, byHand) with the assessment that the other comparison has as before",
    );
  }
  return { name: checkText(caller, "alternative.name", name), comparison };
}
