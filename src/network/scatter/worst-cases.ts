import { seededRandom } from "../../numeric/internal";
import { worstPlace } from "./worst-place";

/** The squares of one output at the worst combinations found. */
export interface WorstCases {
  readonly lowest: Float64Array;
  readonly highest: Float64Array;
}

/** With so many values at most, all corners are looked at; with more, as many corners drawn with a fixed seed. */
const ALL_CORNERS = 11;
/** Places drawn inside the tolerances, with a fixed seed. */
const DRAWN = 500;

type SquaresAt = (grid: Float64Array, deviation: (variable: number) => number) => readonly Float64Array[];

/**
 * For each output and frequency by itself: the least and greatest square found while every value stays within its tolerance.
 * The corners of the tolerances come first, and places drawn inside; then, from the worst corner, the worst place inside, the nominal values and the
 * worst place of the frequency before, a search by `worstPlace`. `onStep` is told before each search how many are done, of two for each output and frequency.
 */
export function worstCases(
  variables: number,
  outputs: number,
  frequencies: Float64Array,
  squaresAt: SquaresAt,
  onStep: (done: number) => void,
): readonly WorstCases[] {
  const n = frequencies.length;
  const groups = [cornersOf(variables), drawnInside(variables)];
  const seen = groups.map((places) => worstOf(places, outputs, frequencies, squaresAt));
  const zero = new Float64Array(variables);
  return Array.from({ length: outputs }, (_, at): WorstCases => {
    const found = { lowest: new Float64Array(n), highest: new Float64Array(n) };
    for (const [direction, own, end] of [
      [-1, found.lowest, 0],
      [1, found.highest, 1],
    ] as const) {
      let before: Float64Array | undefined;
      for (let i = 0; i < n; i++) {
        onStep((2 * at + end) * n + i);
        const grid = frequencies.slice(i, i + 1);
        const starts = [
          zero,
          ...groups.map((places, group) => places[seen[group]![at]![end][i]!]!),
          ...(before === undefined ? [] : [before]),
        ];
        const { at: place, value } = worstPlace((deviations) => squaresAt(grid, (k) => deviations[k]!)[at]![0]!, starts, direction);
        own[i] = value;
        before = place;
      }
    }
    return found;
  });
}

/** By output: the numbers of the places at which its square is least, and greatest, at each frequency. */
function worstOf(
  places: readonly ArrayLike<number>[],
  outputs: number,
  frequencies: Float64Array,
  squaresAt: SquaresAt,
): readonly (readonly [Int32Array, Int32Array])[] {
  const n = frequencies.length;
  const own = Array.from({ length: outputs }, () => ({
    least: new Float64Array(n).fill(Infinity),
    most: new Float64Array(n).fill(-Infinity),
    leastAt: new Int32Array(n),
    mostAt: new Int32Array(n),
  }));
  places.forEach((place, number) => {
    const squares = squaresAt(frequencies, (k) => place[k]!);
    own.forEach(({ least, most, leastAt, mostAt }, at) => {
      for (let i = 0; i < n; i++) {
        const square = squares[at]![i]!;
        if (square < least[i]!) [least[i], leastAt[i]] = [square, number];
        if (square > most[i]!) [most[i], mostAt[i]] = [square, number];
      }
    });
  });
  return own.map(({ leastAt, mostAt }) => [leastAt, mostAt]);
}

function cornersOf(variables: number): readonly Int8Array[] {
  const count = 2 ** Math.min(variables, ALL_CORNERS);
  const draw = seededRandom(1);
  return Array.from({ length: count }, (_, corner) =>
    Int8Array.from({ length: variables }, (__, k) => (variables <= ALL_CORNERS ? ((corner >> k) & 1 ? 1 : -1) : draw() < 0.5 ? -1 : 1)),
  );
}

function drawnInside(variables: number): readonly Float64Array[] {
  const draw = seededRandom(2);
  return Array.from({ length: DRAWN }, () => Float64Array.from({ length: variables }, () => 2 * draw() - 1));
}
