import { OP } from "../kernels/generated/operations";
import { pairKey } from "../solve/elimination";
import { NOTHING, ONE, type Value } from "../solve/program-values";
import type { ProgramBuilder } from "../solve/program-builder";
import type { Beyond, Reduction } from "./beyond";

/** Voltage times adjoint voltage of pairs of merged nodes, and current times adjoint current of what is in series; each is made once, and given back after its last use. */
export interface Products {
  productOf(a: number, b: number): Value;
  used(a: number, b: number): void;
  squareOf(step: Beyond): Value;
  squareUsed(step: Beyond): void;
}

/** The products of a program that is being written, as often used as the reduction says. */
export function productsOf(
  builder: ProgramBuilder,
  { beyond, uses, seriesUses }: Reduction,
  voltage: (a: number, b: number) => Value,
  adjoint: (a: number, b: number) => Value,
): Products {
  const products = new Map<number, Value>();
  const squares = new Map<number, Value>();
  const [left, squaresLeft] = [new Map(uses), new Map(seriesUses)];
  const countDown = (key: number, counts: Map<number, number>, made: ReadonlyMap<number, Value>): void => {
    const now = counts.get(key)! - 1;
    counts.set(key, now);
    if (now === 0 && made.get(key)!.slot >= 0) builder.release(made.get(key)!.slot);
  };
  const used = (a: number, b: number): void => countDown(pairKey(a, b), left, products);
  /** A voltage's or current's square times what lies further in; nothing stays nothing. */
  const squared = (ratio: number, { third, other }: Beyond): Value => {
    const base = productOf(third, other);
    const made = base.slot === NOTHING ? base : { slot: builder.take(), sign: base.sign };
    if (made.slot !== NOTHING) builder.emit(OP.squareTimes, made.slot, ratio, base.slot);
    used(third, other);
    return made;
  };
  const productOf = (a: number, b: number): Value => {
    const key = pairKey(a, b);
    const known = products.get(key);
    if (known !== undefined) return known;
    const step = beyond(a, b);
    const made = step === undefined ? met(a, b) : squared(builder.ratio(step.node, step.third), step);
    products.set(key, made);
    return made;
  };
  const met = (a: number, b: number): Value => {
    const [v, lambda] = [voltage(a, b), adjoint(a, b)];
    const slot = v.slot === NOTHING || lambda.slot === NOTHING ? NOTHING : builder.take();
    if (slot !== NOTHING) {
      if (v.slot === ONE) builder.emit(OP.move, slot, lambda.slot);
      else builder.emit(OP.multiply, slot, v.slot, lambda.slot);
    }
    return { slot, sign: v.sign === lambda.sign ? 1 : -1 };
  };
  return {
    productOf,
    used,
    squareOf(step) {
      const made = squares.get(step.node) ?? squared(builder.mesh(step.node), step);
      squares.set(step.node, made);
      return made;
    },
    squareUsed: ({ node }) => countDown(node, squaresLeft, squares),
  };
}
