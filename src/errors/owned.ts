import { DividingNetworkError } from "./error";

/**
 * What may be kept of an argument. A frozen object is kept as it is: whoever froze it has given it away, its arrays too. Of
 * anything else a frozen copy is made, arrays and all, so that an answer doesn't change when its caller later writes to what
 * it passed.
 *
 * @param value plain data: numbers, words, arrays, typed arrays of numbers, objects of such
 * @returns the same data, in the same units, that nobody else can write to
 * @throws DividingNetworkError `invalid-argument` for an object that holds itself
 */
export function owned<T>(value: T): T;
export function owned(value: unknown): unknown {
  return copied(value, 0);
}

/** Data are not nested deeper, and no list in them is longer: what goes round in a circle ends here. */
const [DEEPEST, LONGEST] = [64, 2 ** 27];

function copied(value: unknown, depth: number): unknown {
  if (typeof value !== "object" || value === null) return value;
  if (Object.prototype.toString.call(value) === "[object Float64Array]") return new Float64Array(value as Float64Array);
  if (Object.isFrozen(value) || ArrayBuffer.isView(value)) return value;
  if (depth > DEEPEST)
    throw new DividingNetworkError(
      "invalid-argument",
      `owned: data must be nested at most ${DEEPEST} deep`,
      "An object that holds itself can't be kept: leave that reference out",
    );
  if (Array.isArray(value)) {
    if (value.length > LONGEST)
      throw new DividingNetworkError("invalid-argument", `owned: a list must have at most ${LONGEST} entries, got ${value.length}`);
    return Object.freeze(value.map((each: unknown) => copied(each, depth + 1)));
  }
  return Object.freeze(Object.fromEntries(Object.entries(value).map(([key, each]) => [key, copied(each, depth + 1)])));
}
