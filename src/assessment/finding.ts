import { shown } from "../errors/internal";
import type { Mark } from "../response";
import { findingViews } from "./views";

/** What a finding comes to. */
export type Verdict = "better" | "worse" | "unchanged" | "cannot be decided from these data" | "for information";

/** What a finding is about, for grouping. */
export type Topic = "on the axis" | "crossover" | "off the axis" | "load and drive" | "bass and damping";

/** One number, before and after, with what it should be and why. */
export interface Finding {
  /** Under which heading it belongs. */
  readonly topic: Topic;
  /** Stable, kebab-case. */
  readonly code: string;
  /** What is judged, a few words. */
  readonly subject: string;
  /** The number with the network as found, in `unit`: dB, Ω, Hz, degrees, octaves or dB per octave. */
  readonly before: number;
  /** The number with the new network, in `unit`: dB, Ω, Hz, degrees, octaves or dB per octave. */
  readonly after: number;
  /** Unit of both; "" when dimensionless. */
  readonly unit: string;
  /** Decimals worth printing. */
  readonly decimals: number;
  /** Which way is better. */
  readonly better: "lower" | "higher" | "nearer to zero" | "neither";
  /** What it should be, and why. */
  readonly threshold?: {
    /** The limit, in the finding's own unit. */
    readonly value: number;
    /** On which side of it `after` should be. */
    readonly comparison: "at most" | "at least";
    /** Why, with its standing. */
    readonly reason: string;
  };
  /** Whether `after` keeps the threshold. */
  readonly kept?: boolean;
  /** In the finding's own unit: by how much the model misses what was measured with the network as found. */
  readonly residual?: number;
  /** What `after` is against `before`. */
  readonly verdict: Verdict;
  /** The verdict in one sentence. */
  readonly sentence: string;
  /** What must be known of the data in the band that it judges. */
  readonly marks: readonly Mark[];
}

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
  const kept = threshold === undefined ? undefined : threshold.comparison === "at most" ? size(after) <= threshold.value : size(after) >= threshold.value;
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
