import { GND, IN } from "../circuit";
import { pairKey, type Elimination } from "./elimination";
import { OP } from "../kernels/generated/operations";

/** Operations beside those of the machine, replaced when the program is laid out in memory; d is a slot. */
export const PSEUDO = {
  /** d ← admittance of branch a */
  fill: 100,
  /** d ← d + admittance of branch a */
  fillAdd: 101,
  /** d ← table a of the coupled coils */
  coils: 102,
  /** d ← a times slope table b */
  timesSlope: 103,
  /** d ← d + a times slope table b */
  timesSlopeAdd: 104,
} as const;

/** A slot with a sign, or one of the two voltages that need none. */
export interface Value {
  readonly slot: number;
  readonly sign: 1 | -1;
}

/** Not slots: the voltage of the source itself, 1, and no voltage at all. */
export const ONE = -1;
export const NOTHING = -2;
const ZERO: Value = { slot: NOTHING, sign: 1 };

/** Two nodes whose difference of voltage is asked for. */
export type OutputPair = readonly [a: number, b: number];

/** Which differences of voltage are needed for the pairs asked for, and for each other: by node, the other nodes. */
export type Demand = ReadonlyMap<number, ReadonlySet<number>>;

/** What of an elimination is needed later, by node. */
export interface Kept {
  readonly ratios: ReadonlySet<number>;
  /** 1/Σy. */
  readonly inverses?: ReadonlySet<number>;
  /** Of nodes with two neighbours that aren't inverted: what their elimination leaves between these. */
  readonly meshes?: ReadonlySet<number>;
  readonly admittance?: boolean;
}

/** A current that arrives at a node, later the voltage that it makes there; `shared`: the slot is needed by others too, and only read. */
export interface Injected {
  readonly slot: number;
  readonly shared: boolean;
}

/** The symbolic state of an elimination that is being written as a program. */
export interface ProgramBuilder {
  readonly code: number[];
  emit(operation: number, d: number, a?: number, b?: number): void;
  take(): number;
  release(...slots: readonly number[]): void;
  /** Does some work and gives back the slots that it took and still holds: what it needs later it has put out by then. */
  within(work: () => void): void;
  slots(): number;
  demand(pairs: readonly OutputPair[]): Demand;
  /** Fills and eliminates, and keeps what is asked for. Returns the slot of the input admittance, if it is asked for and there is any. */
  forward(kept: Kept): number | undefined;
  /** The slot of a kept ratio: of a node eliminated to one of its neighbours. */
  ratio(node: number, neighbour: number): number;
  /** The slot of a kept mesh. */
  mesh(node: number): number;
  /** Where currents are injected (slots by merged node; ONE where it is 1 A, and the only one), how they arrive at the nodes eliminated later. Uses the slots. */
  inject(currents: ReadonlyMap<number, number>): ReadonlyMap<number, Injected>;
  /** Voltages of all demanded differences: of the driven network (`base` ONE), or of injected currents with `in` at 0. */
  backward(demand: Demand, base: typeof ONE | typeof NOTHING, injected?: ReadonlyMap<number, Injected>): (a: number, b: number) => Value;
}

/**
 * Star–mesh elimination as a program. Eliminating a node k with branch admittances y_i to its neighbours replaces them by
 * a mesh y_ij += y_i·y_j/Σy, which only adds: nothing cancels that the circuit itself doesn't cancel. On the way back
 * V_k − V_o = I_k/Σy + Σ m_j (V_j − V_o) with m_j = y_j/Σy, for whichever node o is asked for, so that the small voltage
 * across a small resistance is never the difference of two large ones.
 */
