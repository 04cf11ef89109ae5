import type { Circuit } from "../circuit";
import { OP, OPERANDS } from "../kernels/generated/operations";
import type { Operand } from "../kernels/operand";
import { PSEUDO } from "./code-writer";

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
  const linked = new Int32Array(code.length);
  for (let pc = 0; pc < code.length; pc += 4) {
    const operation = code[pc]!;
    if (operation < PSEUDO.fill) {
      linked[pc] = operation;
      const kinds = OPERANDS[operation]!;
      for (let k = 0; k < kinds.length; k++) linked[pc + 1 + k] = at[kinds[k]!](code[pc + 1 + k]!);
    } else linked.set(replaced(operation, code[pc + 1]!, code[pc + 2]!, code[pc + 3]!), pc);
  }
  return linked;

  function replaced(operation: number, d: number, a: number, b: number): readonly number[] {
    switch (operation) {
      case PSEUDO.fill:
      case PSEUDO.fillAdd: {
        const { kernel } = branches[a]!.law;
        return [FILL[kernel ?? "table"][operation === PSEUDO.fill ? 0 : 1], at.slot(d), kernel === undefined ? at.branch(a) : at.values(a)];
      }
      case PSEUDO.coils:
        return [OP.table, at.slot(d), at.coils(a)];
      default:
        return [operation === PSEUDO.timesSlope ? OP.timesTable : OP.timesTableAdd, at.slot(d), at.slot(a), at.slopes(b)];
    }
  }
}
