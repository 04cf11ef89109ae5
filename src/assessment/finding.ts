import { shown } from "../errors/internal";
import type { Mark } from "../response";
import { findingViews } from "./views";
import type { Verdict, Finding } from "./finding-data";

/** What is needed to make a finding. */
export interface FindingInput extends Omit<Finding, "verdict" | "kept" | "sentence" | "marks" | "threshold" | "residual"> {
  readonly threshold?: Finding["threshold"] | undefined;
  readonly residual?: number | undefined;
  /** A difference smaller than this, in the finding's unit, is no difference. */
  readonly negligible: number;
  /** The sentence without its verdict. */
  readonly says: string;
  readonly marks?: readonly Mark[];
}

/** Decides one finding: what the model can't resolve is not decided. */
export function decide({ negligible, says, threshold, residual, marks = [], ...finding }: FindingInput): Finding {
  const { before, after, better } = finding;
  const size = (value: number) => (better === "nearer to zero" ? Math.abs(value) : value);
  const difference = size(after) - size(before);
  const verdict: Verdict =
    better === "neither"
      ? "for information"
      : residual !== undefined && residual > Math.abs(difference) && residual > negligible
        ? "cannot be decided from these data"
        : Math.abs(difference) < negligible
          ? "unchanged"
          : (better === "higher") === difference > 0
            ? "better"
            : "worse";
  const kept =
    threshold === undefined
      ? undefined
      : threshold.comparison === "at most"
        ? size(after) <= threshold.value
        : size(after) >= threshold.value;
  const ending =
    verdict === "for information"
      ? kept === undefined
        ? ""
        : `: ${kept ? "as it should be" : "not yet what it should be"}`
      : verdict === "cannot be decided from these data"
        ? `: cannot be decided from these data, since the model misses the measurement by ${residual!.toFixed(finding.decimals)} ${finding.unit}`.trimEnd()
        : `: ${verdict}${kept !== false ? "" : verdict === "better" ? ", but not yet what it should be" : ", and not what it should be"}`;
  const decided: Finding = {
    ...finding,
    ...(threshold === undefined ? {} : { threshold: Object.freeze(threshold) }),
    ...(kept === undefined ? {} : { kept }),
    ...(residual === undefined ? {} : { residual }),
    verdict,
    sentence: `${says}${ending}.`,
    marks: Object.freeze([...marks]),
  };
  return Object.freeze(shown(decided, findingViews));
}
