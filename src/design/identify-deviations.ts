import { DividingNetworkError } from "../errors";
import { sensitivities, solve, type Entries, type SensitivityOptions } from "../network";
import type { ComplexArrays } from "../numeric";
import type { FrequencyResponse } from "../response";
import { numbersOf, type Observation } from "./identify-data";
import { withValues, type Unknown } from "./identify-unknowns";

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
export type Source = SensitivityOptions<Entries>["sourceImpedance"];

export function deviationsOf(
  network: Entries,
  unknowns: readonly Unknown[],
  seen: readonly Observation[],
  sigma: Sigma,
  source: Source,
  budget: Budget,
): Deviations {
  const count = seen.reduce((sum, one) => sum + numbersOf(one), 0);
  const parts = [...new Set(unknowns.map(({ part }) => part))];
  // Curves on one grid behind one source are solved together.
  const runs = groupedBy(seen, source);
  const points = runs.reduce((sum, { frequencies }) => sum + frequencies.length, 0);
  const spend = () => {
    budget.left -= points;
    budget.used += points;
  };
  const sweepsOf = (entries: Entries) =>
    runs.map((run) => ({
      ...run,
      sweep: solve<Entries>(entries, run.frequencies, run.source === undefined ? {} : { sourceImpedance: run.source }),
    }));

  const residuals = (at: Float64Array, out: Float64Array): void => {
    if (budget.left < points) {
      out.fill(NaN);
      return;
    }
    spend();
    try {
      const entries = withValues(network, unknowns, at);
      for (const { members, sweep } of sweepsOf(entries)) {
        for (const { observation, first } of members) {
          const { output, kind, heard, levelsAlone } = observation;
          const { re, im } =
            heard === undefined
              ? output === undefined
                ? sweep.impedance
                : sweep.voltage(output)
              : summed(heard, (part) => sweep.voltage(part));
          const scale = 1 / sigma[kind];
          let place = first;
          for (let i = 0; i < re.length; i++) {
            const [a, b, c, d] = [re[i]!, im[i]!, observation.re[i]!, observation.im[i]!];
            out[place++] = scale * (Math.log(Math.hypot(a, b)) - Math.log(Math.hypot(c, d)));
            if (levelsAlone !== true) out[place++] = scale * Math.atan2(b * c - a * d, a * c + b * d);
          }
        }
      }
    } catch (error) {
      // Values so far off that nothing can be solved: no step goes there.
      if (!(error instanceof DividingNetworkError)) throw error;
      out.fill(NaN);
    }
  };
  const slopes = (at: Float64Array, out: readonly Float64Array[]): void => {
    spend();
    const entries = withValues(network, unknowns, at);
    for (const { members, frequencies, source: own, outputs, sweep } of sweepsOf(entries)) {
      const slope = sensitivities<Entries>(entries, frequencies, {
        outputs,
        vary: parts,
        ...(own === undefined ? {} : { sourceImpedance: own }),
      });
      const movable = new Set(slope.variables.map(({ part, parameter }) => `${part} ${parameter}`));
      for (const { observation, first } of members) {
        const { output, kind, heard, levelsAlone } = observation;
        const { re, im } =
          heard === undefined
            ? output === undefined
              ? sweep.impedance
              : sweep.voltage(output)
            : summed(heard, (part) => sweep.voltage(part));
        const stride = levelsAlone === true ? 1 : 2;
        unknowns.forEach(({ part, parameter, scale: valueScale }, column) => {
          if (!movable.has(`${part} ${parameter}`)) {
            out[column]!.fill(0, first, first + stride * re.length);
            return;
          }
          const moved =
            heard === undefined
              ? output === undefined
                ? slope.impedance(part, parameter)
                : slope.voltage(output, part, parameter)
              : summed(heard, (driver) => slope.voltage(driver, part, parameter));
          const scale = valueScale.slope(at[column]!) / sigma[kind];
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
      return columns.map((one) => columns.map((other) => one.reduce((sum, value, i) => sum + value * other[i]!, 0)));
    },
  };
}

/** What all drivers give together: pressure per volt of each times its voltage. */
function summed(heard: NonNullable<Observation["heard"]>, voltage: (part: string) => Pick<FrequencyResponse, "re" | "im">): ComplexArrays {
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
