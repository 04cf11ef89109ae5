import { checkNumber, checkOneOf } from "../errors/internal";

/** Shapes of a fade from 1 down to 0. */
export type WindowShape = "rectangular" | "hann" | "blackman" | "blackman-harris";

const cosineTerms = {
  rectangular: [1],
  hann: [0.5, 0.5],
  blackman: [0.42, 0.5, 0.08],
  "blackman-harris": [0.35875, 0.48829, 0.14128, 0.01168],
} as const;

/**
 * Value of the falling half of a window, dimensionless: 1 at `position` 0, falling to 0 at 1 (0.00006 for Blackman–Harris,
 * 1 throughout for the rectangular window), and 0 beyond it; 1 for negative positions.
 *
 * $$w(p) = \sum_i a_i \cos(i \pi p)$$
 *
 * with a = ½, ½ (Hann), 0.42, 0.5, 0.08 (Blackman), 0.35875, 0.48829, 0.14128, 0.01168 (Blackman–Harris).
 *
 * @param shape which window
 * @param position place within the fade, dimensionless: 0 at its start, 1 at its end
 * @returns weight, dimensionless, 0 to 1
 * @throws DividingNetworkError `invalid-argument`
 * Source: after Harris (1978).
 */
export function halfWindow(shape: WindowShape, position: number): number {
  checkOneOf("halfWindow", "shape", shape, ["rectangular", "hann", "blackman", "blackman-harris"]);
  checkNumber("halfWindow", "position", position);
  if (position > 1) return 0;
  if (position <= 0) return 1;
  return cosineTerms[shape].reduce((sum, a, i) => sum + a * Math.cos(i * Math.PI * position), 0);
}
