import { GND, IN, type Circuit } from "../circuit";
import { coilGroups, type CoilGroup } from "../coupled-coils";
import { structure } from "../diagnose";
import { leastIndependence } from "../positive-definite";
import { branchState } from "../state";

/** One thing that fills the admittance between two merged nodes. */
export type Contribution =
  | { readonly kind: "branch"; readonly branch: number }
  /** Entry (row, column) of the inverse impedance matrix of a group of coupled coils, added or subtracted. */
  | { readonly kind: "coils"; readonly group: number; readonly row: number; readonly column: number; readonly negative: boolean };

/** The structure of a circuit in one frequency class: what the elimination of its nodes looks like, without numbers. */
export interface Elimination {
  readonly circuit: Circuit;
  readonly zeroFrequency: boolean;
  /** For each node the representative of those merged with it by 0 Ω. */
  readonly rootOf: Int32Array;
  /** Merged nodes in the order of their elimination; `in` and `gnd` are never eliminated. */
  readonly order: readonly number[];
  /** Place in `order` by node; `in` and `gnd` come last. */
  readonly rank: Int32Array;
  /** For each step: the neighbours that the eliminated node has by then. */
  readonly neighbours: readonly (readonly number[])[];
  /** What lies between each pair of merged nodes at the start, by `pairKey`. */
  readonly pairs: ReadonlyMap<number, readonly Contribution[]>;
  readonly coils: readonly CoilGroup[];
  /** Of the ideal transformers, by number. */
  readonly ratios: Float64Array;
  /** An ideal transformer, or coils too tightly coupled to be inverted: every frequency needs the dense solver. */
  readonly dense: boolean;
}

/** One number for an unordered pair of nodes. */
export function pairKey(a: number, b: number): number {
  return a < b ? b * 65_536 + a : a * 65_536 + b;
}

/** Independence (1 − k² of a pair; k = 0.95) below which so many digits are lost that the coils' matrix is not inverted but solved by rows. */
const LEAST_INVERTED = 1 - 0.95 ** 2;

/** Merges what 0 Ω joins and finds the order of elimination: always the node with the fewest neighbours, then the least fill. */
export function eliminationOf(circuit: Circuit, zeroFrequency: boolean): Elimination {
  const { shorts } = structure(circuit, zeroFrequency);
  const count = circuit.nodes.length;
  const rootOf = Int32Array.from({ length: count }, (_, node) => shorts.find(node));
  const coils = zeroFrequency ? [] : coilGroups(circuit);
  const coupled = new Set(coils.flatMap((group) => group.branches));
  const pairs = new Map<number, Contribution[]>();
  const put = (a: number, b: number, contribution: Contribution) => {
    if (rootOf[a] === rootOf[b]) return;
    const key = pairKey(rootOf[a]!, rootOf[b]!);
    const list = pairs.get(key);
    if (list === undefined) pairs.set(key, [contribution]);
    else list.push(contribution);
  };
  circuit.branches.forEach((branch, index) => {
    if (!coupled.has(index) && branchState(branch, zeroFrequency) === "finite")
      put(branch.from, branch.to, { kind: "branch", branch: index });
  });
  coils.forEach((group, number) => putCoils(circuit, rootOf, group, number, put));

  const { order, rank, neighbours } = minimumDegree(count, rootOf, pairs.keys());
  const ratios = Float64Array.from(circuit.transformers, ({ ratio }) => ratio);
  const dense = ratios.length > 0 || coils.some(isTight);
  return { circuit, zeroFrequency, rootOf, order, rank, neighbours, pairs, coils, ratios, dense };
}

/** Whether coils are so tightly coupled that their matrix loses too many digits when it is inverted. */
export function isTight({ factors, branches }: CoilGroup): boolean {
  return leastIndependence(factors, branches.length) < LEAST_INVERTED;
}

/**
 * Coupled coils as branches: with Y the inverse of R + jωM, coil i carries Σ Y_ij (V_from(j) − V_to(j)). The mutual terms
 * are admittances across the four corners, two of them negative.
 */
function putCoils(
  circuit: Circuit,
  rootOf: Int32Array,
  group: CoilGroup,
  number: number,
  put: (a: number, b: number, contribution: Contribution) => void,
): void {
  // A coil bridged by 0 Ω has no voltage: it shows in the others' inverse alone, its own terms would add and subtract the same.
  const live = (branch: number) => rootOf[circuit.branches[branch]!.from] !== rootOf[circuit.branches[branch]!.to];
  group.branches.forEach((first, row) => {
    if (!live(first)) return;
    const a = circuit.branches[first]!;
    put(a.from, a.to, { kind: "coils", group: number, row, column: row, negative: false });
    for (let column = row + 1; column < group.branches.length; column++) {
      if (!live(group.branches[column]!)) continue;
      const b = circuit.branches[group.branches[column]!]!;
      const at = { kind: "coils", group: number, row, column } as const;
      put(a.from, b.from, { ...at, negative: true });
      put(a.to, b.to, { ...at, negative: true });
      put(a.from, b.to, { ...at, negative: false });
      put(a.to, b.from, { ...at, negative: false });
    }
  });
}

function minimumDegree(count: number, rootOf: Int32Array, keys: Iterable<number>) {
  const adjacent: Set<number>[] = Array.from({ length: count }, () => new Set());
  for (const key of keys) {
    const [a, b] = [key % 65_536, Math.floor(key / 65_536)];
    adjacent[a]!.add(b);
    adjacent[b]!.add(a);
  }
  const waiting = new Set<number>();
  for (let node = 2; node < count; node++) if (rootOf[node] === node && adjacent[node]!.size > 0) waiting.add(node);
  const order: number[] = [];
  const neighbours: number[][] = [];
  const rank = new Int32Array(count).fill(-1);
  while (waiting.size > 0) {
    let best = -1;
    let bestCost = Infinity;
    for (const node of waiting) {
      const degree = adjacent[node]!.size;
      if (degree * 1e6 >= bestCost + 1e6) continue;
      const cost = degree * 1e6 + (degree <= 2 ? 0 : missingPairs(adjacent, node));
      if (cost < bestCost) [best, bestCost] = [node, cost];
    }
    const around = [...adjacent[best]!];
    for (const a of around) {
      adjacent[a]!.delete(best);
      for (const b of around) if (a !== b) adjacent[a]!.add(b);
    }
    rank[best] = order.push(best) - 1;
    neighbours.push(around);
    waiting.delete(best);
  }
  rank[IN] = order.length;
  rank[GND] = order.length + 1;
  return { order, rank, neighbours };
}

function missingPairs(adjacent: readonly Set<number>[], node: number): number {
  let missing = 0;
  for (const a of adjacent[node]!) for (const b of adjacent[node]!) if (a < b && !adjacent[a]!.has(b)) missing++;
  return missing;
}
