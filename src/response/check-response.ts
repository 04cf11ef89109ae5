import { DividingNetworkError } from "../errors";
import { isProven, proved, show } from "../errors/internal";
import { checkedMarks } from "./checked-marks";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";

/**
 * Checks that an argument is a `FrequencyResponse` and returns it: three `Float64Array`s of one length and at least one point,
 * frequencies in Hz finite, at least 0 and strictly ascending, values finite in the context's unit, marks as they should be. A
 * response is checked when it first enters; that it held is remembered for as long as it lives, so that passing it on is free.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @returns the same response; of one that isn't frozen a copy, which its maker can't write to
 * @throws DividingNetworkError `invalid-response`
 */
export function checkResponse(caller: string, argument: string, value: unknown): FrequencyResponse {
  if (isProven("response", value)) return value as FrequencyResponse;
  const given = (typeof value === "object" && value !== null ? value : {}) as Partial<Record<keyof FrequencyResponse, unknown>>;
  const { frequencies, re, im, marks } = given;
  if (!(
    isFloat64Array(frequencies)
    && isFloat64Array(re)
    && isFloat64Array(im)
    && frequencies.length > 0
    && re.length === frequencies.length
    && im.length === re.length
  )) {
    throw new DividingNetworkError(
      "invalid-response",
      `${caller}: "${argument}" must be a FrequencyResponse, { frequencies, re, im } with Float64Arrays of one length, got ${show(value)}`,
      "Make one with frequencyResponse(frequencies, re, im), or with responseFromJSON(json) from plain arrays",
    );
  }
  // Of what its maker can still write to, the copy is what is checked and kept.
  const own = Object.isFrozen(value)
    ? (value as FrequencyResponse)
    : freezeResponse(frequencies.slice(), re.slice(), im.slice(), marks === undefined ? [] : marksOf(caller, argument, marks));
  if (own === value && marks !== undefined) marksOf(caller, argument, marks);
  const wrong = firstWrong(own);
  if (wrong !== undefined) {
    throw new DividingNetworkError(
      "invalid-response",
      `${caller}: "${argument}" must have ${wrong}`,
      "Sort by frequency and leave out what isn't a number; frequencyResponse(frequencies, re, im) makes a checked one",
    );
  }
  return proved("response", own);
}

function marksOf(caller: string, argument: string, marks: unknown): readonly Mark[] {
  try {
    return checkedMarks(caller, marks);
  } catch (error) {
    if (error instanceof DividingNetworkError)
      throw new DividingNetworkError(
        "invalid-response",
        `${caller}: "${argument}" must have marks as frequencyResponse takes them: ${error.message}`,
        error.hint,
      );
    throw error;
  }
}

/** What the first sample that can't be used should have been, in words. */
function firstWrong({ frequencies, re, im }: FrequencyResponse): string | undefined {
  let before = -1;
  for (let i = 0; i < frequencies.length; i++) {
    const f = frequencies[i]!;
    if (!(f >= 0 && f < Infinity && f > before))
      return `frequencies in Hz that are finite, at least 0 and strictly ascending, got ${show(f)} at index ${i}`;
    if (!(Number.isFinite(re[i]) && Number.isFinite(im[i])))
      return `finite values, got ${show(re[i])} + j(${show(im[i])}) at index ${i} (${f} Hz)`;
    before = f;
  }
  return undefined;
}

function isFloat64Array(value: unknown): value is Float64Array {
  return Object.prototype.toString.call(value) === "[object Float64Array]";
}
