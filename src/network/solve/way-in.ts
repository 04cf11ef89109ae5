import { GND, IN } from "../circuit";
import { OP } from "../kernels/generated/operations";
import { PSEUDO, type CodeWriter } from "./code-writer";
import { pairKey, type Elimination } from "./elimination";
import type { Kept } from "./program-values";
import { triangle, triangleIndex } from "./triangle";

/** The elimination of all nodes, and where what is kept of it stands. */
export interface WayIn {
  /** Fills and eliminates, and keeps what is asked for. Returns the slot of the input admittance, if it is asked for and there is any. */
  forward(kept: Kept): number | undefined;
  /** By step: the slots of the ratios to the neighbours, where they are kept; none of a node with a single one. */
  readonly ratios: readonly (readonly number[])[];
  /** The slot of a kept 1/Σy. */
  readonly inverses: ReadonlyMap<number, number>;
  /** The slot of a kept mesh. */
  readonly meshes: ReadonlyMap<number, number>;
}

/** Writes the elimination, star to mesh: a node with branch admittances y_i becomes a mesh y_ij += y_i·y_j/Σy. */
export function wayIn({ order, neighbours, pairs, coils }: Elimination, { emit, take, release }: CodeWriter): WayIn {
  const slotOf = new Map<number, number>();
  const ratios: (readonly number[])[] = [];
  const inverses = new Map<number, number>();
  const meshes = new Map<number, number>();
  const coilTables: number[] = [];
  let tables = 0;
  for (const { branches } of coils) {
    coilTables.push(tables);
    tables += triangle(branches.length);
  }
  /** The slot of what lies between two nodes, filled when it is first spoken of: the less lies waiting, the more stays in the cache. */
  function between(a: number, b: number): number | undefined {
    const key = pairKey(a, b);
    const known = slotOf.get(key);
    const contributions = pairs.get(key);
    if (known !== undefined || contributions === undefined) return known;
    const slot = take();
    slotOf.set(key, slot);
    contributions.forEach((contribution, index) => {
      if (contribution.kind === "branch") return emit(index === 0 ? PSEUDO.fill : PSEUDO.fillAdd, slot, contribution.branch);
      const { group, row, column, negative } = contribution;
      const extra = take();
      emit(PSEUDO.coils, extra, coilTables[group]! + triangleIndex(coils[group]!.branches.length, row, column));
      emit(index === 0 ? (negative ? OP.negate : OP.move) : negative ? OP.subtract : OP.add, slot, extra);
      release(extra);
    });
    return slot;
  }

  function eliminate(node: number, step: number, kept: Kept): void {
    const keep = kept.ratios.has(node);
    const invert = kept.inverses?.has(node) === true;
    const around = neighbours[step]!;
    const y = around.map((other) => between(node, other)!);
    if (around.length === 1) {
      if (invert) {
        emit(OP.reciprocal, y[0]!, y[0]);
        inverses.set(node, y[0]!);
      } else release(y[0]!);
      ratios[step] = [];
      return;
    }
    if (around.length === 2 && !invert) {
      const present = between(around[0]!, around[1]!);
      const target = present ?? take();
      slotOf.set(pairKey(around[0]!, around[1]!), target);
      if (kept.meshes?.has(node) === true) {
        const mesh = take();
        meshes.set(node, mesh);
        emit(keep ? OP.starKeep : OP.star, mesh, y[0], y[1]);
        emit(present === undefined ? OP.move : OP.add, target, mesh);
      } else emit(present === undefined ? (keep ? OP.starKeep : OP.star) : keep ? OP.starAddKeep : OP.starAdd, target, y[0], y[1]);
    } else {
      const total = take();
      if (y.length === 2) emit(OP.reciprocalSum, total, y[0], y[1]);
      else {
        emit(OP.sum, total, y[0], y[1]);
        for (let i = 2; i < y.length; i++) emit(OP.add, total, y[i]);
        emit(OP.reciprocal, total, total);
      }
      for (let i = 0; i < y.length; i++) {
        const last = i === y.length - 1;
        if (last && !keep) break;
        // The last ratio counts for the growth nowhere, or a point's suspicion would depend on what else is asked for.
        emit(last ? OP.multiply : OP.ratio, y[i]!, y[i], total);
        for (let j = i + 1; j < y.length; j++) {
          if (kept.admittance !== true && Math.max(around[i]!, around[j]!) <= GND) continue;
          const target = between(around[i]!, around[j]!);
          const fresh = target ?? take();
          slotOf.set(pairKey(around[i]!, around[j]!), fresh);
          emit(target === undefined ? OP.multiply : OP.multiplyAdd, fresh, y[i], y[j]);
        }
      }
      if (invert) inverses.set(node, total);
      else release(total);
    }
    if (!keep) release(...y);
    ratios[step] = keep ? y : [];
  }

  return {
    forward(kept) {
      order.forEach((node, step) => eliminate(node, step, kept));
      return kept.admittance === true ? between(IN, GND) : undefined;
    },
    ratios,
    inverses,
    meshes,
  };
}
