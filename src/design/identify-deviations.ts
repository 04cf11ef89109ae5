import { DividingNetworkError } from "../errors";
import { sensitivities, solve, type Entries } from "../network";
import type { Observation } from "./identify-observations";
import { withValues, type Unknown } from "./identify-unknowns";

/** How a network with given values misses what was measured: ln(model/measured), real and imaginary part in turn, in units of the scatter. */
export interface Deviations {
  readonly count: number;
  readonly residuals: (logarithms: Float64Array, out: Float64Array) => void;
  /** ∂residual/∂ln value, one array by each unknown. */
  readonly slopes: (logarithms: Float64Array, out: readonly Float64Array[]) => void;
  readonly residualsAt: (logarithms: Float64Array) => Float64Array;
  /** JᵀJ. */
  readonly normalAt: (logarithms: Float64Array) => readonly (readonly number[])[];
}

export function deviationsOf(
  network: Entries,
  unknowns: readonly Unknown[],
  seen: readonly Observation[],
  sigma: { readonly impedance: number; readonly transfer: number },
): Deviations {
  const count = seen.reduce((sum, { frequencies }) => sum + 2 * frequencies.length, 0);
  const parts = [...new Set(unknowns.map(({ part }) => part))];
  const scaleOf = ({ output }: Observation): number => 1 / (output === undefined ? sigma.impedance : sigma.transfer);
  const model = (entries: Entries, { output, frequencies }: Observation) => {
    const sweep = solve<Entries>(entries, frequencies);
    return output === undefined ? sweep.impedance : sweep.voltage(output);
  };

  const residuals = (logarithms: Float64Array, out: Float64Array): void => {
    let at = 0;
    try {
      const entries = withValues(network, unknowns, logarithms);
      for (const observation of seen) {
        const { re, im } = model(entries, observation);
        const scale = scaleOf(observation);
        for (let i = 0; i < re.length; i++) {
          const [a, b, c, d] = [re[i]!, im[i]!, observation.re[i]!, observation.im[i]!];
          out[at++] = scale * (Math.log(Math.hypot(a, b)) - Math.log(Math.hypot(c, d)));
          out[at++] = scale * Math.atan2(b * c - a * d, a * c + b * d);
        }
      }
    } catch (error) {
      // Values so far off that nothing can be solved: no step goes there.
      if (!(error instanceof DividingNetworkError)) throw error;
      out.fill(NaN);
    }
  };
  const slopes = (logarithms: Float64Array, out: readonly Float64Array[]): void => {
    const entries = withValues(network, unknowns, logarithms);
    let first = 0;
    for (const observation of seen) {
      const { output, frequencies } = observation;
      const { re, im } = model(entries, observation);
      const own = sensitivities<Entries>(entries, frequencies, { outputs: output === undefined ? [] : [output], vary: parts });
      const movable = new Set(own.variables.map(({ part, parameter }) => `${part} ${parameter}`));
      unknowns.forEach(({ part, parameter }, column) => {
        if (!movable.has(`${part} ${parameter}`)) {
          out[column]!.fill(0, first, first + 2 * re.length);
          return;
        }
        const slope = output === undefined ? own.impedance(part, parameter) : own.voltage(output, part, parameter);
        const scale = scaleOf(observation) * Math.exp(logarithms[column]!);
        for (let i = 0; i < re.length; i++) {
          const [a, b, c, d] = [re[i]!, im[i]!, slope.re[i]!, slope.im[i]!];
          const size = a * a + b * b;
          out[column]![first + 2 * i] = (scale * (c * a + d * b)) / size;
          out[column]![first + 2 * i + 1] = (scale * (d * a - c * b)) / size;
        }
      });
      first += 2 * re.length;
    }
  };
  return {
    count,
    residuals,
    slopes,
    residualsAt(logarithms) {
      const out = new Float64Array(count);
      residuals(logarithms, out);
      return out;
    },
    normalAt(logarithms) {
      const columns = unknowns.map(() => new Float64Array(count));
      slopes(logarithms, columns);
      return columns.map((one) => columns.map((other) => one.reduce((sum, value, i) => sum + value * other[i]!, 0)));
    },
  };
}
