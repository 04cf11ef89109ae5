import { DividingNetworkError } from "../errors";

/**
 * Hands out, frozen, results that are above 0 by their formulas; refuses input so large or small that one of them, or a product on the way
 * to it, leaves what a number can hold and comes out as 0, Infinity or NaN.
 */
export function positiveResults<T extends Readonly<Record<string, number>>>(caller: string, results: T): T {
  for (const [name, value] of Object.entries(results)) {
    if (value > 0 && value < Infinity) continue;
    throw new DividingNetworkError(
      "overflow",
      `${caller}: "${name}" must be within what a number can hold, got ${value}`,
      "Check the units of what was given",
    );
  }
  return Object.freeze(results);
}
