import { DividingNetworkError, show } from "../errors";

/**
 * Checks the frequencies that a function is to be evaluated at and returns them in Hz: numbers, at least one, finite, ≥ 0 and
 * strictly ascending. A `Float64Array` is not copied.
 *
 * @param caller name of the public function, for the message
 * @param frequencies Hz, length n ≥ 1
 * @returns the n frequencies in Hz
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { checkedGrid } from "dividing-network/response";
 *
 * checkedGrid("solve", [20, 200, 2000]); // [20, 200, 2000]
 * checkedGrid("solve", [200, 20]); // throws invalid-argument
 * ```
 */
export function checkedGrid(caller: string, frequencies: ArrayLike<number>): Float64Array {
  const listed = Array.isArray(frequencies) || ArrayBuffer.isView(frequencies);
  if (!listed || !(frequencies.length > 0)) {
    throw new DividingNetworkError("invalid-argument", `${caller}: "frequencies" must be an array of at least one frequency in Hz, got ${show(frequencies)}`);
  }
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
  return frequencies instanceof Float64Array ? frequencies : Float64Array.from(frequencies);
}
