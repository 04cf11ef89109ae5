import { DividingNetworkError } from "../errors";
import { proved } from "../errors/internal";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";

/** Freezes a computed response after checking that no value overflowed. */
export function finiteResponse(
  caller: string,
  frequencies: Float64Array,
  re: Float64Array,
  im: Float64Array,
  marks: readonly Mark[] = [],
): FrequencyResponse {
  for (let i = 0; i < frequencies.length; i++) {
    if (!(Number.isFinite(re[i]) && Number.isFinite(im[i]))) {
      throw new DividingNetworkError(
        "overflow",
        `${caller}: the result at ${frequencies[i]} Hz must be a finite number, got ${re[i]} + j(${im[i]})`,
        "Scale the responses so that they stay within what a number can hold",
      );
    }
  }
  return proved("response", freezeResponse(frequencies, re, im, marks));
}
