import type { Circuit } from "../circuit";
import type { GivenTable } from "../solve/plan";
import type { OutputPair } from "../solve/program-values";
import { isFiniteLoss, noLoss } from "./check-run";
import type { Place } from "../place";
import { rowSolver, type CircuitNumbers } from "./row-slopes";

/** What a sum by rows is made of. */
export interface RowSum {
  readonly caller: string;
  readonly circuit: Circuit;
  /** Hz. */
  readonly grid: Float64Array;
  readonly pairs: readonly OutputPair[];
  /** What each pair adds per volt, on the grid. */
  readonly contributions: readonly GivenTable[];
  /** 1/target², and weights. */
  readonly aim: GivenTable;
}

/** The loss of `sumObjective` by rows, with its slopes where places and an array for them are given. */
export function rowLoss(
  { caller, circuit, grid, pairs, contributions, aim }: RowSum,
  numbers: CircuitNumbers,
  places: readonly Place[] = [],
  slopes?: Float64Array,
): number {
  const machine = rowSolver(caller, circuit, grid).with(numbers);
  const out = new Float64Array(2);
  slopes?.fill(0);
  let loss = 0;
  for (let point = 0; point < grid.length; point++) {
    const forward = machine.forward(point);
    const injected = pairs.map(([from, to], pair) => ({
      from,
      to,
      re: contributions[pair]!.re[point]!,
      im: contributions[pair]!.im[point]!,
    }));
    let [sr, si] = [0, 0];
    for (const { from, to, re, im } of injected) {
      const [vr, vi] = [
        forward.voltages[2 * from]! - forward.voltages[2 * to]!,
        forward.voltages[2 * from + 1]! - forward.voltages[2 * to + 1]!,
      ];
      sr += re * vr - im * vi;
      si += re * vi + im * vr;
    }
    const [inverse, weight] = [aim.re[point]!, aim.im[point]!];
    const miss = (sr * sr + si * si) * inverse - 1;
    loss += weight * miss * miss;
    if (slopes === undefined || places.length === 0 || weight === 0) continue;
    const adjoint = machine.adjoint(point, injected);
    places.forEach((place, index) => {
      machine.slope(place, point, forward, adjoint, out);
      slopes[index] = slopes[index]! + 4 * weight * miss * inverse * (sr * out[0]! + si * out[1]!);
    });
  }
  if (!isFiniteLoss(loss, slopes, places.length)) throw noLoss(caller);
  return loss;
}
