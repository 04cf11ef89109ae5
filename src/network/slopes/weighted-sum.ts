import { OP } from "../kernels/generated/operations";
import { NOTHING, ONE, type Value } from "../solve/program-values";
import type { ProgramBuilder } from "../solve/program-builder";

/** Writes Σ H_k·V_k into a slot of its own; H_k is given table k. A voltage may be the source's own, or none. */
export function weightedSum(builder: ProgramBuilder, voltages: readonly Value[]): number {
  const target = builder.take();
  let fresh = true;
  voltages.forEach(({ slot, sign }, index) => {
    if (slot === NOTHING) return;
    if (sign > 0)
      builder.emit(
        slot === ONE ? (fresh ? OP.table : OP.addTable) : fresh ? OP.timesTable : OP.timesTableAdd,
        target,
        slot === ONE ? index : slot,
        index,
      );
    else {
      const turned = builder.take();
      if (slot === ONE) builder.emit(OP.table, turned, index);
      else builder.emit(OP.timesTable, turned, slot, index);
      builder.emit(fresh ? OP.negate : OP.subtract, target, turned);
      builder.release(turned);
    }
    fresh = false;
  });
  if (fresh) {
    builder.emit(OP.table, target, 0);
    builder.emit(OP.subtract, target, target);
  }
  return target;
}
