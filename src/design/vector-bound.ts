import type { BranchTable } from "./branch-table";
import { constantVectors, HEAD, nodeVectors, type BoundShape } from "./bound-kernels";
import { boundMachine } from "./bound-machine";
import type { Heard } from "./heard";
import type { LevelFloor } from "./level-floor";
import { spreadOrder } from "./spread-order";
import type { StateTree } from "./state-tree";

/** Rounds after which it is said what is known. */
const ROUNDS = 24;
/** Products of this many, or one over it, may have lost digits: such nodes are looked at otherwise. */
const LARGE = 1e250;
/** What a quarter of the frequencies alone lets expect to be less than this share of what is enough isn't looked at further. */
const HOPELESS = 0.5;
/** No node. */
const NONE = 2 ** 31 - 1;

/** Bounds as `lossBound` has them, two frequencies at once. */
export interface VectorBound {
  /**
   * ln²: what no choice of states below the nodes undercuts, limits of load aside; Infinity where all are too quiet; undefined where it can't be told like this. Above `enough` any such value will do;
   * with `hasty`, and where little of it is to be expected, below it too.
   */
  readonly below: (nodes: Int32Array, at: number, enough: number, hasty: boolean) => number | undefined;
}

/** By the machine's vectors; undefined where there are none, some places have a stated level and others don't, or there are too many numbers. */
export function vectorBound(
  { points: n, weights, fixed, perVolt, constant, beside, source, constantAdmittance, loads, enclosedLoads }: Heard,
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
  floor: LevelFloor,
): VectorBound | undefined {
  const [G, K] = [tables.length, weights.length];
  const channelsOf = tables.map(({ channels }) => channels.length);
  const C = channelsOf.reduce((sum, own) => sum + own, 0);
  const stated = fixed.every((is) => is);
  if (n === 0 || C === 0 || (!stated && fixed.some((is) => is))) return undefined;
  const shape: BoundShape = { channels: C, branches: G, places: K, source: source !== undefined, beside: beside !== undefined };
  const machine = boundMachine(shape);
  if (machine === undefined) return undefined;
  const pairs = (n + 1) >> 1;
  const [ownConstants, ownNodes] = [2 * constantVectors(shape), 2 * nodeVectors(shape)];
  // In numbers, not in bytes.
  const constants = HEAD.products / 8 + 2 * K;
  const nodesAt = constants + pairs * ownConstants;
  const intervals = nodesAt + pairs * ownNodes;
  const logs = intervals + pairs * 4 * K;
  const shares = logs + pairs * 4 * K;
  if (!machine.ensure(8 * (shares + pairs * 2 * K))) return undefined;
  const order = spreadOrder(n);
  /** The frequency at each place; an odd one out stands twice, and counts once. */
  const frequencyAt = Int32Array.from({ length: 2 * pairs }, (_, turn) => order[Math.min(turn, n - 1)]!);
  const laid = new Float64Array(pairs * ownConstants);
  for (let turn = 0; turn < 2 * pairs; turn++) {
    const f = frequencyAt[turn]!;
    let at = (turn >> 1) * ownConstants + (turn & 1);
    const put = (value: number) => {
      laid[at] = value;
      at += 2;
    };
    const putPair = (numbers: Float64Array, i: number) => {
      put(numbers[2 * i]!);
      put(numbers[2 * i + 1]!);
    };
    const size = (numbers: Float64Array, i: number) => Math.hypot(numbers[2 * i]!, numbers[2 * i + 1]!) * (1 + 1e-15);
    if (source !== undefined) {
      const [re, im] = [source.re[f]!, source.im[f]!];
      [re, im, Math.sqrt(re * re + im * im) * (1 + 1e-12)].forEach(put);
      putPair(constantAdmittance, f);
    }
    for (let k = 0; k < K; k++) {
      const i = f * K + k;
      putPair(constant, i);
      if (beside !== undefined) {
        putPair(beside, i);
        put(size(beside, i));
      }
      for (let c = 0; c < C; c++) {
        putPair(perVolt, i * C + c);
        put(size(perVolt, i * C + c));
      }
    }
  }
  const laidShares = new Float64Array(pairs * 2 * K);
  for (let turn = 0; turn < n; turn++) for (let k = 0; k < K; k++) laidShares[2 * ((turn >> 1) * K + k) + (turn & 1)] = weights[k]! / n;
  const own = {};
  let memory = machine.memory();
  /** Which node of each branch stands in the memory. */
  const standing = new Int32Array(G);
  const take = () => {
    machine.owner = own;
    memory = machine.memory();
    memory.set(laid, constants);
    memory.set(laidShares, shares);
    standing.fill(NONE);
  };
  const widths = Int32Array.from(tables, ({ width }) => width);
  const treeWidths = widths.map((width) => width - loads + enclosedLoads);
  const firstChannel = Int32Array.from(channelsOf, (_, g) => channelsOf.slice(0, g).reduce((sum, one) => sum + one, 0));
  const zero = new Float64Array(Math.max(...widths));
  const copy = (g: number, node: number): void => {
    standing[g] = node;
    const leaf = node < 0;
    const numbers = leaf ? tables[g]!.table : trees[g]!.centres;
    const spreads = leaf ? zero : trees[g]!.radii;
    const first = leaf ? (-1 - node) * 2 * widths[g]! : node * 2 * treeWidths[g]!;
    const firstSpread = leaf ? 0 : node * treeWidths[g]!;
    const rows = channelsOf[g]! + (shape.source ? 1 : 0);
    for (let row = 0; row < rows; row++) {
      const to = nodesAt + 6 * (row === channelsOf[g] ? C + g : firstChannel[g]! + row);
      const [from, fromSpread] = [first + 2 * row * n, firstSpread + row * n];
      for (let turn = 0; turn < 2 * pairs; turn++) {
        const f = frequencyAt[turn]!;
        const at = to + (turn >> 1) * ownNodes + (turn & 1);
        memory[at] = numbers[from + 2 * f]!;
        memory[at + 2] = numbers[from + 2 * f + 1]!;
        memory[at + 4] = spreads[fromSpread + f]!;
      }
    }
  };
  const sumOf = (bytes: number) => memory[bytes >> 3]! + memory[(bytes >> 3) + 1]!;
  const pullAt = (level: number, heard: number): void => {
    memory[HEAD.level >> 3] = level;
    machine.pull(8 * logs, 8 * shares, 8 * (logs + heard * 4 * K));
  };
  /** Whether some ends lay so far off that they counted as nearer, when a bound was last asked for. */
  let far = false;
  /** The bound of the first pairs of frequencies. */
  const missed = (heard: number, enough: number): number => {
    const tallest = Math.max(memory[HEAD.tallest >> 3]!, memory[(HEAD.tallest >> 3) + 1]!);
    const lowest = Math.min(memory[HEAD.lowest >> 3]!, memory[(HEAD.lowest >> 3) + 1]!);
    far = !(lowest > 0 && tallest < Infinity);
    if (far || (stated ? tallest <= 1 && lowest >= 1 : tallest <= lowest)) return 0;
    const reference = stated ? 1 : Math.sqrt(tallest * lowest);
    far = tallest > 2 * reference || 2 * lowest < reference;
    memory[HEAD.reference >> 3] = reference;
    machine.logarithms(8 * intervals, 8 * logs, 8 * (intervals + heard * 4 * K));
    if (stated) {
      pullAt(0, heard);
      return sumOf(HEAD.value);
    }
    let most = Math.min(Math.LN2, Math.log(tallest / reference));
    let least = -most;
    let level = 0;
    for (let round = 0; ; round++) {
      pullAt(level, heard);
      const [value, slope, curvature] = [sumOf(HEAD.value), -2 * sumOf(HEAD.slope), sumOf(HEAD.curvature)];
      if (slope > 0) most = level;
      else least = level;
      // A convex function lies above its tangents: at most the slope times the bracket is to be gained.
      const left = Math.abs(slope) * (most - least);
      const bound = value > left ? value - left : 0;
      if (bound >= enough || (value < enough && round > 0) || round === ROUNDS) return bound;
      const next = curvature > 0 ? level - slope / (2 * curvature) : level;
      if (Math.abs(next - level) < 1e-9) return bound;
      level = next > least && next < most ? next : (least + most) / 2;
    }
  };
  /** Whether the first pairs of frequencies, as far as they go, tell that all is too quiet; undefined where products have lost digits. */
  const tooQuiet = (heard: number): boolean | undefined => {
    floor.begin();
    for (let k = 0; k < K; k++) {
      const first = (HEAD.products >> 3) + 2 * k;
      const [even, odd] = [memory[first]!, memory[first + 1]!];
      const twice = heard === pairs && n & 1 ? memory[intervals + 4 * ((pairs - 1) * K + k) + 3]! : 1;
      for (const one of [even, odd, twice]) if (!(one < LARGE && one > 1 / LARGE)) return undefined;
      floor.hear(k, even ** (pairs / heard));
      floor.hear(k, (odd / twice) ** (pairs / heard));
    }
    return floor.broken();
  };
  const quarter = n >= 12 ? (n + 3) >> 3 : 0;
  const half = quarter * 2;
  const hear = (from: number, to: number) =>
    machine.hear(
      8 * (constants + from * ownConstants),
      8 * (nodesAt + from * ownNodes),
      8 * (intervals + from * 4 * K),
      8 * (intervals + to * 4 * K),
    );
  return {
    below(nodes, at, enough, hasty) {
      if (machine.owner !== own) take();
      for (let g = 0; g < G; g++) if (standing[g] !== nodes[at + g]) copy(g, nodes[at + g]!);
      memory[HEAD.tallest >> 3] = memory[(HEAD.tallest >> 3) + 1] = 0;
      memory[HEAD.lowest >> 3] = memory[(HEAD.lowest >> 3) + 1] = Infinity;
      for (let i = 0; i < 2 * K; i++) memory[(HEAD.products >> 3) + i] = 1;
      if (quarter > 0) {
        hear(0, quarter);
        const some = missed(quarter, enough);
        if (some >= enough || (hasty && (some * pairs) / quarter < HOPELESS * enough && !(floor.held && tooQuiet(quarter) !== false)))
          return some;
        hear(quarter, half);
        const more = missed(half, enough);
        if (more >= enough) return more;
      }
      hear(half, pairs);
      if (floor.held) {
        const quiet = tooQuiet(pairs);
        if (quiet !== false) return quiet ? Infinity : undefined;
      }
      const all = missed(pairs, enough);
      return far && all < enough ? undefined : all;
    },
  };
}
