import { DividingNetworkError } from "./error";

/** What a number must satisfy; every bound is optional, and in `unit`, or dimensionless without one. */
export interface NumberRange {
  /** Unit for the message: "Ω", "Hz"; "" when dimensionless. */
  readonly unit?: string | undefined;
  readonly min?: number | undefined;
  readonly max?: number | undefined;
  /** The value must be strictly greater than this. */
  readonly above?: number | undefined;
  /** The value must be strictly less than this. */
  readonly below?: number | undefined;
  readonly integer?: boolean | undefined;
}

/**
 * A value as it should appear in an error message: short, on one line, never throwing.
 *
 * @param value anything at all
 * @returns text of at most 80 characters
 */
export function show(value: unknown): string {
  let text: string;
  if (typeof value === "string") text = JSON.stringify(value);
  else if (typeof value === "number" || typeof value === "boolean" || value === null || value === undefined) text = String(value);
  else if (typeof value === "bigint") text = `${value}n`;
  else if (typeof value === "function") text = "a function";
  else if (Array.isArray(value) || ArrayBuffer.isView(value)) text = `an array of length ${(value as { length?: number }).length ?? "?"}`;
  else if (typeof value === "object") text = "an object";
  else text = `a ${typeof value}`;
  return text.length > 80 ? `${text.slice(0, 77)}…` : text;
}

function requirement(range: NumberRange): string {
  const unit = range.unit ? ` ${range.unit}` : "";
  const bounds: string[] = [];
  if (range.above !== undefined) bounds.push(`above ${range.above}${unit}`);
  if (range.min !== undefined) bounds.push(`at least ${range.min}${unit}`);
  if (range.below !== undefined) bounds.push(`below ${range.below}${unit}`);
  if (range.max !== undefined) bounds.push(`at most ${range.max}${unit}`);
  const kind = range.integer ? "a whole number" : bounds.length === 0 && unit !== "" ? `a finite number in${unit}` : "a finite number";
  return bounds.length === 0 ? kind : `${kind} ${bounds.join(" and ")}`;
}

/**
 * Checks one numeric argument and returns it.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @param range the bounds that it must satisfy
 * @returns the same number
 * @throws DividingNetworkError `invalid-argument` when it is not a finite number within the range
 */
export function checkNumber(caller: string, argument: string, value: unknown, range: NumberRange = {}): number {
  const good =
    typeof value === "number"
    && Number.isFinite(value)
    && (range.min === undefined || value >= range.min)
    && (range.max === undefined || value <= range.max)
    && (range.above === undefined || value > range.above)
    && (range.below === undefined || value < range.below)
    && (!range.integer || Number.isInteger(value));
  if (!good)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be ${requirement(range)}, got ${show(value)}`,
      numberHint(value, range),
    );
  return value;
}

/** What to do about a number that is none; of one that is out of range the message says all. */
function numberHint(value: unknown, { integer }: NumberRange): string {
  if (typeof value === "string" && value.trim() !== "" && Number.isFinite(Number(value)))
    return `Write ${Number(value)} without quotation marks`;
  if (Number.isNaN(value)) return "Look at the calculation that gave it";
  if (integer && typeof value === "number" && Number.isFinite(value) && !Number.isInteger(value))
    return `Round it, to ${Math.round(value)} for instance`;
  return "";
}

/** The known name that was meant, as a hint: one that differs by capitals, by a letter or two, or by two that are exchanged. */
function nearestHint(given: unknown, known: readonly string[]): string {
  if (typeof given !== "string" || given.length > 60) return "";
  const found = known
    .map((name) => ({ name, apart: lettersApart(given.toLowerCase(), name.toLowerCase()) }))
    .filter(({ name, apart }) => apart <= Math.min(2, Math.floor(name.length / 3)))
    .sort((a, b) => a.apart - b.apart)[0];
  return found === undefined ? "" : `Did you mean "${found.name}"?`;
}

/** How many letters must be put in, left out, changed or exchanged with the next to make one word of another. */
function lettersApart(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const exchanged = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1] ? before[j - 2]! + 1 : Infinity;
      next.push(Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1), exchanged));
    }
    [before, row] = [row, next];
  }
  return row[b.length]!;
}

/** Options as they are given: what may be left out is absent or has a value. */
export type Given<T> = { [K in keyof T]: Record<never, never> extends Pick<T, K> ? Exclude<T[K], undefined> : T[K] };

/**
 * Checks that an options object is a plain object with known keys only. An option that is undefined is absent.
 *
 * @param caller name of the public function, for the message
 * @param options what was given; `undefined` counts as `{}`
 * @param allowed the keys that the function knows
 * @returns the same object, or one without the options that are undefined
 * @throws DividingNetworkError `unknown-option` or `invalid-argument`
 */
export function checkOptions<T extends object>(caller: string, options: T | undefined, allowed: readonly string[]): Given<T> {
  if (options === undefined) return {} as Given<T>;
  if (typeof options !== "object" || options === null || Array.isArray(options) || ArrayBuffer.isView(options)) {
    throw new DividingNetworkError("invalid-argument", `${caller}: the options must be an object, got ${show(options)}`);
  }
  for (const key of Object.keys(options)) {
    if (!allowed.includes(key)) {
      throw new DividingNetworkError(
        "unknown-option",
        `${caller}: unknown option ${show(key)}; known are ${allowed.map((name) => `"${name}"`).join(", ")}`,
        nearestHint(key, allowed),
      );
    }
  }
  const entries = Object.entries(options);
  return (
    entries.every(([, value]) => value !== undefined) ? options : Object.fromEntries(entries.filter(([, value]) => value !== undefined))
  ) as Given<T>;
}

/**
 * Checks that a value is one of a few words.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @param allowed the words
 * @returns the same word, typed
 * @throws DividingNetworkError `invalid-argument`
 */
export function checkOneOf<const T extends string>(caller: string, argument: string, value: unknown, allowed: readonly T[]): T {
  if (!allowed.includes(value as T)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be one of ${allowed.map((word) => `"${word}"`).join(", ")}, got ${show(value)}`,
      nearestHint(value, allowed),
    );
  }
  return value as T;
}
