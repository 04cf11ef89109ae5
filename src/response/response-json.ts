import { DividingNetworkError } from "../errors";
import { checkOptions, show } from "../errors/internal";
import { checkResponse } from "./check-response";
import { frequencyResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";

/** A `FrequencyResponse` as JSON can hold it. */
export interface ResponseJSON {
  /** Hz, strictly ascending. */
  readonly frequencies: readonly number[];
  /** Real parts, one per frequency. */
  readonly re: readonly number[];
  /** Imaginary parts, one per frequency. */
  readonly im: readonly number[];
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}

/**
 * A response as plain arrays, frequencies in Hz and values in the unit of the response, ready for `JSON.stringify`.
 * The inverse of `responseFromJSON`; only the sign of a zero is lost, by JSON itself.
 *
 * @param response any sampled response
 * @returns plain data
 * @throws DividingNetworkError `invalid-response`
 * @example
 * ```ts
 * import { frequencyResponse, responseToJSON } from "dividing-network";
 *
 * JSON.stringify(responseToJSON(frequencyResponse([100], [1], [2]))); // "{\"frequencies\":[100],\"re\":[1],\"im\":[2]}"
 * ```
 */
export function responseToJSON(response: FrequencyResponse): ResponseJSON {
  const { frequencies, re, im, marks } = checkResponse("responseToJSON", "response", response);
  const arrays = { frequencies: Array.from(frequencies), re: Array.from(re), im: Array.from(im) };
  return marks === undefined || marks.length === 0 ? arrays : { ...arrays, marks: marks.map((mark) => ({ ...mark })) };
}

/**
 * A response from what `responseToJSON` gave, frequencies in Hz, after checking all of it.
 *
 * @param json parsed JSON: `{ frequencies, re, im, marks? }` with arrays of numbers of one length
 * @returns the response
 * @throws DividingNetworkError `invalid-response`, `unknown-option`, `invalid-argument`
 * @example
 * ```ts
 * import { responseFromJSON } from "dividing-network";
 *
 * responseFromJSON(JSON.parse('{ "frequencies": [100], "re": [1], "im": [2] }')).im; // [2]
 * ```
 */
export function responseFromJSON(json: unknown): FrequencyResponse {
  const caller = "responseFromJSON";
  if (typeof json !== "object" || json === null) {
    throw new DividingNetworkError(
      "invalid-response",
      `${caller}: "json" must be { frequencies, re, im }, got ${show(json)}`,
      "Text goes through JSON.parse first",
    );
  }
  const {
    frequencies,
    re,
    im,
    marks = [],
  } = checkOptions<Partial<Record<keyof ResponseJSON, unknown>>>(caller, json, ["frequencies", "re", "im", "marks"]);
  for (const [name, list] of [
    ["frequencies", frequencies],
    ["re", re],
    ["im", im],
  ] as const) {
    const at = Array.isArray(list) ? list.findIndex((value) => typeof value !== "number") : -1;
    if (!Array.isArray(list) || at >= 0) {
      throw new DividingNetworkError(
        "invalid-response",
        `${caller}: "${name}" must be an array of numbers, got ${at >= 0 ? `${show((list as unknown[])[at])} at index ${at}` : show(list)}`,
      );
    }
  }
  return frequencyResponse(frequencies as number[], re as number[], im as number[], marks as readonly Mark[]);
}
