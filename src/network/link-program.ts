import type { Circuit } from "./circuit";
import { OP } from "./kernels/operations";
import { PSEUDO } from "./program-builder";

/** Where in the machine's memory everything that a program speaks of lies, as byte addresses. */
export interface Addresses {
  slot(number: number): number;
  sum(number: number): number;
  output(number: number): number;
  /** The values of a branch that has a kernel. */
  values(branch: number): number;
  /** The table of a branch that has none. */
  branch(branch: number): number;
  /** A table of the coupled coils. */
  coils(number: number): number;
  /** A table that the program's owner supplies. */
  given(number: number): number;
}

/** A program as the machines run it: slots, branches, tables and outputs become addresses. */
export function linkProgram(code: Int32Array, { branches }: Circuit, at: Addresses): Int32Array {
  const linked = Int32Array.from(code);
  for (let pc = 0; pc < linked.length; pc += 4) {
    const [operation, d, a, b] = [linked[pc]!, linked[pc + 1]!, linked[pc + 2]!, linked[pc + 3]!];
    linked.set(link(operation, d, a, b), pc);
  }
  return linked;

  function link(operation: number, d: number, a: number, b: number): readonly [number, number, number, number] {
    switch (operation) {
      case PSEUDO.fill:
      case PSEUDO.fillAdd: {
        const { kernel } = branches[a]!.law;
        const plain = kernel === undefined ? OP.table : OP[kernel];
        return [operation === PSEUDO.fill ? plain : plain + (OP.addResistance - OP.resistance), at.slot(d), kernel === undefined ? at.branch(a) : at.values(a), 0];
      }
      case PSEUDO.coils:
        return [OP.table, at.slot(d), at.coils(a), 0];
      case PSEUDO.given:
        return [OP.table, at.slot(d), at.given(a), 0];
      case PSEUDO.givenAdd:
        return [OP.addTable, at.slot(d), at.given(a), 0];
      case OP.timesTable:
      case OP.timesTableAdd:
        return [operation, at.slot(d), at.slot(a), at.given(b)];
      case OP.powerError:
        return [operation, at.slot(d), at.given(a), at.sum(b)];
      case OP.rankOne:
        return [operation, at.slot(d), at.given(a), 0];
      case OP.sumReal:
        return [operation, at.sum(d), at.slot(a), 0];
      case OP.slopeCoil:
      case OP.slopeCapacitor:
        return [operation, at.sum(d), at.values(a), at.slot(b)];
      case OP.resistanceSlope:
      case OP.inductanceSlope:
      case OP.dcrSlope:
      case OP.capacitanceSlope:
      case OP.esrSlope:
      case OP.lossSlope:
        return [operation, at.slot(d), at.values(a), 0];
      case OP.out:
      case OP.outNegated:
        return [operation, at.output(d), at.slot(a), 0];
      case OP.outProduct:
        return [operation, at.output(d), at.slot(a), at.slot(b)];
      default:
        return [operation, at.slot(d), at.slot(a), at.slot(b)];
    }
  }
}
