import { checkNumber } from "../errors/internal";
import { agmSums } from "./agm";

/**
 * Complete elliptic integral of the first kind, dimensionless, by the arithmetic–geometric mean:
 * $K(m) = \int_0^{\pi/2}\frac{d\theta}{\sqrt{1 - m\sin^2\theta}} = \frac{\pi}{2\,\mathrm{agm}(1, \sqrt{1-m})}$. Right to about 1e-15 of its value for
 * the m that is given; next to 1 the rounding of m itself shows.
 *
 * @param m parameter m = k², the square of the modulus, dimensionless, from 0 to below 1
 * @returns $K(m)$, dimensionless, π/2 at 0
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { ellipticK } from "dividing-network/numeric";
 *
 * ellipticK(0.5); // 1.8540746773
 * ```
 */
export function ellipticK(m: number): number {
  checkNumber("ellipticK", "m", m, { min: 0, below: 1 });
  return Math.PI / (2 * agmSums(1, Math.sqrt(1 - m), m).mean);
}

/**
 * Complete elliptic integral of the second kind, dimensionless: $E(m) = \int_0^{\pi/2}\sqrt{1 - m\sin^2\theta}\,d\theta$, by the sums of the
 * arithmetic–geometric mean. Right to about 1e-15 of $K(m)$.
 *
 * @param m parameter m = k², the square of the modulus, dimensionless, from 0 to 1
 * @returns $E(m)$, dimensionless, π/2 at 0 and 1 at 1
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { ellipticE } from "dividing-network/numeric";
 *
 * ellipticE(0.5); // 1.3506438810
 * ```
 */
export function ellipticE(m: number): number {
  checkNumber("ellipticE", "m", m, { min: 0, max: 1 });
  if (m === 1) return 1;
  const { mean, squares } = agmSums(1, Math.sqrt(1 - m), m);
  return (Math.PI / (2 * mean)) * (1 - m / 2 - squares / 2);
}
