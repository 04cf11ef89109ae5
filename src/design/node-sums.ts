import type { BranchTable } from "./branch-table";
import { SLACK, type Heard } from "./heard";
import type { StateTree } from "./state-tree";

/** What nodes of all branches have together. */
export interface NodeSums {
  /** By channel: where its numbers (re and im in turn) and its radii stand, in which array from where on. */
  readonly voltages: readonly Float64Array[];
  readonly voltagesAt: Int32Array;
  readonly radii: readonly Float64Array[];
  readonly radiiAt: Int32Array;
  /** Takes one node of each branch, or single states, written −1 − state; true where all are single states. */
  readonly place: (nodes: Int32Array, at: number) => boolean;
  /** Whether every choice among what was placed draws more than the load may. */
  readonly overloaded: () => boolean;
  /** The largest admittance of what was placed at the loads that trees enclose, over the largest allowed. */
  readonly overload: () => number;
  /** Writes 1 + Z·Y at a frequency, the source's impedance times all input admittances: re, im, radius. */
  readonly throughSource: (f: number, behind: Float64Array) => void;
}

/** The sums over the nodes of some branches: of their centres and of their radii. */
export function nodeSums(
  { points: n, source, constantAdmittance, loads, enclosedLoads, largestAdmittance }: Heard,
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
): NodeSums {
  const G = tables.length;
  const [widths, treeWidths] = [tables.map(({ width }) => width), tables.map(({ width }) => width - loads + enclosedLoads)];
  const zero = new Float64Array(Math.max(1, ...widths));
  // Of each branch: where the numbers of its node stand.
  const arrays: Float64Array[] = tables.map(({ table }) => table);
  const spreads: Float64Array[] = tables.map(() => zero);
  const [arrayAt, spreadAt] = [new Int32Array(G), new Int32Array(G)];
  const sourceAt = Int32Array.from(tables, ({ channels }) => channels.length * n);
  const loadAt = Int32Array.from(widths, (width) => width - loads);
  const branchOf = Int32Array.from(tables.flatMap(({ channels }, g) => channels.map(() => g)));
  const placeOf = Int32Array.from(tables.flatMap(({ channels }) => channels.map((_, c) => c * n)));
  const C = branchOf.length;
  const [voltages, radii]: [Float64Array[], Float64Array[]] = [Array.from(branchOf, () => zero), Array.from(branchOf, () => zero)];
  const [voltagesAt, radiiAt] = [new Int32Array(C), new Int32Array(C)];
  const cut = largestAdmittance * (1 + SLACK);
  const firstLoad = constantAdmittance.length - 2 * loads;
  let held = loads;
  return {
    voltages,
    voltagesAt,
    radii,
    radiiAt,
    place(nodes, at) {
      let single = true;
      for (let g = 0; g < G; g++) {
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
      for (let c = 0; c < C; c++) {
        const g = branchOf[c]!;
        voltages[c] = arrays[g]!;
        voltagesAt[c] = arrayAt[g]! + 2 * placeOf[c]!;
        radii[c] = spreads[g]!;
        radiiAt[c] = spreadAt[g]! + placeOf[c]!;
      }
      held = single ? loads : enclosedLoads;
      return single;
    },
    overloaded() {
      for (let j = 0; j < held; j++) {
        let re = constantAdmittance[firstLoad + 2 * j]!;
        let im = constantAdmittance[firstLoad + 2 * j + 1]!;
        let r = 0;
        for (let g = 0; g < G; g++) {
          const at = loadAt[g]! + j;
          const array = arrays[g]!;
          re += array[arrayAt[g]! + 2 * at]!;
          im += array[arrayAt[g]! + 2 * at + 1]!;
          r += spreads[g]![spreadAt[g]! + at]!;
        }
        if (re * re + im * im > (cut + r) * (cut + r)) return true;
      }
      return false;
    },
    overload() {
      let most = 0;
      for (let j = 0; j < enclosedLoads; j++) {
        let re = constantAdmittance[firstLoad + 2 * j]!;
        let im = constantAdmittance[firstLoad + 2 * j + 1]!;
        for (let g = 0; g < G; g++) {
          const at = arrayAt[g]! + 2 * (loadAt[g]! + j);
          re += arrays[g]![at]!;
          im += arrays[g]![at + 1]!;
        }
        most = Math.max(most, re * re + im * im);
      }
      return Math.sqrt(most) / largestAdmittance;
    },
    throughSource(f, behind) {
      let re = constantAdmittance[2 * f]!;
      let im = constantAdmittance[2 * f + 1]!;
      let r = 0;
      for (let g = 0; g < G; g++) {
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
    },
  };
}

/** |p| per volt of each channel at each place, widened by its rounding. */
export function magnitudes(pairs: Float64Array): Float64Array {
  return Float64Array.from({ length: pairs.length >> 1 }, (_, i) => Math.hypot(pairs[2 * i]!, pairs[2 * i + 1]!) * (1 + 1e-15));
}
