/** What a search over all mixtures of some columns came to: the least spread of levels lies between the two. */
export interface LevelSpread {
  /** ln²: no mixture is below. */
  readonly lower: number;
  /** ln²: of the best mixture that was found. */
  readonly upper: number;
}

/** Rows over columns of complex numbers, re and im in turn: [row][column]. */
export interface Mixture {
  readonly rows: number;
  readonly columns: number;
  readonly numbers: Float64Array;
  /** Of each row, their sum 1. */
  readonly weights: Float64Array;
}

/** Boxes looked at for one mixture. */
const MOST_BOXES = 6000;
/** How near the bound comes to the best found, where boxes last: relative, of squares. */
const NEAR = 0.02;
/** ln²: what nobody measures, 0.001 dB. */
const NOTHING = 1.3e-8;

/** The weighted variance of ln|Σ h·a| over the rows, which a common factor of all h leaves alone. */
export function spreadOf({ rows, columns, numbers, weights }: Mixture, h: ArrayLike<number>): number {
  let [sum, squares] = [0, 0];
  for (let k = 0; k < rows; k++) {
    let [re, im] = [0, 0];
    for (let b = 0; b < columns; b++) {
      const i = 2 * (k * columns + b);
      re += numbers[i]! * h[2 * b]! - numbers[i + 1]! * h[2 * b + 1]!;
      im += numbers[i]! * h[2 * b + 1]! + numbers[i + 1]! * h[2 * b]!;
    }
    const level = 0.5 * Math.log(Math.max(re * re + im * im, 1e-300));
    sum += weights[k]! * level;
    squares += weights[k]! * level * level;
  }
  return Math.max(0, squares - sum * sum);
}

/**
 * The least weighted variance of ln|Σ h_b a_kb| over the rows k, for any complex h. Some h_b has the largest magnitude; it is made 1, and the others lie in the square around the unit disc. In a
 * box of them each |Σ h a| lies between that of its middle less and plus Σ |a_b|·r_b, and what one common level misses of all these intervals is a variance that no h of the box undercuts. The box of the least
 * bound is halved first.
 */
export function leastSpread(given: Mixture): LevelSpread {
  const mixture = merged(given);
  const { rows, columns, numbers, weights } = mixture;
  if (columns === 1) {
    const own = spreadOf(mixture, [1, 0]);
    return { lower: own, upper: own };
  }
  const sizes = Float64Array.from({ length: rows * columns }, (_, i) => Math.hypot(numbers[2 * i]!, numbers[2 * i + 1]!));
  const dimensions = 2 * (columns - 1);
  const h = new Float64Array(2 * columns);
  const [low, high] = [new Float64Array(rows), new Float64Array(rows)];
  const place = (chart: number, box: Float64Array) => {
    for (let b = 0, d = 0; b < columns; b++) {
      [h[2 * b], h[2 * b + 1]] = b === chart ? [1, 0] : [box[d]!, box[d + 1]!];
      if (b !== chart) d += 2;
    }
  };
  let upper = Infinity;
  let best: { readonly chart: number; readonly middle: Float64Array } | undefined;
  const boundOf = (chart: number, box: Float64Array): number => {
    place(chart, box);
    const own = spreadOf(mixture, h);
    if (own < upper) [upper, best] = [own, { chart, middle: box.slice(0, dimensions) }];
    for (let k = 0; k < rows; k++) {
      let [re, im, r] = [0, 0, 0];
      for (let b = 0, d = dimensions; b < columns; b++) {
        const i = k * columns + b;
        re += numbers[2 * i]! * h[2 * b]! - numbers[2 * i + 1]! * h[2 * b + 1]!;
        im += numbers[2 * i]! * h[2 * b + 1]! + numbers[2 * i + 1]! * h[2 * b]!;
        if (b === chart) continue;
        r += sizes[i]! * Math.hypot(box[d]!, box[d + 1]!);
        d += 2;
      }
      const middle = Math.hypot(re, im);
      low[k] = middle - r > 0 ? Math.log((middle - r) * (1 - 1e-12)) : -Infinity;
      high[k] = Math.log((middle + r) * (1 + 1e-12));
    }
    return distance(low, high, weights);
  };
  const heap: { readonly bound: number; readonly chart: number; readonly box: Float64Array }[] = [];
  for (let chart = 0; chart < columns; chart++) {
    const box = Float64Array.from({ length: 2 * dimensions }, (_, d) => (d < dimensions ? 0 : 1));
    push(heap, { bound: boundOf(chart, box), chart, box });
  }
  let looked = columns;
  const settled = () => heap.length === 0 || looked >= MOST_BOXES || upper <= NOTHING || heap[0]!.bound >= (1 - NEAR) * upper;
  while (!settled()) {
    const { chart, box } = pop(heap);
    let [widest, most] = [0, -1];
    for (let d = 0; d < dimensions; d++) {
      const column = (d >> 1) + (d >> 1 >= chart ? 1 : 0);
      let size = 0;
      for (let k = 0; k < rows; k++) size = Math.max(size, sizes[k * columns + column]!);
      if (size * box[dimensions + d]! > most) [widest, most] = [d, size * box[dimensions + d]!];
    }
    for (const side of [-1, 1]) {
      const half = box.slice();
      half[dimensions + widest]! /= 2;
      half[widest]! += side * half[dimensions + widest]!;
      looked++;
      push(heap, { bound: boundOf(chart, half), chart, box: half });
    }
  }
  if (best !== undefined) upper = improved(mixture, best.chart, best.middle, place, h, upper);
  if (upper <= NOTHING) return { lower: 0, upper };
  return { lower: Math.min(upper, heap[0]?.bound ?? upper), upper };
}

