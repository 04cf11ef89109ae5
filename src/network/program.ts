import { GND, IN } from "./circuit";
import { pairKey, type Elimination } from "./elimination";
import { OP } from "./kernels/operations";

/**
 * Operations beside those of the machine, replaced when the program is laid out in memory: here d, a and b are slots,
 * a is the index of a branch (fill) or of a table of coupled coils, and d is the index of an output (out).
 */
export const FILL = 100;
export const FILL_ADD = 101;
export const COILS = 102;

/** A program and the memory it needs. */
export interface Program {
  /** Groups of four: operation, target, a, b. */
  readonly code: Int32Array;
  readonly slots: number;
  /** Outputs that are the same at every frequency: 0, 1 or −1. */
  readonly constants: ReadonlyMap<number, number>;
}

/** What a program is asked for: output 0 is the admittance between `in` and `gnd`, the others are V(a) − V(b) per volt at `in`. */
export type OutputPair = readonly [a: number, b: number];

/**
 * Writes the star–mesh elimination as a program. Eliminating a node k with branch admittances y_i to its neighbours
 * replaces them by a mesh y_ij += y_i·y_j/Σy, which only adds: nothing cancels that the circuit itself doesn't cancel.
 * On the way back V_k − V_o = Σ m_j (V_j − V_o) with m_j = y_j/Σy, for whichever node o is asked for, so that the small
 * voltage across a small resistance is never the difference of two large ones.
 */
