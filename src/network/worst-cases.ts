import { extremeAlong } from "./extreme-along";
import { seededRandom } from "./random";

/** The squares of one output at the worst combinations found. */
export interface WorstCases {
  readonly lowest: Float64Array;
  readonly highest: Float64Array;
}

/** With so many values at most, all corners are looked at; with more, as many corners drawn with a fixed seed. */
const ALL_CORNERS = 8;
/** Rounds over all values after which a search from one start ends. */
const MOST_ROUNDS = 12;

type SquaresAt = (grid: Float64Array, deviation: (variable: number) => number) => readonly Float64Array[];

/**
 * For each output and frequency by itself: the least and greatest square found while every value stays within its tolerance.
 * The corners of the tolerances come first; then, from the best corner and from the nominal values, one value after the other is put where
 * the output is worst, inside its tolerance too (a trap's null lies between two corners), until none helps.
 */
export function worstCases(variables: number, outputs: number, frequencies: Float64Array, squaresAt: SquaresAt): readonly WorstCases[] {
  const corners = cornersOf(variables);
  const n = frequencies.length;
  const nominal = squaresAt(frequencies, () => 0);
  const make = (start: Float64Array) => ({ lowest: start.slice(), highest: start.slice(), lowestAt: new Int32Array(n).fill(-1), highestAt: new Int32Array(n).fill(-1) });
  const found = nominal.map(make);
  corners.forEach((corner, number) => {
    const squares = squaresAt(frequencies, (k) => corner[k]!);
    found.forEach((own, at) => {
      for (let i = 0; i < n; i++) {
        const square = squares[at]![i]!;
        if (square < own.lowest[i]!) [own.lowest[i], own.lowestAt[i]] = [square, number];
        if (square > own.highest[i]!) [own.highest[i], own.highestAt[i]] = [square, number];
      }
    });
  });
  for (let i = 0; i < n; i++) {
    const grid = frequencies.slice(i, i + 1);
    for (let at = 0; at < outputs; at++) {
      const own = found[at]!;
      const search = (start: ArrayLike<number>, direction: 1 | -1) => climb((place) => squaresAt(grid, (k) => place[k]!)[at]![0]!, start, direction);
      const zero = new Float64Array(variables);
      for (const start of [zero, corners[own.lowestAt[i]!]]) if (start !== undefined) own.lowest[i] = Math.min(own.lowest[i]!, search(start, -1));
      for (const start of [zero, corners[own.highestAt[i]!]]) if (start !== undefined) own.highest[i] = Math.max(own.highest[i]!, search(start, 1));
    }
  }
  return found;
}

/** From a start, one value at a time to where the function is worst, until a whole round changes nothing. */
function climb(f: (place: Float64Array) => number, start: ArrayLike<number>, direction: 1 | -1): number {
  const place = Float64Array.from(start);
  let value = f(place);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const before = value;
    for (let k = 0; k < place.length; k++) {
      const at = place[k]!;
      const best = extremeAlong((x) => {
        place[k] = x;
        return f(place);
      }, direction);
      const better = direction * best.value > direction * value;
      place[k] = better ? best.at : at;
      if (better) value = best.value;
    }
    if (!(Math.abs(value - before) > 1e-12 * Math.abs(before))) break;
  }
  return value;
}

function cornersOf(variables: number): readonly Int8Array[] {
  const count = 2 ** Math.min(variables, ALL_CORNERS);
  const draw = seededRandom(1);
  return Array.from({ length: count }, (_, corner) =>
    Int8Array.from({ length: variables }, (__, k) => (variables <= ALL_CORNERS ? ((corner >> k) & 1 ? 1 : -1) : draw() < 0.5 ? -1 : 1)),
  );
}