/** Single steps of a middle, halved while nothing helps. */
function improved(
  mixture: Mixture,
  chart: number,
  from: Float64Array,
  place: (chart: number, box: Float64Array) => void,
  h: Float64Array,
  value: number,
): number {
  let now = value;
  for (let step = 0.1; step > 1e-9; step /= 2)
    for (let moved = true; moved;) {
      moved = false;
      for (let d = 0; d < from.length; d++)
        for (const side of [-1, 1]) {
          const before = from[d]!;
          from[d] = before + side * step;
          place(chart, from);
          const next = spreadOf(mixture, h);
          if (next < now * (1 - 1e-9)) [now, moved] = [next, true];
          else from[d] = before;
        }
    }
  return now;
}

/** Columns that are one another's multiples can't be told apart: one of them will do. Columns of nothing are left out; the others are made comparable. */
function merged({ rows, columns, numbers, weights }: Mixture): Mixture {
  const kept: Float64Array[] = [];
  for (let b = 0; b < columns; b++) {
    const own = Float64Array.from({ length: 2 * rows }, (_, i) => numbers[2 * ((i >> 1) * columns + b) + (i & 1)]!);
    const size = Math.sqrt(own.reduce((sum, value) => sum + value * value, 0));
    if (!(size > 0)) continue;
    const one = own.map((value) => value / size);
    const alike = kept.some((other) => {
      let [re, im] = [0, 0];
      for (let k = 0; k < rows; k++) {
        re += one[2 * k]! * other[2 * k]! + one[2 * k + 1]! * other[2 * k + 1]!;
        im += one[2 * k]! * other[2 * k + 1]! - one[2 * k + 1]! * other[2 * k]!;
      }
      return 1 - Math.hypot(re, im) < 1e-14;
    });
    if (!alike) kept.push(one);
  }
  const all = kept.length === 0 ? [new Float64Array(2 * rows).fill(1)] : kept;
  return {
    rows,
    columns: all.length,
    numbers: Float64Array.from({ length: 2 * rows * all.length }, (_, i) => {
      const [at, part] = [i >> 1, i & 1];
      return all[at % all.length]![2 * Math.floor(at / all.length) + part]!;
    }),
    weights,
  };
}

/** The least weighted square distance of one level to all intervals: its slope rises with the level, and is looked for where it is 0. */
function distance(low: Float64Array, high: Float64Array, weights: Float64Array): number {
  let [from, to] = [Infinity, -Infinity];
  for (let k = 0; k < low.length; k++) [from, to] = [Math.min(from, high[k]!), Math.max(to, low[k]!)];
  if (!(to > from)) return 0;
  const at = (level: number): readonly [value: number, slope: number] => {
    let [value, slope] = [0, 0];
    for (let k = 0; k < low.length; k++) {
      const d = low[k]! > level ? low[k]! - level : high[k]! < level ? high[k]! - level : 0;
      value += weights[k]! * d * d;
      slope -= weights[k]! * d;
    }
    return [value, slope];
  };
  for (let round = 0; round < 60; round++) {
    const middle = (from + to) / 2;
    const [value, slope] = at(middle);
    // A convex function lies above its tangents: no more than slope times bracket is to be gained.
    if (2 * Math.abs(slope) * (to - from) <= 1e-3 * value) return Math.max(0, value - 2 * Math.abs(slope) * (to - from));
    if (slope > 0) to = middle;
    else from = middle;
  }
  const [value, slope] = at((from + to) / 2);
  return Math.max(0, value - 2 * Math.abs(slope) * (to - from));
}

interface Bounded {
  readonly bound: number;
}

function push<T extends Bounded>(heap: T[], one: T): void {
  heap.push(one);
  for (let i = heap.length - 1; i > 0;) {
    const up = (i - 1) >> 1;
    if (heap[up]!.bound <= heap[i]!.bound) break;
    [heap[up], heap[i]] = [heap[i]!, heap[up]!];
    i = up;
  }
}

function pop<T extends Bounded>(heap: T[]): T {
  const top = heap[0]!;
  const last = heap.pop()!;
  if (heap.length === 0) return top;
  heap[0] = last;
  for (let i = 0; ;) {
    let least = i;
    for (const child of [2 * i + 1, 2 * i + 2]) if (child < heap.length && heap[child]!.bound < heap[least]!.bound) least = child;
    if (least === i) return top;
    [heap[least], heap[i]] = [heap[i]!, heap[least]!];
    i = least;
  }
}
