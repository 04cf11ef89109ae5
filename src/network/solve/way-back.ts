import { GND, IN } from "../circuit";
import { OP } from "../kernels/generated/operations";
import type { CodeWriter } from "./code-writer";
import { pairKey, type Elimination } from "./elimination";
import { NOTHING, ONE, type Demand, type Injected, type Value } from "./program-values";
import type { WayIn } from "./way-in";

const ZERO: Value = { slot: NOTHING, sign: 1 };

/** Writes how injected currents arrive at the nodes that are eliminated after theirs; see `ProgramBuilder`. */
export function arrivals(
  { order, neighbours }: Elimination,
  { emit, take }: CodeWriter,
  { ratios, inverses }: WayIn,
  currents: ReadonlyMap<number, number>,
): ReadonlyMap<number, Injected> {
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
}

/** Writes the voltages of all demanded differences, the node eliminated last first; see `ProgramBuilder`. */
export function wayBack(
  { order, neighbours, rank, rootOf }: Elimination,
  { emit, take }: CodeWriter,
  { ratios }: WayIn,
  demand: Demand,
  base: typeof ONE | typeof NOTHING,
  injected: ReadonlyMap<number, Injected>,
): (a: number, b: number) => Value {
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
}