export function programFor(elimination: Elimination, outputs: readonly OutputPair[]): Program {
  const { order, neighbours, rank, rootOf, pairs, coils } = elimination;
  const code: number[] = [];
  const emit = (operation: number, target: number, a = 0, b = 0) => code.push(operation, target, a, b);
  const free: number[] = [];
  let slots = 0;
  const take = () => free.pop() ?? slots++;

  const demand = demandFor(elimination, outputs);

  const slotOf = new Map<number, number>();
  let tables = 0;
  const coilTables = coils.map(({ branches }) => {
    const first = tables;
    tables += triangle(branches.length);
    return first;
  });
  for (const [key, contributions] of pairs) {
    const slot = take();
    slotOf.set(key, slot);
    contributions.forEach((contribution, index) => {
      if (contribution.kind === "branch") return emit(index === 0 ? FILL : FILL_ADD, slot, contribution.branch);
      const { group, row, column, negative } = contribution;
      const table = coilTables[group]! + triangleIndex(coils[group]!.branches.length, row, column);
      const extra = take();
      emit(COILS, extra, table);
      emit(index === 0 ? (negative ? OP.negate : OP.move) : negative ? OP.subtract : OP.add, slot, extra);
      free.push(extra);
    });
  }

  // Forward: star to mesh, node by node.
  const ratios: number[][] = [];
  order.forEach((node, step) => {
    const around = neighbours[step]!;
    const y = around.map((other) => slotOf.get(pairKey(node, other))!);
    if (around.length === 1) {
      free.push(y[0]!);
      ratios.push([]);
      return;
    }
    const needed = demand.byNode.has(node);
    if (around.length === 2) {
      const key = pairKey(around[0]!, around[1]!);
      const present = slotOf.get(key);
      const target = present ?? take();
      slotOf.set(key, target);
      emit(present === undefined ? (needed ? OP.starKeep : OP.star) : needed ? OP.starAddKeep : OP.starAdd, target, y[0], y[1]);
      if (!needed) free.push(...y);
      ratios.push(needed ? y : []);
      return;
    }
    const total = take();
    emit(OP.sum, total, y[0], y[1]);
    for (let i = 2; i < y.length; i++) emit(OP.add, total, y[i]);
    emit(OP.reciprocal, total, total);
    for (let i = 0; i < y.length; i++) {
      if (i === y.length - 1 && !needed) break;
      emit(OP.ratio, y[i]!, y[i], total);
      for (let j = i + 1; j < y.length; j++) {
        const key = pairKey(around[i]!, around[j]!);
        const target = slotOf.get(key);
        if (target !== undefined) emit(OP.multiplyAdd, target, y[i], y[j]);
        else {
          const fresh = take();
          slotOf.set(key, fresh);
          emit(OP.multiply, fresh, y[i], y[j]);
        }
      }
    }
    free.push(total);
    if (!needed) free.push(...y);
    ratios.push(needed ? y : []);
  });
  const input = slotOf.get(pairKey(IN, GND));
  const constants = new Map<number, number>();
  if (input === undefined) constants.set(0, 0);
  else emit(OP.out, 0, input);

  // Backward: voltages between pairs, from the last node eliminated to the first.
  const found = new Map<number, { readonly slot: number; readonly sign: 1 | -1 }>();
  for (let step = order.length - 1; step >= 0; step--) {
    const node = order[step]!;
    const others = demand.byNode.get(node);
    if (others === undefined) continue;
    const around = neighbours[step]!;
    for (const other of others) {
      const key = pairKey(node, other);
      if (around.length === 1) {
        const only = around[0]!;
        if (only !== other) found.set(key, voltage(only, other));
        continue;
      }
      const target = take();
      let fresh = true;
      around.forEach((neighbour, index) => {
        if (neighbour === other) return;
        const ratio = ratios[step]![index]!;
        const { slot, sign } = voltage(neighbour, other);
        if (slot === ONE) emit(fresh ? (sign > 0 ? OP.move : OP.negate) : sign > 0 ? OP.add : OP.subtract, target, ratio);
        else if (slot !== NOTHING) emit(fresh ? (sign > 0 ? OP.multiply : OP.multiplyNegate) : sign > 0 ? OP.multiplyAdd : OP.multiplySubtract, target, ratio, slot);
        if (slot !== NOTHING) fresh = false;
      });
      if (fresh) {
        free.push(target);
        found.set(key, { slot: NOTHING, sign: 1 });
      } else found.set(key, { slot: target, sign: 1 });
    }
    free.push(...ratios[step]!);
  }

  /** V(a) − V(b), as a slot and a sign. */
  function voltage(a: number, b: number): { readonly slot: number; readonly sign: 1 | -1 } {
    if (a === b) return { slot: NOTHING, sign: 1 };
    const flip = rank[a]! > rank[b]!;
    const [first, second] = flip ? [b, a] : [a, b];
    const base = first === IN && second === GND ? ({ slot: ONE, sign: 1 } as const) : (found.get(pairKey(first, second)) ?? { slot: NOTHING, sign: 1 as const });
    return flip ? { slot: base.slot, sign: base.sign === 1 ? -1 : 1 } : base;
  }

  outputs.forEach(([a, b], index) => {
    const { slot, sign } = voltage(rootOf[a]!, rootOf[b]!);
    if (slot === NOTHING) constants.set(index + 1, 0);
    else if (slot === ONE) constants.set(index + 1, sign);
    else emit(sign > 0 ? OP.out : OP.outNegated, index + 1, slot);
  });
  return { code: Int32Array.from(code), slots, constants };
}

/** Not slots: the voltage of the source itself, 1, and no voltage at all. */
const ONE = -1;
const NOTHING = -2;

/** Which voltages between eliminated nodes and others are needed for the outputs, and for each other. */
function demandFor({ order, neighbours, rank, rootOf }: Elimination, outputs: readonly OutputPair[]): { readonly byNode: ReadonlyMap<number, ReadonlySet<number>> } {
  const byNode = new Map<number, Set<number>>();
  const want = (a: number, b: number) => {
    if (a === b) return;
    const [node, other] = rank[a]! < rank[b]! ? [a, b] : [b, a];
    if (rank[node]! >= order.length) return;
    const others = byNode.get(node);
    if (others === undefined) byNode.set(node, new Set([other]));
    else others.add(other);
  };
  for (const [a, b] of outputs) want(rootOf[a]!, rootOf[b]!);
  order.forEach((node, step) => {
    for (const other of byNode.get(node) ?? []) for (const neighbour of neighbours[step]!) want(neighbour, other);
  });
  return { byNode };
}

/** Entries in the upper triangle of an n×n matrix, and the place of one of them, row by row. */
export function triangle(n: number): number {
  return (n * (n + 1)) / 2;
}

export function triangleIndex(n: number, row: number, column: number): number {
  return row * n - (row * (row - 1)) / 2 + (column - row);
}
