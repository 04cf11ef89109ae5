import { sourceSeen, woofersOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import type { Entries } from "../network";
import { sourceResponse } from "../network/internal";
import { resistor } from "../parts";
import type { FitConstraint } from "./fit-constraints";
import { fitSolver, type FitSolver } from "./fit-solver";
import { fitSweeps } from "./fit-sweeps";
import type { FitVariable } from "./fit-variables";
import { beyondDamping, type Limits } from "./limits";

/** What woofers see in place of an ideal source; it has solutions of its own, with resistors where the woofers are. */
export interface FitDamping extends FitConstraint {
  /** Both at logarithms of values; false where it can't be solved. */
  readonly solve: (x: Float64Array) => boolean;
  readonly differentiate: (x: Float64Array) => boolean;
}

const STEP = 1e-6;

/** How far what woofers see is beyond what they may, in Ω and in Q. */
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
        ?? fitSweeps(caller, replaced, variables, [part], frequencies, box.sourceImpedance)
      );
    };
    const solvers = new Map([1, 100].map((ohms) => [ohms, solverWith(ohms)]));
    /** How far what it sees is beyond its limits, a step along the way on which an unknown moves the voltages. */
    const beyond = (unknown: number, step: number): readonly number[] => {
      const [rs, xs] = sourceSeen((ohms) => {
        const { solved, moved } = solvers.get(ohms)!;
        const [at, by] = [solved.voltages[0]!, moved[unknown]?.voltages[0]];
        return { re: at.re[0]! + step * (by?.re[0] ?? 0), im: at.im[0]! + step * (by?.im[0] ?? 0) };
      });
      const { ohms, q } = beyondDamping(limit, rs, xs);
      return [...(limit.largest === Infinity ? [] : [ohms]), ...(limit.q === undefined ? [] : [q])];
    };
    return [{ beyond, solvers: [...solvers.values()], count: (limit.largest === Infinity ? 0 : 1) + (limit.q === undefined ? 0 : 1) }];
  });
  const all = (of: (beyond: (unknown: number, step: number) => readonly number[]) => readonly number[]) =>
    own.flatMap(({ beyond }) => of(beyond));
  return {
    count: own.reduce((sum, { count }) => sum + count, 0),
    solve: (x) => own.every(({ solvers }) => solvers.every((one) => one.solve(x))),
    differentiate: (x) => own.every(({ solvers }) => solvers.every((one) => one.differentiate(x))),
    values: (out) => out.set(all((beyond) => beyond(0, 0))),
    slopes(unknown, out) {
      out.set(
        all((beyond) => {
          const [ahead, behind] = [beyond(unknown, STEP), beyond(unknown, -STEP)];
          return ahead.map((value, i) => (value - behind[i]!) / (2 * STEP));
        }),
      );
    },
  };
}
