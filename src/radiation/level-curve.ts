import type { Mark } from "../response";

/** A level over frequency: what is left when pressures were averaged and have no phase any more. */
export interface LevelCurve {
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** dB, −Infinity where there is no sound. */
  readonly levelDb: Float64Array;
  readonly marks?: readonly Mark[];
}

/** A frozen curve from mean squares; the level is 10 log10 of them. */
export function curveFromSquares(frequencies: Float64Array, squares: Float64Array, marks: readonly Mark[]): LevelCurve {
  return curve(frequencies, squares.map((square) => 10 * Math.log10(square)), marks);
}

/** A frozen curve, with its marks when there are any. */
export function curve(frequencies: Float64Array, levelDb: Float64Array, marks: readonly Mark[] = []): LevelCurve {
  return Object.freeze(marks.length === 0 ? { frequencies, levelDb } : { frequencies, levelDb, marks: Object.freeze([...marks]) });
}

/** The difference of two levels in dB; 0 where both are silent, so that no NaN comes of it. */
export function difference(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((level, f) => (level === b[f] ? 0 : level - b[f]!));
}
