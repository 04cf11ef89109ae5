import { DividingNetworkError } from "../errors";
import type { Mark } from "../response";

/** A level over frequency: what is left when pressures were averaged and have no phase any more. */
export interface LevelCurve {
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** dB, −Infinity where there is no sound. */
  readonly levelDb: Float64Array;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}

/** A frozen curve from mean squares; the level is 10 log10 of them. */
export function curveFromSquares(caller: string, frequencies: Float64Array, squares: Float64Array, marks: readonly Mark[]): LevelCurve {
  return curve(frequencies, levelsOfSquares(caller, frequencies, squares), marks);
}

/** dB: 10 log10 of mean squares, −Infinity for 0; what no number can hold is refused. */
export function levelsOfSquares(caller: string, frequencies: Float64Array, squares: Float64Array): Float64Array {
  return squares.map((square, f) => {
    if (square < Infinity) return 10 * Math.log10(square);
    throw new DividingNetworkError(
      "overflow",
      `${caller}: the mean square at ${frequencies[f]} Hz must be a finite number, got ${square}`,
      "Scale the maps: pressures above 1e150 Pa have squares that no number can hold",
    );
  });
}

/** A frozen curve, with its marks when there are any. */
export function curve(frequencies: Float64Array, levelDb: Float64Array, marks: readonly Mark[] = []): LevelCurve {
  return Object.freeze(marks.length === 0 ? { frequencies, levelDb } : { frequencies, levelDb, marks: Object.freeze([...marks]) });
}

/** The difference of two levels in dB; 0 where both are silent, so that no NaN comes of it, and refused where only the second is. */
export function difference(caller: string, frequencies: Float64Array, a: Float64Array, b: Float64Array): Float64Array {
  return a.map((level, f) => {
    if (level === b[f]) return 0;
    if (b[f]! > -Infinity) return level - b[f]!;
    throw new DividingNetworkError(
      "silent-average",
      `${caller}: there must be sound all around where there is some ahead, got none at ${frequencies[f]} Hz`,
      "Check that map and axis belong together and hold no values below 1e-150",
    );
  });
}

/** The mean of values over the logarithm of frequency, for indices [first, end), straight between them; 0 Hz lies at no finite place and is left out. */
export function logMean(frequencies: Float64Array, values: Float64Array, first: number, end: number): number {
  let [sum, total] = [0, 0];
  for (let f = first + 1; f < end; f++) {
    if (frequencies[f - 1] === 0) continue;
    const width = Math.log(frequencies[f]! / frequencies[f - 1]!);
    sum += (width * (values[f]! + values[f - 1]!)) / 2;
    total += width;
  }
  return total > 0 ? sum / total : values[end - 1]!;
}
