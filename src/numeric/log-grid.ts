import { DividingNetworkError } from "../errors";
import type { Frequency } from "../quantity";
import { gridEnds } from "./grid-ends";

/**
 * Frequencies in Hz spaced evenly on a logarithmic axis, both ends included exactly.
 *
 * $f_i = f_0 (f_1 / f_0)^{i/(n-1)}$
 *
 * @param from lowest frequency, Hz or text with its unit, above 0
 * @param to highest frequency, Hz or text with its unit, above `from`
 * @param points number of frequencies, dimensionless, 2 to 10 000 000
 * @returns `points` frequencies in Hz, strictly ascending
 * @throws DividingNetworkError `invalid-argument` or `invalid-quantity`; also when two neighbours would be the same number
 * @example
 * ```ts
 * import { logGrid } from "dividing-network";
 *
 * logGrid("20 Hz", "20 kHz", 4); // [20, 200, 2000, 20000]
 * ```
 */
export function logGrid(from: Frequency, to: Frequency, points: number): Float64Array {
  const [f0, f1, n] = gridEnds("logGrid", from, to, points, { above: 0 });
  const ratio = f1 / f0;
  const grid = new Float64Array(n);
  for (let i = 0; i < n; i++) grid[i] = f0 * ratio ** (i / (n - 1));
  grid[n - 1] = f1;
  for (let i = 1; i < n; i++) {
    if (!(grid[i]! > grid[i - 1]!)) {
      throw new DividingNetworkError(
        "invalid-argument",
        `logGrid: "points" must leave room between neighbours, got ${n} points between ${f0} Hz and ${f1} Hz`,
        "Ask for fewer points, or for a band that a number can hold",
      );
    }
  }
  return grid;
}
