import type { Comparison } from "../assessment";
import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { comparisonShape } from "./comparison-shape";
import type { Shape } from "./shape";

let shape: Shape | undefined;
/** Comparisons that were found whole. */
const whole = /* @__PURE__ */ new WeakSet<object>();

/** Refuses what isn't a comparison, or one of which something is missing. */
export function checkComparison(caller: string, value: unknown, argument = "comparison"): Comparison {
  const object = typeof value === "object" && value !== null ? value : undefined;
  if (object !== undefined && whole.has(object)) return object as Comparison;
  if (object === undefined || !("before" in object && "after" in object && "verdict" in object))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be what compare gives, got ${show(value)}`,
      "Assess both loudspeakers, then compare(before, after)",
    );
  const fault = (shape ??= comparisonShape())(object, "");
  if (fault !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}.${fault.at}" must be ${fault.should}, as compare gives it`,
      "Pass on what compare gave, whole",
    );
  if (Object.isFrozen(object)) whole.add(object);
  return object as Comparison;
}
