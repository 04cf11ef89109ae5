import { DividingNetworkError, owned, show } from "../errors";
import type { FrequencyResponse } from "./frequency-response";

/**
 * Checks that an argument has the shape of a `FrequencyResponse` (three `Float64Array`s of one length, at least one
 * point; the values in Hz and the context's unit are trusted, `frequencyResponse` has checked them) and returns it.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @returns the same response; of one that isn't frozen a copy, which its maker can't write to
 * @throws DividingNetworkError `invalid-response`
 * @example
 * ```ts
 * import { checkResponse, frequencyResponse } from "dividing-network/response";
 *
 * checkResponse("levelDb", "response", frequencyResponse([1000], [1], [0])).frequencies; // [1000]
 * checkResponse("levelDb", "response", [1, 2, 3]); // throws invalid-response
 * ```
 */
export function checkResponse(caller: string, argument: string, value: unknown): FrequencyResponse {
  const given = (typeof value === "object" && value !== null ? value : {}) as Partial<Record<keyof FrequencyResponse, unknown>>;
  const { frequencies, re, im } = given;
  if (isFloat64Array(frequencies) && isFloat64Array(re) && isFloat64Array(im) && frequencies.length > 0 && re.length === frequencies.length && im.length === re.length) {
    return owned(value as FrequencyResponse);
  }
  throw new DividingNetworkError(
    "invalid-response",
    `${caller}: "${argument}" must be a FrequencyResponse, { frequencies, re, im } with Float64Arrays of one length, got ${show(value)}`,
    "Make one with frequencyResponse(frequencies, re, im), or with responseFromJSON(json) from plain arrays",
  );
}

function isFloat64Array(value: unknown): value is Float64Array {
  return Object.prototype.toString.call(value) === "[object Float64Array]";
}
