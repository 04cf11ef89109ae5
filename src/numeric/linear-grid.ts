import { DividingNetworkError } from "../errors";
import type { Frequency } from "../quantity";
import { gridEnds } from "./grid-ends";

/**
 * Frequencies in Hz spaced evenly on a linear axis, both ends included exactly.
 *
 * @param from lowest frequency, Hz or text with its unit, at least 0
 * @param to highest frequency, Hz or text with its unit, above `from`
 * @param points number of frequencies, dimensionless, 2 to 10 000 000
 * @returns `points` frequencies in Hz, strictly ascending
 * @throws DividingNetworkError `invalid-argument` or `invalid-quantity`; also when two neighbours would be the same number
 * @example
 * ```ts
 * import { linearGrid } from "dividing-network";
 *
 * linearGrid(0, "1 kHz", 5); // [0, 250, 500, 750, 1000]
 * ```
 */
export function linearGrid(from: Frequency, to: Frequency, points: number): Float64Array {
  const [f0, f1, n] = gridEnds("linearGrid", from, to, points, { min: 0 });
  const grid = new Float64Array(n);
  for (let i = 0; i < n; i++) grid[i] = f0 + (f1 - f0) * (i / (n - 1));
  grid[n - 1] = f1;
  for (let i = 1; i < n; i++) {
    if (!(grid[i]! > grid[i - 1]!)) {
      throw new DividingNetworkError(
        "invalid-argument",
        `linearGrid: "points" must leave room between neighbours, got ${n} points between ${f0} Hz and ${f1} Hz`,
        "Ask for fewer points or for a wider band",
      );
    }
  }
  return grid;
}
