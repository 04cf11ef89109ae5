import { HEAD, type BoundShape } from "./bound-kernels";
import { boundMachine, type BoundMachine } from "./bound-machine";
import type { BranchTable } from "./branch-table";
import type { Heard } from "./heard";
import type { LevelFloor } from "./level-floor";
import type { StateTree } from "./state-tree";
import { vectorLayout, type Laid } from "./vector-layout";

/** Rounds after which it is said what is known. */
const ROUNDS = 24;
/** Products of this many, or one over it, may have lost digits: such nodes are looked at otherwise. */
const LARGE = 1e250;
/** No node. */
const NONE = 2 ** 31 - 1;

/** Bounds as `PlainLossBound` has them, two frequencies at once. */
export class VectorBound {
  private readonly machine: BoundMachine;
  private readonly laid: Laid;
  private readonly tables: readonly BranchTable[];
  private readonly trees: readonly StateTree[];
  private readonly floor: LevelFloor;
  /** By what the machine knows it: the machine outlives a search, whose tables must not stay with it. */
  private readonly name = {};
  private memory: Float64Array;
  /** Which node of each branch stands in the memory. */
  private readonly standing: Int32Array;
  private readonly zero: Float64Array;
  /** Whether some ends lay so far off that they counted as nearer, when a bound was last asked for. */
  private far = false;

  constructor(machine: BoundMachine, laid: Laid, tables: readonly BranchTable[], trees: readonly StateTree[], floor: LevelFloor) {
    [this.machine, this.laid, this.tables, this.trees, this.floor] = [machine, laid, tables, trees, floor];
    this.memory = machine.memory();
    this.standing = new Int32Array(tables.length);
    this.zero = new Float64Array(Math.max(...tables.map(({ width }) => width)));
  }

  /**
   * ln²: what no choice of states below the nodes undercuts, limits of load aside; Infinity where all are too quiet; undefined where it can't be told like this. Above `enough` any such value will do.
   */
  below(nodes: Int32Array, at: number, enough: number): number | undefined {
    const { machine, standing, floor } = this;
    const { pairs, quarter, places } = this.laid;
    if (machine.owner !== this.name) this.take();
    for (let g = 0; g < standing.length; g++) if (standing[g] !== nodes[at + g]) this.copy(g, nodes[at + g]!);
    const { memory } = this;
    memory[HEAD.tallest >> 3] = memory[(HEAD.tallest >> 3) + 1] = 0;
    memory[HEAD.lowest >> 3] = memory[(HEAD.lowest >> 3) + 1] = Infinity;
    for (let i = 0; i < 2 * places; i++) memory[(HEAD.products >> 3) + i] = 1;
    if (quarter > 0) {
      this.hear(0, quarter);
      const some = this.missed(quarter, enough);
      if (some >= enough) return some;
      this.hear(quarter, 2 * quarter);
      const more = this.missed(2 * quarter, enough);
      if (more >= enough) return more;
    }
    this.hear(2 * quarter, pairs);
    if (floor.held) {
      const quiet = this.tooQuiet();
      if (quiet !== false) return quiet ? Infinity : undefined;
    }
    const all = this.missed(pairs, enough);
    return this.far && all < enough ? undefined : all;
  }

  /** Lays out the memory as its own. */
  private take(): void {
    const { machine, laid } = this;
    machine.owner = this.name;
    this.memory = machine.memory();
    this.memory.set(laid.constants, laid.constantsAt);
    this.memory.set(laid.shares, laid.sharesAt);
    this.standing.fill(NONE);
  }

  private copy(g: number, node: number): void {
    const { memory, zero } = this;
    const { pairs, points: n, frequencyAt, nodesAt, nodeNumbers, rows, loads, enclosedLoads } = this.laid;
    const { width, table } = this.tables[g]!;
    const tree = this.trees[g]!;
    this.standing[g] = node;
    const treeWidth = width - loads + enclosedLoads;
    const leaf = node < 0;
    const numbers = leaf ? table : tree.centres;
    const spreads = leaf ? zero : tree.radii;
    const first = leaf ? (-1 - node) * 2 * width : node * 2 * treeWidth;
    const firstSpread = leaf ? 0 : node * treeWidth;
    const own = rows[g]!;
    for (let row = 0; row < own.length; row++) {
      const to = nodesAt + 6 * own[row]!;
      const from = first + 2 * row * n;
      const fromSpread = firstSpread + row * n;
      for (let turn = 0; turn < 2 * pairs; turn++) {
        const f = frequencyAt[turn]!;
        const at = to + (turn >> 1) * nodeNumbers + (turn & 1);
        memory[at] = numbers[from + 2 * f]!;
        memory[at + 2] = numbers[from + 2 * f + 1]!;
        memory[at + 4] = spreads[fromSpread + f]!;
      }
    }
  }

