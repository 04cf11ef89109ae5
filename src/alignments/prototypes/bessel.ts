import { checkOneOf, checkOptions } from "../../errors/internal";
import { halfPowerFrequency } from "./half-power";
import { checkOrder, conjugatePair, makePrototype, poleProduct } from "./prototype";
import type { Prototype } from "./prototype-data";
import { fromPrecise, preciseOne, preciseRoots } from "../../numeric/internal";

/** Which property of a Bessel function is put at ω = 1 rad/s. */
export type BesselNormalization = "delay" | "half-power" | "asymptote";

const corners = {
  delay: "unit delay (1 s) at zero frequency; the level there depends on the order",
  "half-power": "−3.01 dB",
  asymptote: "the asymptotes of low-pass and high-pass meet; the level there depends on the order",
} as const;

/**
 * The Bessel (Thomson) low-pass prototype, maximally flat in group delay: $H(s) = \theta_n(0)/\theta_n(s)$ with the reverse
 * Bessel polynomial $\theta_n(s) = \sum_k \frac{(2n-k)!}{(n-k)!\,k!\,2^{n-k}} s^k$. Three scalings are in use and differ
 * widely, so the result says which: `"delay"` (as above: a delay of 1 s), `"half-power"` (−3.01 dB at ω = 1 rad/s) and
 * `"asymptote"` (the straight lines of low-pass and high-pass meet at ω = 1 rad/s). After Thomson (1949).
 *
 * @param order n, dimensionless, 1 to 20
 * @param options `normalization`: one of the three words, default `"half-power"`
 * @returns zeros, poles (rad/s) and gain of the function, 1 at zero frequency
 * @throws DividingNetworkError `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { bessel } from "dividing-network/alignments";
 *
 * bessel(2, { normalization: "delay" }).poles; // [{ re: -1.5, im: 0.8660 }, { re: -1.5, im: -0.8660 }]
 * ```
 */
export function bessel(order: number, options: { readonly normalization?: BesselNormalization | undefined } = {}): Prototype {
  const n = checkOrder("bessel", order);
  const { normalization = "half-power" } = checkOptions("bessel", options, ["normalization"]);
  checkOneOf("bessel", "normalization", normalization, ["delay", "half-power", "asymptote"]);
  const poles = preciseRoots(reverseBesselPolynomial(n))
    .filter(({ im }) => im >= 0n)
    .map(({ re, im }) => ({ re: fromPrecise(re), im: fromPrecise(im) }))
    .sort((a, b) => b.im - a.im);
  const pairs = poles.flatMap(({ re, im }) => conjugatePair(re, im));
  const scale = normalization === "delay" ? 1 : normalization === "half-power" ? halfPowerFrequency(pairs) : poleProduct(pairs) ** (1 / n);
  return makePrototype(
    "bessel",
    corners[normalization],
    poles.flatMap(({ re, im }) => conjugatePair(re / scale, im / scale)),
  );
}

/** θₙ, lowest power first, exact: its coefficients are whole numbers. */
function reverseBesselPolynomial(n: number): bigint[] {
  const coefficients: bigint[] = [];
  let current = 1n;
  // From the highest power down: c(n) = 1, c(k) = c(k + 1) · (2n − k)(k + 1) / (2(n − k)).
  for (let k = n; k >= 0; k--) {
    if (k < n) current = (current * BigInt((2 * n - k) * (k + 1))) / BigInt(2 * (n - k));
    coefficients.unshift(current * preciseOne());
  }
  return coefficients;
}
