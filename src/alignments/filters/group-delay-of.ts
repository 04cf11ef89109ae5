import { checkNumber } from "../../errors/internal";
import type { TransferFunction } from "../../response";
import { checkFilter, checkList } from "./check-filter";

/**
 * The group delay of a transfer function in s, in closed form: with $r = \sigma_r + j\omega_r$,
 * $\tau(\omega) = \sum_{\mathrm{poles}} \frac{-\sigma_p}{\sigma_p^2 + (\omega - \omega_p)^2} - \sum_{\mathrm{zeros}} \frac{-\sigma_z}{\sigma_z^2 + (\omega - \omega_z)^2}$.
 * Zeros on the imaginary axis turn the phase by a jump and add nothing.
 *
 * @param filter zeros and poles in rad/s, and gain
 * @param frequencies Hz, length n
 * @returns s, length n
 * @throws DividingNetworkError `invalid-transfer-function`, `invalid-argument`
 * @example
 * ```ts
 * import { bessel, groupDelayOf } from "dividing-network/alignments";
 *
 * groupDelayOf(bessel(4, { normalization: "delay" }), [0]); // [1.000]
 * ```
 */
export function groupDelayOf(filter: TransferFunction, frequencies: ArrayLike<number>): Float64Array {
  const { zeros, poles } = checkFilter("groupDelayOf", "filter", filter);
  checkList("groupDelayOf", "frequencies", frequencies);
  return Float64Array.from(frequencies, (frequency, i) => {
    const w = 2 * Math.PI * checkNumber("groupDelayOf", `frequencies[${i}]`, frequency, { unit: "Hz" });
    return checkNumber("groupDelayOf", "the delay", sum(poles, w) - sum(zeros, w), { unit: "s" });
  });
}

function sum(roots: TransferFunction["poles"], w: number): number {
  return roots.reduce((total, { re, im }) => {
    const distance = Math.hypot(re, w - im);
    return re === 0 ? total : total - re / distance / distance;
  }, 0);
}
