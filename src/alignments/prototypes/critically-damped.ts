import { checkOneOf, checkOptions } from "../../errors/internal";
import { checkOrder, makePrototype } from "./prototype";
import type { Prototype } from "./prototype-data";

/**
 * The critically damped low-pass prototype, all poles at one real frequency a:
 * $H(s) = \left(\frac{a}{s + a}\right)^n$, no overshoot at all. $a = (2^{1/n} - 1)^{-1/2}$ puts −3.01 dB at ω = 1 rad/s;
 * the asymptotes meet there for a = 1.
 *
 * @param order n, dimensionless, 1 to 20
 * @param options `normalization`: `"half-power"` (default) or `"asymptote"`
 * @returns zeros, poles (rad/s) and gain of the function, 1 at zero frequency
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { criticallyDamped } from "dividing-network/alignments";
 *
 * criticallyDamped(2).poles; // [{ re: -1.55377, im: 0 }, { re: -1.55377, im: 0 }]
 * ```
 */
export function criticallyDamped(
  order: number,
  options: { readonly normalization?: "half-power" | "asymptote" | undefined } = {},
): Prototype {
  const n = checkOrder("criticallyDamped", order);
  const { normalization = "half-power" } = checkOptions("criticallyDamped", options, ["normalization"]);
  checkOneOf("criticallyDamped", "normalization", normalization, ["half-power", "asymptote"]);
  const pole = Object.freeze({ re: normalization === "asymptote" ? -1 : -1 / Math.sqrt(Math.expm1(Math.LN2 / n)), im: 0 });
  const corner =
    normalization === "asymptote" ? "the asymptotes of low-pass and high-pass meet; the level there depends on the order" : "−3.01 dB";
  return makePrototype("critically-damped", corner, new Array<typeof pole>(n).fill(pole));
}