  /** Writes between which amplitudes some pairs of frequencies lie. */
  private hear(from: number, to: number): void {
    const { constantsAt, constantNumbers, nodesAt, nodeNumbers, intervalsAt, places } = this.laid;
    this.machine.hear(
      8 * (constantsAt + from * constantNumbers),
      8 * (nodesAt + from * nodeNumbers),
      8 * (intervalsAt + from * 4 * places),
      8 * (intervalsAt + to * 4 * places),
    );
  }

  /** The bound of the first pairs of frequencies. */
  private missed(heard: number, enough: number): number {
    const { memory, machine } = this;
    const { intervalsAt, logsAt, places, stated } = this.laid;
    const tallest = Math.max(memory[HEAD.tallest >> 3]!, memory[(HEAD.tallest >> 3) + 1]!);
    const lowest = Math.min(memory[HEAD.lowest >> 3]!, memory[(HEAD.lowest >> 3) + 1]!);
    this.far = !(lowest > 0 && tallest < Infinity);
    if (this.far || (stated ? tallest <= 1 && lowest >= 1 : tallest <= lowest)) return 0;
    const reference = stated ? 1 : Math.sqrt(tallest * lowest);
    this.far = tallest > 2 * reference || 2 * lowest < reference;
    memory[HEAD.reference >> 3] = reference;
    machine.logarithms(8 * intervalsAt, 8 * logsAt, 8 * (intervalsAt + heard * 4 * places));
    if (stated) {
      this.pullAt(0, heard);
      return this.sumOf(HEAD.value);
    }
    let most = Math.min(Math.LN2, Math.log(tallest / reference));
    let least = -most;
    let level = 0;
    for (let round = 0; ; round++) {
      this.pullAt(level, heard);
      const value = this.sumOf(HEAD.value);
      const slope = -2 * this.sumOf(HEAD.slope);
      const curvature = this.sumOf(HEAD.curvature);
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
  }

  private pullAt(level: number, heard: number): void {
    const { logsAt, sharesAt, places } = this.laid;
    this.memory[HEAD.level >> 3] = level;
    this.machine.pull(8 * logsAt, 8 * sharesAt, 8 * (logsAt + heard * 4 * places));
  }

  private sumOf(bytes: number): number {
    return this.memory[bytes >> 3]! + this.memory[(bytes >> 3) + 1]!;
  }

  /** Whether all is too quiet; undefined where products have lost digits. */
  private tooQuiet(): boolean | undefined {
    const { memory, floor } = this;
    const { pairs, points, places, intervalsAt } = this.laid;
    floor.begin();
    for (let k = 0; k < places; k++) {
      const first = (HEAD.products >> 3) + 2 * k;
      const even = memory[first]!;
      // An odd frequency out stands twice.
      const odd = memory[first + 1]! / (points & 1 ? memory[intervalsAt + 4 * ((pairs - 1) * places + k) + 3]! : 1);
      if (!(even < LARGE && even > 1 / LARGE && odd < LARGE && odd > 1 / LARGE)) return undefined;
      floor.hear(k, even);
      floor.hear(k, odd);
    }
    return floor.broken();
  }
}

/** By the machine's vectors; undefined where there are none, some places have a stated level and others don't, or there are too many numbers. */
export function vectorBound(
  heard: Heard,
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
  floor: LevelFloor,
): VectorBound | undefined {
  const { points, weights, fixed, beside, source } = heard;
  const shape: BoundShape = {
    channels: tables.reduce((sum, { channels }) => sum + channels.length, 0),
    branches: tables.length,
    places: weights.length,
    source: source !== undefined,
    beside: beside !== undefined,
  };
  if (points === 0 || shape.channels === 0 || fixed.some((is) => is !== fixed[0])) return undefined;
  const machine = boundMachine(shape);
  const laid = vectorLayout(heard, tables, shape);
  return machine?.ensure(laid.bytes) === true ? new VectorBound(machine, laid, tables, trees, floor) : undefined;
}
