import { DividingNetworkError } from "../../errors";
import { show } from "../../errors/internal";

/** Refuses what isn't as many values as an objective has variables. */
export function checkCount(caller: string, values: ArrayLike<number>, count: number): void {
  if (typeof values === "object" && (values as typeof values | null)?.length === count) return;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: there must be ${count} values, got ${typeof values === "object" && values !== null ? (values.length ?? show(values)) : show(values)}`,
    "Give them in SI, in the order of `variables`",
  );
}

/** Refuses what slopes can't be written to. */
export function checkSlopes(caller: string, slopes: Float64Array, count: number): void {
  if (slopes instanceof Float64Array && slopes.length >= count) return;
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "slopes" must be a Float64Array of ${count} numbers, got ${slopes instanceof Float64Array ? slopes.length : show(slopes)}`,
    "Give `new Float64Array(objective.variables.length)`",
  );
}

/** Whether a loss is a number, and its slopes are. */
export function isFiniteLoss(loss: number, slopes: Float64Array | undefined, count: number): boolean {
  let sum = loss;
  // A number that is none makes the sum none.
  if (slopes !== undefined) for (let i = 0; i < count; i++) sum += 0 * slopes[i]!;
  return Number.isFinite(sum);
}

/** What is said where a loss is none. */
export function noLoss(caller: string): DividingNetworkError {
  return new DividingNetworkError(
    "no-solution",
    `${caller}: the loss has no finite value at these values: at one of the frequencies lossless parts resonate, or contributions, weights and target are too far apart`,
    "Give the coils their resistance (dcr) and the capacitors their loss (esr), or leave that frequency out",
  );
}
