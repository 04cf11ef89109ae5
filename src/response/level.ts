import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { log10Modulus, modulus } from "../numeric/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";

/**
 * The absolute value of a response at each of its frequencies, in the unit of the response.
 *
 * @param response any sampled response, n points
 * @returns n absolute values |H|, unit of the response
 * @throws DividingNetworkError `invalid-response`; `overflow` where |H| is beyond 1.8 · 10³⁰⁸ (its level is not: `levelDb`)
 * @example
 * ```ts
 * import { frequencyResponse, magnitude } from "dividing-network";
 *
 * magnitude(frequencyResponse([100, 1000], [3, 0], [4, -2])); // [5, 2]
 * ```
 */
export function magnitude(response: FrequencyResponse): Float64Array {
  const { frequencies, re, im } = checkResponse("magnitude", "response", response);
  return re.map((value, i) => {
    const size = modulus(value, im[i]!);
    if (Number.isFinite(size)) return size;
    throw new DividingNetworkError(
      "overflow",
      `magnitude: the absolute value at ${frequencies[i]} Hz must be a finite number, got that of ${value} + j(${im[i]})`,
      "Scale the response, or take its level",
    );
  });
}

/**
 * The level of a response at each of its frequencies, in dB relative to a reference; −∞ dB where the response is zero.
 *
 * $L = 20 \lg(|H| / H_0)$
 *
 * @param response any sampled response, n points
 * @param options `reference` H₀ in the unit of the response, above 0, default 1 (20e-6 for a pressure in Pa)
 * @returns n levels in dB
 * @throws DividingNetworkError `invalid-response`, `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { frequencyResponse, levelDb } from "dividing-network";
 *
 * const pressure = frequencyResponse([100, 1000], [0.2, 0], [0, 0]);
 * levelDb(pressure, { reference: 20e-6 }); // [80, -∞]
 * ```
 */
export function levelDb(response: FrequencyResponse, options?: { readonly reference?: number | undefined }): Float64Array {
  const { reference = 1 } = checkOptions("levelDb", options, ["reference"]);
  checkNumber("levelDb", "reference", reference, { above: 0 });
  const { re, im } = checkResponse("levelDb", "response", response);
  const zero = Math.log10(reference);
  return re.map((value, i) => 20 * (log10Modulus(value, im[i]!) - zero));
}
