import type { Comparison } from "../assessment";
import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** Refuses what isn't a comparison. */
export function checkComparison(caller: string, value: unknown): Comparison {
  if (
    typeof value === "object"
    && value !== null
    && "before" in value
    && "findings" in value
    && "verdict" in value
    && typeof value.verdict === "object"
  )
    return value as Comparison;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "comparison" must be what compare gives, got ${show(value)}`,
    "Assess both loudspeakers, then compare(before, after)",
  );
}
