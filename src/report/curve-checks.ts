import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { LARGEST } from "./value-axis";

/** Checks the two arrays of a curve: one length, frequencies finite, ≥ 0 Hz and strictly ascending, values numbers. */
export function checkCurve(
  caller: string,
  argument: string,
  frequencies: ArrayLike<number>,
  values: ArrayLike<number>,
  name: string,
): void {
  const isList = (value: unknown): value is ArrayLike<number> =>
    typeof value === "object" && value !== null && Number.isInteger((value as { length?: unknown }).length);
  if (!isList(frequencies) || !isList(values) || frequencies.length !== values.length) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}.frequencies" and "${argument}.${name}" must be arrays of one length, got ${show(frequencies)} and ${show(values)}`,
    );
  }
  for (let i = 0; i < frequencies.length; i++) {
    const f = frequencies[i]!;
    if (!(Number.isFinite(f) && f >= 0 && (i === 0 || f > frequencies[i - 1]!))) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${argument}.frequencies" must be finite, at least 0 Hz and strictly ascending, got ${show(f)} at index ${i}`,
      );
    }
    if (typeof values[i] !== "number") {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${argument}.${name}" must be numbers, got ${show(values[i])} at index ${i}`,
      );
    }
  }
}

/** Entries of a list beyond which it is refused: something that only says it is long would be read for minutes. */
const MOST = 10_000_000;

/** Checks that an argument is an array without gaps and returns it. */
export function checkArray<T>(caller: string, argument: string, value: readonly T[]): readonly T[] {
  const given: unknown = value;
  if (!Array.isArray(given))
    throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must be an array, got ${show(value)}`);
  if (given.length > MOST)
    throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must have at most ${MOST} entries, got ${given.length}`);
  for (let i = 0; i < given.length; i++) {
    if (!(i in given))
      throw new DividingNetworkError("invalid-argument", `${caller}: "${argument}" must have no gaps, got none at index ${i}`);
  }
  return value;
}

/** Checks a range of values: two finite numbers, ascending, not too close for their size. */
export function checkRange(caller: string, argument: string, range: readonly [number, number]): readonly [number, number] {
  const [low, high] = checkArray<number>(caller, argument, range);
  const good =
    typeof low === "number"
    && typeof high === "number"
    && range.length === 2
    && Math.abs(low) <= LARGEST
    && Math.abs(high) <= LARGEST
    && high - low > 1e-9 * Math.max(Math.abs(low), Math.abs(high), 1e-3);
  if (!good)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be two finite numbers, the lower first, got ${Array.isArray(range) ? `[${range.slice(0, 3).map(show).join(", ")}]` : show(range)}`,
    );
  return [low, high];
}
