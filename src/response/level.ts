import { checkNumber, checkOptions } from "../errors";
import { modulus } from "../numeric";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./frequency-response";

/**
 * The absolute value of a response at each of its frequencies, in the unit of the response.
 *
 * @param response any sampled response, n points
 * @returns n absolute values |H|, unit of the response
 * @throws DividingNetworkError `invalid-response`
 * @example
 * ```ts
 * import { frequencyResponse, magnitude } from "dividing-network";
 *
 * magnitude(frequencyResponse([100, 1000], [3, 0], [4, -2])); // [5, 2]
 * ```
 */
export function magnitude(response: FrequencyResponse): Float64Array {
  const { re, im } = checkResponse("magnitude", "response", response);
  return re.map((value, i) => modulus(value, im[i]!));
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
export function levelDb(response: FrequencyResponse, options?: { readonly reference?: number }): Float64Array {
  const { reference = 1 } = checkOptions("levelDb", options, ["reference"]);
  checkNumber("levelDb", "reference", reference, { above: 0 });
  return magnitude(checkResponse("levelDb", "response", response)).map((value) => 20 * (Math.log10(value) - Math.log10(reference)));
}
