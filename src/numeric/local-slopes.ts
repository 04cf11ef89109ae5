import { DividingNetworkError } from "../errors";
import { checkNumbers, computedAll } from "../errors/internal";

/**
 * The derivative dy/dx at every sample, in the unit of y per unit of x, from the polynomial through the five samples
 * nearest by index (one-sided near the ends; through all samples when there are fewer than five).
 *
 * $y'(x_k) \approx \sum_{j \ne k} (y_j - y_k)\, \frac{\prod_{m \ne j,k} (x_k - x_m)}{\prod_{m \ne j} (x_j - x_m)}$
 *
 * Exact for polynomials of up to fourth degree; the error falls with the fourth power of the spacing.
 *
 * @param x strictly ascending, length n
 * @param y length n
 * @returns n slopes; a single sample has slope 0
 */
export function localSlopes(x: ArrayLike<number>, y: ArrayLike<number>): Float64Array {
  const n = checkNumbers("localSlopes", "x", x).length;
  if (checkNumbers("localSlopes", "y", y).length !== n)
    throw new DividingNetworkError("invalid-argument", `localSlopes: "x" and "y" must have one length, got ${n} and ${y.length}`);
  const width = Math.min(5, n);
  const slopes = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const first = Math.min(Math.max(k - 2, 0), n - width);
    let slope = 0;
    for (let j = first; j < first + width; j++) {
      if (j === k) continue;
      let weight = 1 / (x[j]! - x[k]!);
      for (let m = first; m < first + width; m++) {
        if (m !== j && m !== k) weight *= (x[k]! - x[m]!) / (x[j]! - x[m]!);
      }
      slope += (y[j]! - y[k]!) * weight;
    }
    slopes[k] = slope;
  }
  return computedAll("localSlopes", slopes);
}
