import { DividingNetworkError } from "../errors";
import type { Entries, SourceImpedance } from "../network";
import { sourceResponse } from "../network/internal";
import type { ComplexArrays } from "../numeric";
import { fitSolver, type Solved } from "./fit-solver";
import { fitSweeps } from "./fit-sweeps";
import { numbersOf, type Observation } from "./identify-data";
import type { Unknown } from "./identify-unknowns";

/** How a network with given values misses what was measured: ln(model/measured), real and imaginary part in turn, in units of the scatter. */
export interface Deviations {
  readonly count: number;
  readonly residuals: (at: Float64Array, out: Float64Array) => void;
  /** ∂residual/∂x with x the value's place on its scale, one array by each unknown. */
  readonly slopes: (at: Float64Array, out: readonly Float64Array[]) => void;
  readonly residualsAt: (at: Float64Array) => Float64Array;
  /** JᵀJ. */
  readonly normalAt: (at: Float64Array) => readonly (readonly number[])[];
}

/** How often the network may still be solved: once for each frequency and set of values. A search that has used it up ends where it is. */
export interface Budget {
  left: number;
  used: number;
}

/** Standard deviations of the logarithms of what was measured. */
export type Sigma = Readonly<Record<Observation["kind"], number>>;

/** Ω and H before the network, or none. */
export type Source = SourceImpedance | undefined;

export function deviationsOf(
  network: Entries,
  unknowns: readonly Unknown[],
  seen: readonly Observation[],
  sigma: Sigma,
  source: Source,
  budget: Budget,
): Deviations {
  const count = seen.reduce((sum, one) => sum + numbersOf(one), 0);
  // Curves on one grid behind one source are solved together.
  const runs = groupedBy(seen, source).map((run) => ({
    ...run,
    solver:
      fitSolver(network, unknowns, run.outputs, run.frequencies, sourceResponse("identify", run.source, run.frequencies))
      ?? fitSweeps("identify", network, unknowns, run.outputs, run.frequencies, run.source),
  }));
  const points = runs.reduce((sum, { frequencies }) => sum + frequencies.length, 0);
  const spend = () => {
    budget.left -= points;
    budget.used += points;
  };

  const residuals = (at: Float64Array, out: Float64Array): void => {
    // Values so far off that nothing can be solved: no step goes there.
    if (budget.left < points || (spend(), !runs.every(({ solver }) => solver.solve(at)))) {
      out.fill(NaN);
      return;
    }
    for (const { members, outputs, solver } of runs) {
      for (const { observation, first } of members) {
        const { kind, levelsAlone } = observation;
        const { re, im } = modelled(observation, outputs, solver.solved);
        const scale = 1 / sigma[kind];
        let place = first;
        for (let i = 0; i < re.length; i++) {
          const [a, b, c, d] = [re[i]!, im[i]!, observation.re[i]!, observation.im[i]!];
          out[place++] = scale * (Math.log(Math.hypot(a, b)) - Math.log(Math.hypot(c, d)));
          if (levelsAlone !== true) out[place++] = scale * Math.atan2(b * c - a * d, a * c + b * d);
        }
      }
    }
  };
  const slopes = (at: Float64Array, out: readonly Float64Array[]): void => {
    spend();
    for (const { members, outputs, solver } of runs) {
      const known = solver.differentiate(at);
      for (const { observation, first } of members) {
        const { kind, levelsAlone } = observation;
        const { re, im } = modelled(observation, outputs, solver.solved);
        const stride = levelsAlone === true ? 1 : 2;
        unknowns.forEach((_, column) => {
          const moved = modelled(observation, outputs, solver.moved[column]!);
          const scale = known ? 1 / sigma[kind] : NaN;
          for (let i = 0; i < re.length; i++) {
            const [a, b, c, d] = [re[i]!, im[i]!, moved.re[i]!, moved.im[i]!];
            const size = a * a + b * b;
            out[column]![first + stride * i] = (scale * (c * a + d * b)) / size;
            if (levelsAlone !== true) out[column]![first + 2 * i + 1] = (scale * (d * a - c * b)) / size;
          }
        });
      }
    }
  };
  return {
    count,
    residuals,
    slopes,
    residualsAt(at) {
      const out = new Float64Array(count);
      const kept = budget.left;
      budget.left = Infinity;
      residuals(at, out);
      budget.left = kept;
      return out;
    },
    normalAt(at) {
      const columns = unknowns.map(() => new Float64Array(count));
      slopes(at, columns);
      if (!columns.every((column) => column.every(Number.isFinite)))
        throw new DividingNetworkError(
          "undetermined",
          "identify: with the values found, what was measured must have slopes, got a network that can't be differentiated there",
          "Draw the values nearer to what they are, or leave out the frequencies at which parts resonate without loss",
        );
      return columns.map((one) => columns.map((other) => one.reduce((sum, value, i) => sum + value * other[i]!, 0)));
    },
  };
}

/** What a solution, or its slope, comes to for one curve: the impedance, a voltage, or what all drivers give together, pressure per volt of each times its voltage. */
function modelled({ output, heard }: Observation, outputs: readonly string[], { voltages, impedance }: Solved): ComplexArrays {
  const voltage = (name: string) => voltages[outputs.indexOf(name)]!;
  if (heard === undefined) return output === undefined ? impedance : voltage(output);
  const n = heard[0]!.re.length;
  const [re, im] = [new Float64Array(n), new Float64Array(n)];
  for (const { part, re: p, im: q } of heard) {
    const { re: v, im: w } = voltage(part);
    for (let i = 0; i < n; i++) {
      re[i]! += p[i]! * v[i]! - q[i]! * w[i]!;
      im[i]! += p[i]! * w[i]! + q[i]! * v[i]!;
    }
  }
  return { re, im };
}

/** Curves that one solution gives, with where their residuals begin. */
interface Run {
  readonly frequencies: Float64Array;
  readonly source: Source;
  readonly outputs: readonly string[];
  readonly members: readonly { readonly observation: Observation; readonly first: number }[];
}

function groupedBy(seen: readonly Observation[], source: Source): readonly Run[] {
  const runs: {
    frequencies: Float64Array;
    source: Source;
    outputs: Set<string>;
    members: { observation: Observation; first: number }[];
  }[] = [];
  let first = 0;
  for (const observation of seen) {
    const { frequencies, kind, output, heard } = observation;
    // A pressure is per volt of the source; the others are per volt at the network's input.
    const own = kind === "pressure" ? source : undefined;
    const same = runs.find(
      (run) => run.source === own && run.frequencies.length === frequencies.length && run.frequencies.every((f, i) => f === frequencies[i]),
    );
    const run = same ?? { frequencies, source: own, outputs: new Set<string>(), members: [] };
    if (same === undefined) runs.push(run);
    if (output !== undefined) run.outputs.add(output);
    for (const { part } of heard ?? []) run.outputs.add(part);
    run.members.push({ observation, first });
    first += numbersOf(observation);
  }
  return runs.map((run) => ({ ...run, outputs: [...run.outputs] }));
}
