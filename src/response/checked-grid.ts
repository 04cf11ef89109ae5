import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/**
 * Checks the frequencies that a function is to be evaluated at and returns them in Hz: numbers, at least one, finite, ≥ 0 and
 * strictly ascending. What comes back is a copy: the caller's array may change afterwards.
 *
 * @param caller name of the public function, for the message
 * @param frequencies Hz, length n ≥ 1
 * @returns the n frequencies in Hz, in an array of their own
 * @throws DividingNetworkError `invalid-argument`
 */
export function checkedGrid(caller: string, frequencies: ArrayLike<number>): Float64Array {
  const listed = Array.isArray(frequencies) || ArrayBuffer.isView(frequencies);
  if (!listed || !(frequencies.length > 0)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "frequencies" must be an array of at least one frequency in Hz, got ${show(frequencies)}`,
      typeof frequencies === "number" && Number.isFinite(frequencies)
        ? `Write [${frequencies}]`
        : "logGrid and linearGrid make such arrays",
    );
  }
  const grid = frequencies instanceof Float64Array ? frequencies.slice() : undefined;
  if (grid !== undefined && ascends(grid)) return grid;
  for (let i = 0; i < frequencies.length; i++) {
    const f: unknown = frequencies[i];
    if (typeof f !== "number" || !Number.isFinite(f) || f < 0 || (i > 0 && f <= frequencies[i - 1]!)) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "frequencies" must be finite numbers in Hz, at least 0 and strictly ascending, got ${show(f)} at index ${i}`,
        "logGrid and linearGrid make such arrays",
      );
    }
  }
  return new Float64Array(frequencies);
}

/** The whole check in one comparison a point: nearly all grids are arrays of numbers in order. */
function ascends(grid: Float64Array): boolean {
  let before = -Number.MIN_VALUE;
  for (let i = 0; i < grid.length; i++) {
    const f = grid[i]!;
    if (!(f > before && f < Infinity)) return false;
    before = f;
  }
  return true;
}
