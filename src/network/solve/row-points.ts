import { solveDense, type DensePoint } from "./dense";
import type { Elimination } from "./elimination";

/** The solutions by rows at single points of a grid. */
export interface RowPoints {
  /** Solved when first asked for, and kept while there is room: a network with a transformer is solved so at every point. */
  at(point: number): DensePoint;
}

/** Numbers kept: 32 MB. What comes later is solved again whenever it is asked for. */
const KEPT = 4_000_000;

/** The points of one grid (Hz) for one set of values, each with the structure of its class. */
export function rowPoints(
  structureAt: (frequency: number) => Elimination,
  frequencies: Float64Array,
  values: readonly ArrayLike<number>[],
): RowPoints {
  let kept: Map<number, DensePoint> | undefined;
  let room = KEPT;
  return {
    at(point) {
      const known = kept?.get(point);
      if (known !== undefined) return known;
      const frequency = frequencies[point]!;
      const solved = solveDense(structureAt(frequency), frequency, values);
      room -= solved.voltages.length + solved.currents.length + solved.transformerCurrents.length + solved.solved.length;
      if (room >= 0) (kept ??= new Map()).set(point, solved);
      return solved;
    },
  };
}
