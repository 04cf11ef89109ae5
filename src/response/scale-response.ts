import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import { divisionByZero, writeQuotient } from "./complex-quotient";
import { finiteResponse } from "./finite-response";
import type { FrequencyResponse } from "./sampled-function";

/**
 * A response times one factor, in the unit of the response times the factor's. Marks are carried.
 *
 * @param response what is scaled
 * @param factor dimensionless or in the unit by which to multiply, real, or complex as `{ re, im }`; −1 reverses the polarity
 * @returns factor · H
 * @throws DividingNetworkError `invalid-argument` for a factor that is not finite, `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { scaleResponse } from "dividing-network/response";
 *
 * const response = frequencyResponse([100, 1000], [1, 0], [0, 2]);
 * scaleResponse(response, -1).im; // [0, -2]
 * scaleResponse(response, { re: 0, im: 1 }).re; // [0, -2]
 * ```
 */
export function scaleResponse(
  response: FrequencyResponse,
  factor: number | { readonly re: number; readonly im: number },
): FrequencyResponse {
  const { frequencies, re, im, marks } = checkResponse("scaleResponse", "response", response);
  const given: unknown = factor;
  const part = typeof given === "object" && given !== null ? (given as { re?: unknown; im?: unknown }) : { re: given, im: 0 };
  const { re: a, im: b } = part;
  if (typeof a !== "number" || typeof b !== "number" || !Number.isFinite(a) || !Number.isFinite(b)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `scaleResponse: "factor" must be a finite number or { re, im } with finite numbers, got ${show(factor)}`,
    );
  }
  // A real factor leaves the parts apart, so that scaling by 1 changes nothing, not even the sign of a zero.
  if (b === 0)
    return finiteResponse(
      "scaleResponse",
      frequencies,
      re.map((value) => value * a),
      im.map((value) => value * a),
      marks,
    );
  return finiteResponse(
    "scaleResponse",
    frequencies,
    re.map((value, i) => value * a - im[i]! * b),
    im.map((value, i) => value * a + re[i]! * b),
    marks,
  );
}

/**
 * A response that arrives later, in the same unit: its phase falls by 360° for each period of the delay. Marks are carried.
 *
 * $H(f)\, e^{-j 2\pi f \tau}$
 *
 * @param response what is delayed
 * @param delay s, or text with its unit; negative moves it earlier
 * @returns the delayed response
 * @throws DividingNetworkError `invalid-argument` or `invalid-quantity`
 * @example
 * ```ts
 * import { frequencyResponse, phaseDegrees } from "dividing-network";
 * import { delayResponse } from "dividing-network/response";
 *
 * phaseDegrees(delayResponse(frequencyResponse([100, 1000], [1, 1], [0, 0]), "0.25 ms")); // [-9.000, -90.000]
 * ```
 */
export function delayResponse(response: FrequencyResponse, delay: Time): FrequencyResponse {
  const { frequencies, re, im, marks } = checkResponse("delayResponse", "response", response);
  const tau = inSi("delayResponse", "delay", delay, "s");
  const n = frequencies.length;
  const [delayedRe, delayedIm] = [new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i++) {
    const angle = -2 * Math.PI * frequencies[i]! * tau;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    delayedRe[i] = re[i]! * c - im[i]! * s;
    delayedIm[i] = re[i]! * s + im[i]! * c;
  }
  return finiteResponse("delayResponse", frequencies, delayedRe, delayedIm, marks);
}

/**
 * One over a response, in the inverse of its unit: an admittance in S from an impedance in Ω. Marks are carried.
 *
 * @param response nowhere zero
 * @returns 1 / H
 * @throws DividingNetworkError `division-by-zero` naming the frequency, `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { reciprocalResponse } from "dividing-network/response";
 *
 * reciprocalResponse(frequencyResponse([100], [3], [4])).im; // [-0.16]
 * ```
 */
export function reciprocalResponse(response: FrequencyResponse): FrequencyResponse {
  const { frequencies, re, im, marks } = checkResponse("reciprocalResponse", "response", response);
  const n = frequencies.length;
  const [inverseRe, inverseIm] = [new Float64Array(n), new Float64Array(n)];
  for (let i = 0; i < n; i++) {
    if (re[i] === 0 && im[i] === 0) throw divisionByZero("reciprocalResponse", "response", frequencies[i]!);
    writeQuotient(1, 0, re[i]!, im[i]!, inverseRe, inverseIm, i);
  }
  return finiteResponse("reciprocalResponse", frequencies, inverseRe, inverseIm, marks);
}
