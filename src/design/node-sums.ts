import type { BranchTable } from "./branch-table";
import { SLACK, type Heard } from "./heard";
import type { StateTree } from "./state-tree";

/** What nodes of all branches have together: the sums of their centres and of their radii. */
export class NodeSums {
  /** By channel: where its numbers (re and im in turn) and its radii stand, in which array from where on. */
  readonly voltages: Float64Array[];
  readonly voltagesAt: Int32Array;
  readonly radii: Float64Array[];
  readonly radiiAt: Int32Array;
  private readonly heard: Heard;
  private readonly tables: readonly BranchTable[];
  private readonly trees: readonly StateTree[];
  private readonly zero: Float64Array;
  // Of each branch: where the numbers of its node stand.
  private readonly arrays: Float64Array[];
  private readonly spreads: Float64Array[];
  private readonly arrayAt: Int32Array;
  private readonly spreadAt: Int32Array;
  private readonly widths: Int32Array;
  private readonly treeWidths: Int32Array;
  private readonly sourceAt: Int32Array;
  private readonly loadAt: Int32Array;
  private readonly branchOf: Int32Array;
  private readonly placeOf: Int32Array;
  private held: number;

  constructor(heard: Heard, tables: readonly BranchTable[], trees: readonly StateTree[]) {
    const { points: n, loads, enclosedLoads } = heard;
    [this.heard, this.tables, this.trees, this.held] = [heard, tables, trees, loads];
    this.widths = Int32Array.from(tables, ({ width }) => width);
    this.treeWidths = this.widths.map((width) => width - loads + enclosedLoads);
    this.zero = new Float64Array(Math.max(1, ...this.widths));
    this.arrays = tables.map(({ table }) => table);
    this.spreads = tables.map(() => this.zero);
    [this.arrayAt, this.spreadAt] = [new Int32Array(tables.length), new Int32Array(tables.length)];
    this.sourceAt = Int32Array.from(tables, ({ channels }) => channels.length * n);
    this.loadAt = this.widths.map((width) => width - loads);
    this.branchOf = Int32Array.from(tables.flatMap(({ channels }, g) => channels.map(() => g)));
    this.placeOf = Int32Array.from(tables.flatMap(({ channels }) => channels.map((_, c) => c * n)));
    const C = this.branchOf.length;
    this.voltages = Array.from(this.branchOf, () => this.zero);
    this.radii = Array.from(this.branchOf, () => this.zero);
    [this.voltagesAt, this.radiiAt] = [new Int32Array(C), new Int32Array(C)];
  }

  /** Takes one node of each branch, or single states, written −1 − state; true where all are single states. */
  place(nodes: Int32Array, at: number): boolean {
    const { tables, trees, arrays, spreads, arrayAt, spreadAt, widths, treeWidths, zero, branchOf, placeOf } = this;
    let single = true;
    for (let g = 0; g < tables.length; g++) {
      const node = nodes[at + g]!;
      if (node < 0) {
        arrays[g] = tables[g]!.table;
        arrayAt[g] = (-1 - node) * 2 * widths[g]!;
        spreads[g] = zero;
        spreadAt[g] = 0;
      } else {
        single = false;
        arrays[g] = trees[g]!.centres;
        arrayAt[g] = node * 2 * treeWidths[g]!;
        spreads[g] = trees[g]!.radii;
        spreadAt[g] = node * treeWidths[g]!;
      }
    }
    for (let c = 0; c < branchOf.length; c++) {
      const g = branchOf[c]!;
      this.voltages[c] = arrays[g]!;
      this.voltagesAt[c] = arrayAt[g]! + 2 * placeOf[c]!;
      this.radii[c] = spreads[g]!;
      this.radiiAt[c] = spreadAt[g]! + placeOf[c]!;
    }
    this.held = single ? this.heard.loads : this.heard.enclosedLoads;
    return single;
  }

  /** Whether every choice among what was placed draws more than the load may. */
  overloaded(): boolean {
    const { arrays, arrayAt, spreads, spreadAt, loadAt } = this;
    const { constantAdmittance, loads, largestAdmittance } = this.heard;
    const cut = largestAdmittance * (1 + SLACK);
    const firstLoad = constantAdmittance.length - 2 * loads;
    for (let j = 0; j < this.held; j++) {
      let re = constantAdmittance[firstLoad + 2 * j]!;
      let im = constantAdmittance[firstLoad + 2 * j + 1]!;
      let r = 0;
      for (let g = 0; g < arrays.length; g++) {
        const at = loadAt[g]! + j;
        const array = arrays[g]!;
        re += array[arrayAt[g]! + 2 * at]!;
        im += array[arrayAt[g]! + 2 * at + 1]!;
        r += spreads[g]![spreadAt[g]! + at]!;
      }
      if (re * re + im * im > (cut + r) * (cut + r)) return true;
    }
    return false;
  }

  /** The largest admittance of what was placed at the loads that trees enclose, over the largest allowed. */
  overload(): number {
    const { arrays, arrayAt, loadAt } = this;
    const { constantAdmittance, loads, enclosedLoads, largestAdmittance } = this.heard;
    const firstLoad = constantAdmittance.length - 2 * loads;
    let most = 0;
    for (let j = 0; j < enclosedLoads; j++) {
      let re = constantAdmittance[firstLoad + 2 * j]!;
      let im = constantAdmittance[firstLoad + 2 * j + 1]!;
      for (let g = 0; g < arrays.length; g++) {
        const at = arrayAt[g]! + 2 * (loadAt[g]! + j);
        re += arrays[g]![at]!;
        im += arrays[g]![at + 1]!;
      }
      most = Math.max(most, re * re + im * im);
    }
    return Math.sqrt(most) / largestAdmittance;
  }

  /** Writes 1 + Z·Y at a frequency, the source's impedance times all input admittances: re, im, radius. */
  throughSource(f: number, behind: Float64Array): void {
    const { arrays, arrayAt, spreads, spreadAt, sourceAt } = this;
    const { constantAdmittance, source } = this.heard;
    let re = constantAdmittance[2 * f]!;
    let im = constantAdmittance[2 * f + 1]!;
    let r = 0;
    for (let g = 0; g < arrays.length; g++) {
      const at = sourceAt[g]! + f;
      const array = arrays[g]!;
      re += array[arrayAt[g]! + 2 * at]!;
      im += array[arrayAt[g]! + 2 * at + 1]!;
      r += spreads[g]![spreadAt[g]! + at]!;
    }
    const zr = source!.re[f]!;
    const zi = source!.im[f]!;
    behind[0] = 1 + zr * re - zi * im;
    behind[1] = zr * im + zi * re;
    behind[2] = r * Math.sqrt(zr * zr + zi * zi) * (1 + 1e-12);
  }
}

/** |p| per volt of each channel at each place, widened by its rounding. */
export function magnitudes(pairs: Float64Array): Float64Array {
  return Float64Array.from({ length: pairs.length >> 1 }, (_, i) => Math.hypot(pairs[2 * i]!, pairs[2 * i + 1]!) * (1 + 1e-15));
}
