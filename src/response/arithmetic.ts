import { DividingNetworkError } from "../errors";
import { checkResponse } from "./check-response";
import { divisionByZero, writeQuotient } from "./complex-quotient";
import { finiteResponse } from "./finite-response";
import type { FrequencyResponse } from "./sampled-function";
import { mergeMarks } from "./merge-marks";
import { checkSameGrid } from "./same-grid";

/** Combines the values at index i of two responses and writes the result into `re` and `im` there. */
type Operation = (a: FrequencyResponse, b: FrequencyResponse, i: number, re: Float64Array, im: Float64Array) => void;

/**
 * The sum of responses sampled at the same frequencies, point by point, in their common unit. Marks are merged.
 *
 * @param responses at least one, all with the same frequencies
 * @returns $H_1 + H_2 + \dots$, unit of the responses
 * @throws DividingNetworkError `grid-mismatch` when the frequencies differ (`resample` is the way out), `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { addResponses } from "dividing-network/response";
 *
 * const woofer = frequencyResponse([100, 1000], [1, 0.5], [0, -0.5]);
 * const tweeter = frequencyResponse([100, 1000], [0, 0.5], [0, 0.5]);
 * addResponses(woofer, tweeter).re; // [1, 1]
 * ```
 */
export function addResponses(...responses: readonly FrequencyResponse[]): FrequencyResponse {
  return fold("addResponses", responses, (a, b, i, re, im) => {
    re[i] = a.re[i]! + b.re[i]!;
    im[i] = a.im[i]! + b.im[i]!;
  });
}

/**
 * The difference of two responses sampled at the same frequencies, point by point, in their common unit. Marks are merged.
 *
 * @param a what is subtracted from
 * @param b what is subtracted, with the same frequencies
 * @returns $H_a - H_b$, unit of the responses
 * @throws DividingNetworkError `grid-mismatch` when the frequencies differ (`resample` is the way out), `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { subtractResponses } from "dividing-network/response";
 *
 * subtractResponses(frequencyResponse([100], [1], [2]), frequencyResponse([100], [1], [3])).im; // [-1]
 * ```
 */
export function subtractResponses(a: FrequencyResponse, b: FrequencyResponse): FrequencyResponse {
  return fold("subtractResponses", [a, b], (p, q, i, re, im) => {
    re[i] = p.re[i]! - q.re[i]!;
    im[i] = p.im[i]! - q.im[i]!;
  });
}

/**
 * The product of responses sampled at the same frequencies, point by point, in the product of their units. Marks are merged.
 *
 * @param responses at least one, all with the same frequencies
 * @returns $H_1 H_2 \cdots$, product of the units
 * @throws DividingNetworkError `grid-mismatch` when the frequencies differ (`resample` is the way out), `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { multiplyResponses } from "dividing-network/response";
 *
 * const quarterTurn = frequencyResponse([100], [0], [1]);
 * multiplyResponses(quarterTurn, quarterTurn).re; // [-1]
 * ```
 */
export function multiplyResponses(...responses: readonly FrequencyResponse[]): FrequencyResponse {
  return fold("multiplyResponses", responses, (a, b, i, re, im) => {
    const [ar, ai, br, bi] = [a.re[i]!, a.im[i]!, b.re[i]!, b.im[i]!];
    re[i] = ar * br - ai * bi;
    im[i] = ar * bi + ai * br;
  });
}

/**
 * The quotient of two responses sampled at the same frequencies, point by point, in the quotient of their units. Marks are
 * merged.
 *
 * @param a numerator
 * @param b denominator, with the same frequencies, nowhere zero
 * @returns $H_a / H_b$, quotient of the units
 * @throws DividingNetworkError `division-by-zero` naming the frequency; `grid-mismatch` when the frequencies differ
 * (`resample` is the way out); `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { divideResponses } from "dividing-network/response";
 *
 * divideResponses(frequencyResponse([100], [1], [0]), frequencyResponse([100], [0], [2])).im; // [-0.5]
 * ```
 */
export function divideResponses(a: FrequencyResponse, b: FrequencyResponse): FrequencyResponse {
  return fold("divideResponses", [a, b], (p, q, i, re, im) => {
    const [pr, pi, qr, qi] = [p.re[i]!, p.im[i]!, q.re[i]!, q.im[i]!];
    if (qr === 0 && qi === 0) throw divisionByZero("divideResponses", "b", q.frequencies[i]!);
    writeQuotient(pr, pi, qr, qi, re, im, i);
  });
}

function fold(caller: string, responses: readonly FrequencyResponse[], operation: Operation): FrequencyResponse {
  if (responses.length === 0)
    throw new DividingNetworkError("invalid-argument", `${caller}: there must be at least one response, got none`);
  const own = responses.map((response, index) =>
    checkResponse(caller, responses.length === 1 ? "response" : `response ${index + 1}`, response),
  );
  for (const response of own) checkSameGrid(caller, own[0]!, response);
  const marks = mergeMarks(own);
  const { frequencies } = own[0]!;
  const result = { frequencies, re: own[0]!.re.slice(), im: own[0]!.im.slice() };
  for (const other of own.slice(1)) {
    for (let i = 0; i < frequencies.length; i++) operation(result, other, i, result.re, result.im);
  }
  return finiteResponse(caller, frequencies, result.re, result.im, marks);
}
