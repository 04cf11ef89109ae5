import { checkOrder, conjugatePair, makePrototype } from "./prototype";
import type { Prototype } from "./prototype-data";
import {
  fromPrecise,
  overPrecise,
  preciseOne,
  rootComplex,
  type Precise,
  addPolynomials,
  multiplyPolynomials,
  preciseRoots,
} from "../../numeric/internal";

/**
 * The Legendre–Papoulis ("optimum L") low-pass prototype: of all functions whose level falls steadily, the one that is
 * steepest at its corner. $|H(j\omega)|^2 = \frac{1}{1 + L_n(\omega^2)}$, −3.01 dB at ω = 1 rad/s. After Papoulis (1958)
 * and, for even orders, Fukada (1959).
 *
 * @param order n, dimensionless, 1 to 20
 * @returns zeros, poles (rad/s) and gain of the function, 1 at zero frequency
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { legendrePapoulis } from "dividing-network/alignments";
 *
 * legendrePapoulis(3).gain; // 0.57735
 * ```
 */
export function legendrePapoulis(order: number): Prototype {
  const n = checkOrder("legendrePapoulis", order);
  // 1 + L(ω²) at ω² = −s²; of each pair of roots ±s the one in the left half-plane is a pole.
  const inSquare = optimumPolynomial(n).map((value, k) => (k % 2 === 0 ? value : -value));
  inSquare[0]! += preciseOne();
  const poles = preciseRoots(inSquare)
    .filter(({ im }) => im >= 0n)
    .map((square) => rootComplex(square))
    .map(({ re, im }) => ({ re: -fromPrecise(re), im: fromPrecise(im) }))
    .sort((a, b) => b.im - a.im);
  return makePrototype(
    "legendre-papoulis",
    "−3.01 dB",
    poles.flatMap(({ re, im }) => conjugatePair(re, im)),
  );
}

/** Lₙ as a polynomial of x = ω², lowest power first. */
export function optimumPolynomial(n: number): Precise[] {
  const k = Math.floor((n - 1) / 2);
  const odd = n % 2 === 1;
  let sum: Precise[] = [0n];
  for (let i = 0; i <= k; i++) {
    if (odd || i % 2 === k % 2) sum = addPolynomials(sum, shiftedLegendre(i), BigInt(2 * i + 1) * preciseOne());
  }
  // Divided by 2(k+1)² (odd n) or (k+1)(k+2) (even n): that makes Lₙ(1) = 1.
  const divisor = BigInt(odd ? 2 * (k + 1) * (k + 1) : (k + 1) * (k + 2)) * preciseOne();
  const square = multiplyPolynomials(sum, sum).map((value) => overPrecise(value, divisor));
  // dv = 2 dx, and v + 1 = 2x for even orders.
  const integrand = odd ? square.map((value) => 2n * value) : [0n, ...square.map((value) => 4n * value)];
  return [0n, ...integrand.map((value, power) => value / BigInt(power + 1))];
}

/** The Legendre polynomial Pᵢ(2x − 1), lowest power of x first; whole coefficients. */
function shiftedLegendre(i: number): Precise[] {
  let coefficient = i % 2 === 0 ? 1n : -1n;
  return Array.from({ length: i + 1 }, (_, k) => {
    if (k > 0) coefficient = (-coefficient * BigInt((i + k) * (i - k + 1))) / BigInt(k * k);
    return coefficient * preciseOne();
  });
}
