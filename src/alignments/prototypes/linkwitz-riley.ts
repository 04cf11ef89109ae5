import { DividingNetworkError } from "../../errors";
import { butterworthPoles } from "./butterworth";
import { checkOrder, makePrototype } from "./prototype";
import type { Prototype } from "./prototype-data";

/**
 * The Linkwitz–Riley low-pass prototype: a Butterworth function of half the order, squared,
 * $|H(j\omega)| = \frac{1}{1 + \omega^{n}}$, −6.02 dB at ω = 1 rad/s. Low-pass and high-pass stay in phase at every
 * frequency (orders 4, 8, …) or in phase with one driver reversed (orders 2, 6, …), and sum to a flat level.
 * After Linkwitz (1976).
 *
 * @param order n, dimensionless, even, 2 to 20
 * @returns zeros, poles (rad/s, each twice) and gain of the function, 1 at zero frequency
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { linkwitzRiley } from "dividing-network/alignments";
 *
 * linkwitzRiley(2).poles; // [{ re: -1, im: 0 }, { re: -1, im: 0 }]
 * ```
 */
export function linkwitzRiley(order: number): Prototype {
  const n = checkOrder("linkwitzRiley", order);
  if (n % 2 !== 0) {
    throw new DividingNetworkError(
      "invalid-argument",
      `linkwitzRiley: "order" must be even, got ${n}: the function is the square of a Butterworth function of half the order`,
      `Use order ${n === 1 ? "" : `${n - 1} or `}${n + 1}, or butterworth(${n}), whose two ways sum flat at odd orders`,
    );
  }
  const half = butterworthPoles(n / 2);
  return makePrototype("linkwitz-riley", "−6.02 dB", [...half, ...half]);
}
