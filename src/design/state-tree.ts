/**
 * A tree over the states of a branch. Every node holds, for each complex number of a state, a centre and a radius that enclose that number
 * in all states below it. A single state is a leaf, written as −1 − state; it has no radius. Nodes are made when they are asked for: what a search rules out from above is never divided.
 */
export interface StateTree {
  readonly root: number;
  /** Centres, re and im in turn, by node. */
  readonly centres: Float64Array;
  /** Radii by node. */
  readonly radii: Float64Array;
  /** The halves of a node, once it was split. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  /** States below a node. */
  readonly count: Int32Array;
  /** The radii's weighted sum: which of two nodes is the wider. */
  readonly size: Float64Array;
  /** The least of numbers, one a state, of the states below a node that is no leaf. */
  readonly leastOf: (node: number, numbers: Float64Array) => number;
  /** Makes the halves of a node, unless it has them; how many states had to be gone through. */
  readonly split: (node: number) => number;
}

/** States looked at to find the direction in which a node is longest. */
const SAMPLE = 48;

/** The tree with its root, over as many of each state's numbers as there are `weights`, which make them comparable; `stride` numbers of the table belong to one state. */
export function stateTree(table: Float64Array, stride: number, states: number, weights: Float64Array): StateTree {
  const inner = Math.max(0, states - 1);
  const width = weights.length;
  const [row, own] = [2 * width, 2 * stride];
  const centres = new Float64Array(inner * row);
  const radii = new Float64Array(inner * width);
  const [left, right, count, first] = [new Int32Array(inner), new Int32Array(inner), new Int32Array(inner), new Int32Array(inner)];
  const done = new Uint8Array(inner);
  const size = new Float64Array(inner);
  const order = Int32Array.from({ length: states }, (_, state) => state);
  const keys = new Float64Array(states);
  const [low, high, axis] = [new Float64Array(row), new Float64Array(row), new Float64Array(row)];
  const squares = Float64Array.from({ length: row }, (_, i) => weights[i >> 1]! ** 2);
  let used = 0;

  const enclose = (node: number, start: number, end: number): void => {
    const [c, r] = [node * row, node * width];
    let at = order[start]! * own;
    for (let i = 0; i < row; i++) low[i] = high[i] = table[at + i]!;
    for (let s = start + 1; s < end; s++) {
      at = order[s]! * own;
      for (let i = 0; i < row; i++) {
        const value = table[at + i]!;
        if (value < low[i]!) low[i] = value;
        else if (value > high[i]!) high[i] = value;
      }
    }
    for (let i = 0; i < row; i++) centres[c + i] = (low[i]! + high[i]!) / 2;
    for (let s = start; s < end; s++) {
      at = order[s]! * own;
      for (let i = 0; i < width; i++) {
        const x = table[at + 2 * i]! - centres[c + 2 * i]!;
        const y = table[at + 2 * i + 1]! - centres[c + 2 * i + 1]!;
        const square = x * x + y * y;
        if (square > radii[r + i]!) radii[r + i] = square;
      }
    }
    let sum = 0;
    for (let i = 0; i < width; i++) {
      // Outwards by more than all rounding that follows.
      const scale = Math.abs(centres[c + 2 * i]!) + Math.abs(centres[c + 2 * i + 1]!);
      const radius = Math.sqrt(radii[r + i]!) * (1 + 1e-12) + 1e-14 * scale;
      radii[r + i] = radius;
      sum += weights[i]! * radius;
    }
    size[node] = sum;
    count[node] = end - start;
    first[node] = start;
  };

  /** The state of a sample that lies farthest from another (weighted). */
  const farthest = (start: number, end: number, step: number, from: number): number => {
    let [found, most] = [from, 0];
    for (let s = start; s < end; s += step) {
      const [a, b] = [order[s]! * own, from * own];
      let distance = 0;
      for (let i = 0; i < row; i++) {
        const d = table[a + i]! - table[b + i]!;
        distance += squares[i]! * d * d;
      }
      if (distance > most) [found, most] = [order[s]!, distance];
    }
    return found;
  };

  /** Writes to `axis` the direction (weighted) along which the states spread: between two that lie far apart, then turned once towards that of the largest spread of a sample. */
  const longest = (start: number, end: number): void => {
    const step = Math.max(1, Math.floor((end - start) / SAMPLE));
    const one = farthest(start, end, step, order[start]!);
    const other = farthest(start, end, step, one);
    for (let i = 0; i < row; i++) axis[i] = squares[i]! * (table[other * own + i]! - table[one * own + i]!);
    if (end - start <= 8) return;
    low.fill(0);
    high.fill(0);
    let taken = 0;
    for (let s = start; s < end; s += step, taken++) for (let i = 0; i < row; i++) low[i]! += table[order[s]! * own + i]!;
    for (let i = 0; i < row; i++) low[i]! /= taken;
    for (let s = start; s < end; s += step) {
      const at = order[s]! * own;
      let along = 0;
      for (let i = 0; i < row; i++) along += axis[i]! * (table[at + i]! - low[i]!);
      for (let i = 0; i < row; i++) high[i]! += along * (table[at + i]! - low[i]!);
    }
    let largest = 0;
    for (let i = 0; i < row; i++) largest = Math.max(largest, Math.abs(high[i]!));
    if (largest > 0) for (let i = 0; i < row; i++) axis[i] = squares[i]! * (high[i]! / largest);
  };

  /** The node of some states, or the leaf of one. */
  const nodeOf = (start: number, end: number): number => {
    if (end - start === 1) return -1 - order[start]!;
    enclose(used, start, end);
    return used++;
  };
  const split = (node: number): number => {
    if (done[node] === 1) return 0;
    done[node] = 1;
    const [start, end] = [first[node]!, first[node]! + count[node]!];
    const middle = (start + end) >> 1;
    if (end - start > 2) {
      longest(start, end);
      for (let s = start; s < end; s++) {
        let along = 0;
        const at = order[s]! * own;
        for (let i = 0; i < row; i++) along += axis[i]! * table[at + i]!;
        keys[s] = along;
      }
      select(order, keys, start, end - 1, middle);
    }
    left[node] = nodeOf(start, middle);
    right[node] = nodeOf(middle, end);
    return end - start;
  };
  if (states > 1) nodeOf(0, states);
  const leastOf = (node: number, numbers: Float64Array): number => {
    let least = Infinity;
    for (let s = first[node]!; s < first[node]! + count[node]!; s++) least = Math.min(least, numbers[order[s]!]!);
    return least;
  };
  return { root: states > 1 ? 0 : -1, centres, radii, left, right, count, size, split, leastOf };
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
