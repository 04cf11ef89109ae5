import { DividingNetworkError } from "./error";
import { show } from "./checks";

/** No list of things is longer: one that says so isn't read. */
const LONGEST_LIST = 1_000_000;

/**
 * Checks that an argument is an array, or a typed array, of numbers, without a gap and without NaN.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @param least how many there must be, dimensionless; 1 when absent
 * @returns the same array, its numbers in the unit they came in
 * @throws DividingNetworkError `invalid-argument`
 */
export function checkNumbers(caller: string, argument: string, value: unknown, least = 1): ArrayLike<number> {
  const list = Array.isArray(value) || (ArrayBuffer.isView(value) && "length" in value) ? (value as ArrayLike<unknown>) : undefined;
  const wanted = least === 0 ? "an array of numbers" : `an array of at least ${least} ${least === 1 ? "number" : "numbers"}`;
  if (list === undefined || list.length < least)
    throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be ${wanted}, got ${show(value)}`);
  for (let i = 0; i < list.length; i++) {
    if (typeof list[i] !== "number" || Number.isNaN(list[i]))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${argument}" must be ${wanted}, got ${show(list[i])} at index ${i}`,
        "Leave out what isn't a number",
      );
  }
  return list as ArrayLike<number>;
}

/**
 * Checks that an argument is a list, of whatever, and gives it without gaps: what is missing is `undefined`, so that the check of
 * the single thing sees it.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @param of what it is a list of, in words
 * @returns a list of its own, in the same units
 * @throws DividingNetworkError `invalid-argument`
 */
export function checkList<T>(caller: string, argument: string, value: readonly T[], of: string): readonly T[] {
  if (!Array.isArray(value))
    throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be an array of ${of}, got ${show(value)}`);
  if (value.length > LONGEST_LIST)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be an array of at most ${LONGEST_LIST} ${of}, got ${show(value)}`,
    );
  return Array.from<T>(value as readonly T[]);
}

/**
 * Checks that an argument is an object at all, such as another function of the library gives.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given, in any unit
 * @param what what it must be, in words
 * @param hint how to get one
 * @returns the same object
 * @throws DividingNetworkError `invalid-argument`
 */
export function checkObject<T>(caller: string, argument: string, value: T, what: string, hint = ""): T & object {
  if (typeof value !== "object" || value === null)
    throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be ${what}, got ${show(value)}`, hint);
  return value;
}

/**
 * Gives a computed number, or says that the arguments lead beyond what a number can hold.
 *
 * @param caller name of the public function, for the message
 * @param value the result, in any unit
 * @returns the same number
 * @throws DividingNetworkError `overflow` when it is no number
 */
export function computed(caller: string, value: number): number {
  if (Number.isNaN(value))
    throw new DividingNetworkError("overflow", `${caller}: the result is beyond what a number can hold`, "Scale the arguments nearer to 1");
  return value;
}

/**
 * As `computed`, for each number of an array.
 *
 * @param caller name of the public function, for the message
 * @param values the results, in any unit
 * @returns the same array
 * @throws DividingNetworkError `overflow` when one is no number
 */
export function computedAll(caller: string, values: Float64Array): Float64Array {
  for (let i = 0; i < values.length; i++) computed(caller, values[i]!);
  return values;
}
