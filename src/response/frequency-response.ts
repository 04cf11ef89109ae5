import { DividingNetworkError } from "../errors";
import { proved, show, shown } from "../errors/internal";
import { checkedMarks } from "./checked-marks";
import { responseViews } from "./views";
import type { Mark } from "./mark";
import type { FrequencyResponse } from "./sampled-function";

/**
 * Makes a `FrequencyResponse` from arrays after checking it: one length, at least one point, frequencies finite, ≥ 0 Hz
 * and strictly ascending, values finite. The arrays are copied.
 *
 * @param frequencies Hz, length n
 * @param re real parts, length n
 * @param im imaginary parts, length n
 * @param marks what must be known about parts of the band
 * @returns a frozen response of n points
 * @throws DividingNetworkError `invalid-response`; `invalid-argument` or `unknown-option` for the marks
 * @example
 * ```ts
 * import { frequencyResponse, valueAt } from "dividing-network";
 *
 * const response = frequencyResponse([100, 1000], [1, 0], [0, -1]);
 * valueAt(response, 1000).im; // -1
 * ```
 */
export function frequencyResponse(
  frequencies: ArrayLike<number>,
  re: ArrayLike<number>,
  im: ArrayLike<number>,
  marks: readonly Mark[] = [],
): FrequencyResponse {
  for (const [name, list] of [
    ["frequencies", frequencies],
    ["re", re],
    ["im", im],
  ] as const) {
    if (!Array.isArray(list) && !ArrayBuffer.isView(list)) {
      throw new DividingNetworkError("invalid-response", `frequencyResponse: "${name}" must be an array of numbers, got ${show(list)}`);
    }
  }
  const n = frequencies.length;
  if (n === 0 || re.length !== n || im.length !== n) {
    throw new DividingNetworkError(
      "invalid-response",
      `frequencyResponse: "frequencies", "re" and "im" must have one length of at least 1, got ${n}, ${re.length} and ${im.length}`,
    );
  }
  for (let i = 0; i < n; i++) {
    const f = frequencies[i]!;
    if (!(Number.isFinite(f) && f >= 0 && (i === 0 || f > frequencies[i - 1]!))) {
      throw new DividingNetworkError(
        "invalid-response",
        `frequencyResponse: "frequencies" must be finite, at least 0 Hz and strictly ascending, got ${show(f)} at index ${i}`,
      );
    }
    if (!(Number.isFinite(re[i]) && Number.isFinite(im[i]))) {
      throw new DividingNetworkError(
        "invalid-response",
        `frequencyResponse: values must be finite, got ${show(re[i])} + j(${show(im[i])}) at index ${i} (${f} Hz)`,
      );
    }
  }
  return proved(
    "response",
    freezeResponse(new Float64Array(frequencies), new Float64Array(re), new Float64Array(im), checkedMarks("frequencyResponse", marks)),
  );
}

/**
 * The unchecked constructor, for results that are right by construction. The arrays are handed over, not copied: whoever calls it
 * must not write to them afterwards. `frequencyResponse` is the one for arrays of one's own.
 *
 * @param frequencies Hz, length n, strictly ascending
 * @param re real parts, length n
 * @param im imaginary parts, length n
 * @param marks what must be known about parts of the band
 * @returns a frozen response of n points, in the unit of the parts
 */
export function freezeResponse(
  frequencies: Float64Array,
  re: Float64Array,
  im: Float64Array,
  marks: readonly Mark[] = [],
): FrequencyResponse {
  return Object.freeze(
    shown(marks.length === 0 ? { frequencies, re, im } : { frequencies, re, im, marks: Object.freeze([...marks]) }, responseViews),
  );
}
