/**
 * A tree over the states of a branch. Every node holds, for each complex number of a state, a centre and a radius that enclose that number
 * in all states below it. A single state is a leaf, written as −1 − state; it has no radius. Nodes are made when they are asked for: what a search rules out from above is never divided.
 */
export class StateTree {
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
  private readonly table: Float64Array;
  private readonly weights: Float64Array;
  private readonly squares: Float64Array;
  /** Numbers of a state, in the tree and in the table. */
  private readonly row: number;
  private readonly own: number;
  private readonly first: Int32Array;
  private readonly done: Uint8Array;
  private readonly order: Int32Array;
  private readonly keys: Float64Array;
  private readonly low: Float64Array;
  private readonly high: Float64Array;
  private readonly axis: Float64Array;
  private used = 0;

  /** The tree with its root, over as many of each state's numbers as there are `weights`, which make them comparable; `stride` numbers of the table belong to one state. */
  constructor(table: Float64Array, stride: number, states: number, weights: Float64Array) {
    const inner = Math.max(0, states - 1);
    [this.table, this.weights, this.own, this.row] = [table, weights, 2 * stride, 2 * weights.length];
    this.centres = new Float64Array(inner * this.row);
    this.radii = new Float64Array(inner * weights.length);
    [this.left, this.right, this.count, this.first] = [
      new Int32Array(inner),
      new Int32Array(inner),
      new Int32Array(inner),
      new Int32Array(inner),
    ];
    this.done = new Uint8Array(inner);
    this.size = new Float64Array(inner);
    this.order = Int32Array.from({ length: states }, (_, state) => state);
    this.keys = new Float64Array(states);
    [this.low, this.high, this.axis] = [new Float64Array(this.row), new Float64Array(this.row), new Float64Array(this.row)];
    this.squares = Float64Array.from({ length: this.row }, (_, i) => weights[i >> 1]! ** 2);
    this.root = states > 1 ? this.nodeOf(0, states) : -1;
  }

  /** Makes the halves of a node, unless it has them; how many states had to be gone through. */
  split(node: number): number {
    if (this.done[node] === 1) return 0;
    this.done[node] = 1;
    const { order, keys, row, own, axis, table } = this;
    const start = this.first[node]!;
    const end = start + this.count[node]!;
    const middle = (start + end) >> 1;
    if (end - start > 2) {
      this.longest(start, end);
      for (let s = start; s < end; s++) {
        let along = 0;
        const at = order[s]! * own;
        for (let i = 0; i < row; i++) along += axis[i]! * table[at + i]!;
        keys[s] = along;
      }
      select(order, keys, start, end - 1, middle);
    }
    this.left[node] = this.nodeOf(start, middle);
    this.right[node] = this.nodeOf(middle, end);
    return end - start;
  }

  /** The least of numbers, one a state, of the states below a node that is no leaf. */
  leastOf(node: number, numbers: Float64Array): number {
    const start = this.first[node]!;
    let least = Infinity;
    for (let s = start; s < start + this.count[node]!; s++) least = Math.min(least, numbers[this.order[s]!]!);
    return least;
  }

  /** The node of some states, or the leaf of one. */
  private nodeOf(start: number, end: number): number {
    if (end - start === 1) return -1 - this.order[start]!;
    this.enclose(this.used, start, end);
    return this.used++;
  }

  private enclose(node: number, start: number, end: number): void {
    const { order, own, row, table, low, high, centres, radii, weights } = this;
    const width = weights.length;
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
    this.size[node] = sum;
    this.count[node] = end - start;
    this.first[node] = start;
  }

  /** The state of a sample that lies farthest from another (weighted). */
  private farthest(start: number, end: number, step: number, from: number): number {
    const { order, own, row, table, squares } = this;
    let found = from;
    let most = 0;
    for (let s = start; s < end; s += step) {
      const a = order[s]! * own;
      const b = from * own;
      let distance = 0;
      for (let i = 0; i < row; i++) {
        const d = table[a + i]! - table[b + i]!;
        distance += squares[i]! * d * d;
      }
      if (distance > most) {
        found = order[s]!;
        most = distance;
      }
    }
    return found;
  }

  /** Writes to `axis` the direction (weighted) along which the states spread: between two that lie far apart, then turned once towards that of the largest spread of a sample. */
  private longest(start: number, end: number): void {
    const { order, own, row, table, squares, low, high, axis } = this;
    const step = Math.max(1, Math.floor((end - start) / SAMPLE));
    const one = this.farthest(start, end, step, order[start]!);
    const other = this.farthest(start, end, step, one);
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
  }
}

/** States looked at to find the direction in which a node is longest. */
const SAMPLE = 24;

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
