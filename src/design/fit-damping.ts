import { sourceSeen, woofersOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import type { Entries } from "../network";
import { sourceResponse } from "../network/internal";
import { resistor } from "../parts";
import type { FitConstraint } from "./fit-constraints";
import { fitSolver, type FitSolver } from "./fit-solver";
import { fitSweeps } from "./fit-sweeps";
import type { FitVariable } from "./fit-variables";
import type { Limits } from "./limits";

/** What woofers see in place of an ideal source; it has solutions of its own, with resistors where the woofers are. */
export interface FitDamping extends FitConstraint {
  /** Both at logarithms of values; false where it can't be solved. */
  readonly solve: (x: Float64Array) => boolean;
  readonly differentiate: (x: Float64Array) => boolean;
}

const STEP = 1e-6;

/** Ω beyond what woofers may see, as a part of it and 1 Ω. */
export function dampingConstraint(caller: string, box: Loudspeaker, variables: readonly FitVariable[], { damped }: Limits): FitDamping {
  const own = woofersOf(box).flatMap(({ part, parts }) => {
    const limit = damped.find((each) => each.part === part);
    if (limit === undefined) return [];
    const frequencies = Float64Array.of(limit.frequency);
    const solverWith = (ohms: number): FitSolver => {
      const replaced = Object.fromEntries(
        Object.entries(box.network).map(([name, entry]) => [name, parts.includes(name) ? [resistor(ohms), ...entry.slice(1)] : entry]),
      ) as unknown as Entries;
      const source = sourceResponse(caller, box.sourceImpedance, frequencies);
      return (
        fitSolver(replaced, variables, [part], frequencies, source)
        ?? fitSweeps(replaced, variables, [part], frequencies, box.sourceImpedance)
      );
    };
    const solvers = new Map([1, 100].map((ohms) => [ohms, solverWith(ohms)]));
    /** Ω that it sees, a step along the way on which an unknown moves the voltages. */
    const seen = (unknown: number, step: number): number =>
      sourceSeen((ohms) => {
        const { solved, moved } = solvers.get(ohms)!;
        const [at, by] = [solved.voltages[0]!, moved[unknown]?.voltages[0]];
        return { re: at.re[0]! + step * (by?.re[0] ?? 0), im: at.im[0]! + step * (by?.im[0] ?? 0) };
      })[0];
    return [{ seen, solvers: [...solvers.values()], largest: limit.largest }];
  });
  return {
    count: own.length,
    solve: (x) => own.every(({ solvers }) => solvers.every((one) => one.solve(x))),
    differentiate: (x) => own.every(({ solvers }) => solvers.every((one) => one.differentiate(x))),
    values(out) {
      own.forEach(({ seen, largest }, i) => (out[i] = (seen(0, 0) - largest) / (largest + 1)));
    },
    slopes(unknown, out) {
      own.forEach(({ seen, largest }, i) => (out[i] = (seen(unknown, STEP) - seen(unknown, -STEP)) / (2 * STEP * (largest + 1))));
    },
  };
}
