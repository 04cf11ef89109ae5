import type { Elimination } from "./elimination";
import { OP } from "../kernels/generated/operations";
import { NOTHING, ONE, type OutputPair } from "./program-values";
import { programBuilder } from "./program-builder";
import type { SlopeTable } from "./slope-tables";

/** A program and the memory it needs. */
export interface Program {
  /** Groups of four: operation, d, a, b, before their layout in memory. */
  readonly code: Int32Array;
  readonly slots: number;
  /** Outputs that are the same at every frequency: 0, 1 or −1. */
  readonly constants: ReadonlyMap<number, number>;
  readonly outputs: number;
  /** Sums over the grid that the program makes. */
  readonly sums: number;
  /** How many tables its owner supplies. */
  readonly given: number;
  /** The tables of ∂Y/∂value that it speaks of, by number. */
  readonly slopes?: readonly SlopeTable[];
}

/** The program whose output 0 is the admittance between `in` and `gnd`, and output k + 1 is V(a) − V(b) of pair k per volt at `in`. */
export function programFor(elimination: Elimination, pairs: readonly OutputPair[]): Program {
  const builder = programBuilder(elimination);
  const demand = builder.demand(pairs);
  const constants = new Map<number, number>();
  const input = builder.forward({ ratios: new Set(demand.keys()), admittance: true });
  if (input === undefined) constants.set(0, 0);
  else builder.emit(OP.out, 0, input);
  const voltage = builder.backward(demand, ONE);
  pairs.forEach(([a, b], index) => {
    const { slot, sign } = voltage(a, b);
    if (slot === NOTHING) constants.set(index + 1, 0);
    else if (slot === ONE) constants.set(index + 1, sign);
    else builder.emit(sign > 0 ? OP.out : OP.outNegated, index + 1, slot);
  });
  return { code: Int32Array.from(builder.code), slots: builder.slots(), constants, outputs: pairs.length + 1, sums: 0, given: 0 };
}
