import { checkNumber, checkOneOf, checkOptions } from "../../errors/internal";
import { checkOrder, conjugatePair, makePrototype } from "./prototype";
import type { Prototype } from "./prototype-data";

/**
 * The Chebyshev (type I) low-pass prototype, of equal ripple up to ω = 1 rad/s:
 * $|H(j\omega)|^2 \propto \frac{1}{1 + \varepsilon^2 T_n^2(\omega)}$, $\varepsilon^2 = 10^{r/10} - 1$.
 *
 * Level rule: a passive ladder passes zero frequency unchanged, so the level there is 0 dB. Odd orders then ripple
 * between 0 dB and −r and are at −r at ω = 1 rad/s; even orders ripple between 0 dB and +r and are back at 0 dB at
 * ω = 1 rad/s. With `level: "peak"` even orders are lowered so that the crests are at 0 dB.
 *
 * @param order n, dimensionless, 1 to 20
 * @param options `rippleDb`: r in dB, 10⁻⁶ to 20; `level`: `"zero-frequency"` (default) or `"peak"`
 * @returns zeros, poles (rad/s) and gain of the function
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { chebyshev } from "dividing-network/alignments";
 *
 * chebyshev(1, { rippleDb: 3 }).poles; // [{ re: -1.00238, im: 0 }]
 * ```
 */
export function chebyshev(
  order: number,
  options: { readonly rippleDb: number; readonly level?: "zero-frequency" | "peak" | undefined },
): Prototype {
  const n = checkOrder("chebyshev", order);
  const { rippleDb, level = "zero-frequency" } = checkOptions("chebyshev", options, ["rippleDb", "level"]);
  const ripple = checkNumber("chebyshev", "rippleDb", rippleDb, { min: 1e-6, max: 20, unit: "dB" });
  checkOneOf("chebyshev", "level", level, ["zero-frequency", "peak"]);
  const corner = n % 2 === 0 && level === "zero-frequency" ? "edge of the ripple, 0 dB" : `edge of the ripple, −${ripple} dB`;
  return makePrototype("chebyshev", corner, chebyshevPoles(n, ripple), n % 2 === 0 && level === "peak" ? 10 ** (-ripple / 20) : 1);
}

/** Poles on an ellipse, upper one of each pair first, the real one last. */
export function chebyshevPoles(order: number, rippleDb: number): { readonly re: number; readonly im: number }[] {
  const a = Math.asinh(1 / Math.sqrt(Math.expm1((rippleDb * Math.LN10) / 10))) / order;
  return Array.from({ length: Math.ceil(order / 2) }, (_, k) => {
    const angle = ((2 * k + 1) * Math.PI) / (2 * order);
    return conjugatePair(-Math.sinh(a) * Math.sin(angle), 2 * k + 1 === order ? 0 : Math.cosh(a) * Math.cos(angle));
  }).flat();
}
