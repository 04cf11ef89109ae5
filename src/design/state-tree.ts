import type { Pause } from "./pause";

/**
 * A tree over the states of a branch. Every node holds, for each complex number of a state, a centre and a radius that enclose that number
 * in all states below it. A single state is a leaf, written as −1 − state; it has no radius.
 */
export interface StateTree {
  readonly root: number;
  /** Centres, re and im in turn, by node. */
  readonly centres: Float64Array;
  /** Radii by node. */
  readonly radii: Float64Array;
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** States below a node. */
  readonly count: Int32Array;
  /** The radii's weighted sum: which of two nodes is the wider. */
  readonly size: Float64Array;
}

/** States looked at to find the direction in which a node is longest. */
const SAMPLE = 48;

/** Builds the tree; `weights` make the numbers of a state comparable. */
export async function stateTree(table: Float64Array, width: number, states: number, weights: Float64Array, pause: Pause): Promise<StateTree> {
  const inner = Math.max(0, states - 1);
  const row = 2 * width;
  const centres = new Float64Array(inner * row);
  const radii = new Float64Array(inner * width);
  const [left, right, count] = [new Int32Array(inner), new Int32Array(inner), new Int32Array(inner)];
  const size = new Float64Array(inner);
  const order = Int32Array.from({ length: states }, (_, state) => state);
  const keys = new Float64Array(states);
  const [low, high, mean, axis, next] = [new Float64Array(row), new Float64Array(row), new Float64Array(row), new Float64Array(row), new Float64Array(row)];

  const enclose = (node: number, start: number, end: number): void => {
    low.fill(Infinity);
    high.fill(-Infinity);
    for (let s = start; s < end; s++) {
      const at = order[s]! * row;
      for (let i = 0; i < row; i++) {
        const value = table[at + i]!;
        if (value < low[i]!) low[i] = value;
        if (value > high[i]!) high[i] = value;
      }
    }
    for (let i = 0; i < row; i++) centres[node * row + i] = (low[i]! + high[i]!) / 2;
    for (let s = start; s < end; s++) {
      const at = order[s]! * row;
      for (let i = 0; i < width; i++) {
        const [x, y] = [table[at + 2 * i]! - centres[node * row + 2 * i]!, table[at + 2 * i + 1]! - centres[node * row + 2 * i + 1]!];
        const square = x * x + y * y;
        if (square > radii[node * width + i]!) radii[node * width + i] = square;
      }
    }
    let sum = 0;
    for (let i = 0; i < width; i++) {
      // Outwards by more than all rounding that follows.
      const scale = Math.abs(centres[node * row + 2 * i]!) + Math.abs(centres[node * row + 2 * i + 1]!);
      const radius = Math.sqrt(radii[node * width + i]!) * (1 + 1e-12) + 1e-14 * scale;
      radii[node * width + i] = radius;
      sum += weights[i]! * radius;
    }
    size[node] = sum;
    count[node] = end - start;
  };

  /** Writes to `axis` the direction (weighted) along which a sample of the states spreads most. */
  const longest = (start: number, end: number): void => {
    const step = Math.max(1, Math.floor((end - start) / SAMPLE));
    mean.fill(0);
    let taken = 0;
    for (let s = start; s < end; s += step, taken++) for (let i = 0; i < row; i++) mean[i]! += table[order[s]! * row + i]!;
    for (let i = 0; i < row; i++) mean[i]! /= taken;
    axis.fill(0);
    for (let s = start; s < end; s += step) for (let i = 0; i < row; i++) axis[i]! += ((table[order[s]! * row + i]! - mean[i]!) * weights[i >> 1]!) ** 2;
    for (let round = 0; round < 3; round++) {
      next.fill(0);
      for (let s = start; s < end; s += step) {
        let along = 0;
        for (let i = 0; i < row; i++) along += axis[i]! * weights[i >> 1]! * (table[order[s]! * row + i]! - mean[i]!);
        for (let i = 0; i < row; i++) next[i]! += along * weights[i >> 1]! * (table[order[s]! * row + i]! - mean[i]!);
      }
      let largest = 0;
      for (let i = 0; i < row; i++) largest = Math.max(largest, Math.abs(next[i]!));
      if (!(largest > 0)) return;
      for (let i = 0; i < row; i++) axis[i] = next[i]! / largest;
    }
  };

  let used = 0;
  const pending: [start: number, end: number, parent: number, isRight: boolean][] = states > 1 ? [[0, states, -1, false]] : [];
  while (pending.length > 0) {
    const [start, end, parent, isRight] = pending.pop()!;
    let id: number;
    if (end - start === 1) id = -1 - order[start]!;
    else {
      const wait = used % 64 === 0 || end - start > 10_000 ? pause() : undefined;
      if (wait !== undefined) await wait;
      id = used++;
      enclose(id, start, end);
      longest(start, end);
      for (let s = start; s < end; s++) {
        let along = 0;
        const at = order[s]! * row;
        for (let i = 0; i < row; i++) along += axis[i]! * weights[i >> 1]! * table[at + i]!;
        keys[s] = along;
      }
      const middle = (start + end) >> 1;
      select(order, keys, start, end - 1, middle);
      pending.push([middle, end, id, true], [start, middle, id, false]);
    }
    if (parent >= 0) (isRight ? right : left)[parent] = id;
  }
  return { root: states > 1 ? 0 : -1, centres, radii, left, right, count, size };
}

/** Puts the k-th smallest key, and its state, at place k; smaller ones before it. */
function select(order: Int32Array, keys: Float64Array, from: number, to: number, k: number): void {
  let [low, high] = [from, to];
  while (low < high) {
    const pivot = keys[(low + high) >> 1]!;
    let [i, j] = [low, high];
    while (i <= j) {
      while (keys[i]! < pivot) i++;
      while (keys[j]! > pivot) j--;
      if (i > j) break;
      [keys[i], keys[j]] = [keys[j]!, keys[i]!];
      [order[i], order[j]] = [order[j]!, order[i]!];
      i++;
      j--;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else return;
  }
}