export function programBuilder({ order, neighbours, rank, rootOf, pairs, coils }: Elimination): ProgramBuilder {
  const code: number[] = [];
  const free: number[] = [];
  let slots = 0;
  const held = new Set<number>();
  const take = () => {
    const slot = free.pop() ?? slots++;
    held.add(slot);
    return slot;
  };
  const release = (...given: readonly number[]) => {
    for (const slot of given) held.delete(slot);
    free.push(...given);
  };
  const emit = (operation: number, d: number, a = 0, b = 0) => void code.push(operation, d, a, b);
  const slotOf = new Map<number, number>();
  /** By step: the ratios to the neighbours, once the node is eliminated, where they are kept. */
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
    code,
    emit,
    take,
    release,
    within(work) {
      const before = new Set(held);
      work();
      release(...[...held].filter((slot) => !before.has(slot)));
    },
    slots: () => slots,
    demand(asked) {
      const byNode = new Map<number, Set<number>>();
      const want = (a: number, b: number) => {
        if (a === b) return;
        const [node, other] = rank[a]! < rank[b]! ? [a, b] : [b, a];
        if (rank[node]! >= order.length) return;
        const others = byNode.get(node);
        if (others === undefined) byNode.set(node, new Set([other]));
        else others.add(other);
      };
      for (const [a, b] of asked) want(rootOf[a]!, rootOf[b]!);
      order.forEach((node, step) => {
        for (const other of byNode.get(node) ?? []) for (const neighbour of neighbours[step]!) want(neighbour, other);
      });
      return byNode;
    },
    forward(kept) {
      order.forEach((node, step) => eliminate(node, step, kept));
      return kept.admittance === true ? between(IN, GND) : undefined;
    },
    ratio: (node, neighbour) => ratios[rank[node]!]![neighbours[rank[node]!]!.indexOf(neighbour)]!,
    mesh: (node) => meshes.get(node)!,
    inject(currents) {
      const at = new Map<number, Injected>();
      for (const [node, slot] of currents) at.set(node, { slot, shared: false });
      order.forEach((node, step) => {
        const current = at.get(node);
        if (current === undefined) return;
        const around = neighbours[step]!;
        around.forEach((neighbour, index) => {
          if (neighbour === IN || neighbour === GND) return;
          const ratio = around.length === 1 ? ONE : ratios[step]![index]!;
          // 1 A is the only current: nothing else arrives where its shares do.
          if (current.slot === ONE) return void at.set(neighbour, { slot: ratio, shared: ratio !== ONE });
          const present = at.get(neighbour);
          const target = present === undefined || present.shared ? take() : present.slot;
          if (present?.shared === true) emit(OP.move, target, present.slot);
          at.set(neighbour, { slot: target, shared: false });
          if (ratio === ONE) emit(present === undefined ? OP.move : OP.add, target, current.slot);
          else emit(present === undefined ? OP.multiply : OP.multiplyAdd, target, ratio, current.slot);
        });
        // From here on it is the voltage that the current makes at its own node.
        const inverse = inverses.get(node)!;
        if (current.slot === ONE) return void at.set(node, { slot: inverse, shared: true });
        const own = current.shared ? take() : current.slot;
        emit(OP.multiply, own, current.slot, inverse);
        at.set(node, { slot: own, shared: false });
      });
      return at;
    },
    backward(demand, base, injected = new Map()) {
      const found = new Map<number, Value>();
      const between = (a: number, b: number): Value => {
        if (a === b) return ZERO;
        const flip = rank[a]! > rank[b]!;
        const [first, second] = flip ? [b, a] : [a, b];
        const value = first === IN && second === GND ? ({ slot: base, sign: 1 } as const) : (found.get(pairKey(first, second)) ?? ZERO);
        return flip ? { slot: value.slot, sign: value.sign === 1 ? -1 : 1 } : value;
      };
      for (let step = order.length - 1; step >= 0; step--) {
        const node = order[step]!;
        const around = neighbours[step]!;
        const { slot: own, shared: onlyRead } = injected.get(node) ?? { slot: undefined, shared: true };
        const others = [...(demand.get(node) ?? [])];
        others.forEach((other, place) => {
          const terms = around.flatMap((neighbour, index) => {
            const value = between(neighbour, other);
            return neighbour === other || value.slot === NOTHING
              ? []
              : [{ ratio: around.length === 1 ? ONE : ratios[step]![index]!, ...value }];
          });
          const [only] = terms;
          const plain = terms.length === 1 && own === undefined ? only! : undefined;
          if (terms.length === 0 && own === undefined) return;
          if (plain?.slot === ONE || plain?.ratio === ONE) {
            // The source's own voltage times a ratio, or a ratio of 1: nothing to compute.
            found.set(pairKey(node, other), { slot: plain.slot === ONE ? plain.ratio : plain.slot, sign: plain.sign });
            return;
          }
          if (terms.length === 0) {
            found.set(pairKey(node, other), { slot: own!, sign: 1 });
            return;
          }
          // The last one to need the node's own term may build on it in place, unless one before is that term itself.
          const inPlace =
            own !== undefined
            && !onlyRead
            && place === others.length - 1
            && !others.some((earlier) => found.get(pairKey(node, earlier))?.slot === own);
          const target = inPlace ? own : take();
          let fresh = own === undefined;
          // A sign that all can share is carried along: to change it costs an operation, to know it nothing.
          const shared = fresh ? terms[0]!.sign : 1;
          if (own !== undefined && !inPlace) emit(OP.move, target, own);
          for (const { ratio, slot, sign } of terms) {
            const plus = sign === shared;
            if (slot === ONE || ratio === ONE) emit(fresh ? OP.move : plus ? OP.add : OP.subtract, target, slot === ONE ? ratio : slot);
            else emit(fresh ? OP.multiply : plus ? OP.multiplyAdd : OP.multiplySubtract, target, ratio, slot);
            fresh = false;
          }
          found.set(pairKey(node, other), { slot: target, sign: shared });
        });
      }
      return (a, b) => between(rootOf[a]!, rootOf[b]!);
    },
  };
}

/** Entries in the upper triangle of an n×n matrix, and the place of one of them, row by row. */
export function triangle(n: number): number {
  return (n * (n + 1)) / 2;
}

export function triangleIndex(n: number, row: number, column: number): number {
  return row * n - (row * (row - 1)) / 2 + (column - row);
}
