import { modulus } from "../numeric/internal";
import type { FrequencyResponse } from "./sampled-function";

/** Bend of the log magnitude, in nepers (0.9 dB), at which a step counts half. */
const halfBend = 0.1;

/**
 * How much each phase step from sample to sample counts when a delay is sought, dimensionless, n − 1 values from 0 to 1:
 * $1/(1 + (b/b_0)^2)$, where b is the larger second difference of the log magnitude at its two samples. The magnitude of noise jumps
 * from sample to sample whatever the delay, that of a filter does not, however steep or low; at nulls and corners, where the
 * phase turns for reasons of its own, it bends.
 */
export function stepWeights({ re, im }: FrequencyResponse): Float64Array {
  const log = re.map((value, i) => Math.log(modulus(value, im[i]!)));
  const bend = log.map((value, i) => Math.abs((log[i - 1] ?? NaN) - 2 * value + (log[i + 1] ?? NaN)));
  const weights = new Float64Array(log.length - 1);
  for (let i = 0; i < weights.length; i++) {
    const [a, b] = [bend[i]!, bend[i + 1]!];
    // The first and last sample have no second difference, and zeros have no logarithm.
    const largest = weights.length === 1 ? 0 : i === 0 ? b : i === weights.length - 1 ? a : Math.max(a, b);
    const weight = 1 / (1 + (largest / halfBend) ** 2);
    weights[i] = log[i]! > -Infinity && log[i + 1]! > -Infinity ? weight : 0;
  }
  return weights;
}
