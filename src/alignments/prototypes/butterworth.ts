import { checkOrder, conjugatePair, makePrototype } from "./prototype";
import type { Prototype } from "./prototype-data";

/**
 * The Butterworth low-pass prototype, maximally flat in level: $|H(j\omega)|^2 = \frac{1}{1 + \omega^{2n}}$, −3.01 dB at
 * ω = 1 rad/s. After Butterworth (1930).
 *
 * @param order n, dimensionless, 1 to 20
 * @returns zeros, poles (rad/s) and gain of the function, 1 at zero frequency
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { butterworth } from "dividing-network/alignments";
 *
 * butterworth(2).poles; // [{ re: -0.7071, im: 0.7071 }, { re: -0.7071, im: -0.7071 }]
 * ```
 */
export function butterworth(order: number): Prototype {
  return makePrototype("butterworth", "−3.01 dB", butterworthPoles(checkOrder("butterworth", order)));
}

/** Poles on the unit circle, upper one of each pair first, the real one last. */
export function butterworthPoles(order: number): { readonly re: number; readonly im: number }[] {
  return Array.from({ length: Math.ceil(order / 2) }, (_, k) => {
    const angle = ((2 * k + 1) * Math.PI) / (2 * order);
    return 2 * k + 1 === order ? conjugatePair(-1, 0) : conjugatePair(-Math.sin(angle), Math.cos(angle));
  }).flat();
}
