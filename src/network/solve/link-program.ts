import type { Circuit } from "../circuit";
import { OP, OPERANDS } from "../kernels/generated/operations";
import type { Operand } from "../kernels/operand";
import { PSEUDO } from "./program-builder";

/** Where in the machine's memory everything that a program speaks of lies, as byte addresses by number. */
export interface Addresses extends Readonly<Record<Operand, (number: number) => number>> {
  /** The table of a branch that has no kernel. */
  branch(branch: number): number;
  /** A table of the coupled coils. */
  coils(number: number): number;
  /** A table of ∂Y/∂value. */
  slopes(number: number): number;
}

/** By the kind of a branch's law: the operation that fills in its admittance, and the one that adds it. */
export const FILL = {
  resistance: [OP.resistance, OP.addResistance],
  coil: [OP.coil, OP.addCoil],
  capacitor: [OP.capacitor, OP.addCapacitor],
  table: [OP.table, OP.addTable],
} as const;

/** A program as the machines run it: slots, branches, tables and outputs become addresses. */
export function linkProgram(code: Int32Array, { branches }: Circuit, at: Addresses): Int32Array {
  const linked = Int32Array.from(code);
  for (let pc = 0; pc < linked.length; pc += 4) {
    const [operation, d, a, b] = [linked[pc]!, linked[pc + 1]!, linked[pc + 2]!, linked[pc + 3]!];
    linked.set(link(operation, d, a, b), pc);
  }
  return linked;

  function link(operation: number, ...operands: readonly [number, number, number]): readonly [number, number, number, number] {
    const [d, a, b] = operands;
    switch (operation) {
      case PSEUDO.fill:
      case PSEUDO.fillAdd: {
        const { kernel } = branches[a]!.law;
        return [
          FILL[kernel ?? "table"][operation === PSEUDO.fill ? 0 : 1],
          at.slot(d),
          kernel === undefined ? at.branch(a) : at.values(a),
          0,
        ];
      }
      case PSEUDO.coils:
        return [OP.table, at.slot(d), at.coils(a), 0];
      case PSEUDO.timesSlope:
      case PSEUDO.timesSlopeAdd:
        return [operation === PSEUDO.timesSlope ? OP.timesTable : OP.timesTableAdd, at.slot(d), at.slot(a), at.slopes(b)];
      default: {
        const kinds = OPERANDS[operation]!;
        const address = (place: 0 | 1 | 2): number => (kinds[place] === undefined ? 0 : at[kinds[place]](operands[place]));
        return [operation, address(0), address(1), address(2)];
      }
    }
  }
}
