import { DividingNetworkError } from "../../errors";
import { polynomialRoots, type Root } from "../polynomial";
import {
  fromPrecise,
  overComplex,
  overPrecise,
  preciseOne,
  timesComplex,
  timesPrecise,
  toPrecise,
  type Precise,
  type PreciseComplex,
} from "./precise";

/** Coefficients of a real polynomial, lowest power first. */
export type PrecisePolynomial = readonly Precise[];

/** a + factor · b, of the greater length of the two. */
export function addPolynomials(a: PrecisePolynomial, b: PrecisePolynomial, factor: Precise): Precise[] {
  return Array.from({ length: Math.max(a.length, b.length) }, (_, k) => (a[k] ?? 0n) + timesPrecise(factor, b[k] ?? 0n));
}

/** a · b */
export function multiplyPolynomials(a: PrecisePolynomial, b: PrecisePolynomial): Precise[] {
  const product = new Array<Precise>(a.length + b.length - 1).fill(0n);
  a.forEach((left, i) => b.forEach((right, k) => (product[i + k]! += left * right)));
  return product.map((sum) => sum / preciseOne());
}

/**
 * The monic polynomial that has the given roots, conjugate pairs listed together; of each complex pair only the upper
 * one is used, so that the coefficients are real by construction.
 */
export function polynomialFromRoots(roots: readonly PreciseComplex[]): Precise[] {
  let product: Precise[] = [preciseOne()];
  for (const { re, im } of roots) {
    if (im === 0n) product = multiplyPolynomials(product, [-re, preciseOne()]);
    else if (im > 0n) product = multiplyPolynomials(product, [timesPrecise(re, re) + timesPrecise(im, im), -re << 1n, preciseOne()]);
  }
  return product;
}

/** Doubles, exactly. */
export function toPreciseRoots(roots: readonly Root[]): PreciseComplex[] {
  return roots.map(({ re, im }) => ({ re: toPrecise(re), im: toPrecise(im) }));
}

/**
 * All roots of a polynomial, of which none is zero, far beyond double precision: double-precision roots as a start, then
 * Aberth's simultaneous iteration. Ends after 200 rounds at most.
 */
export function preciseRoots(polynomial: PrecisePolynomial): PreciseComplex[] {
  const n = polynomial.length - 1;
  if (n < 1) return [];
  const monic = polynomial.map((value) => overPrecise(value, polynomial[n]!));
  const rough = polynomialRoots(monic.map(fromPrecise).reverse());
  // Nudged off the real axis and apart: a symmetric start could not turn a pair that looks complex into two real roots.
  const roots = rough.map(({ re, im }, k) => ({
    re: toPrecise(re * (1 + 1e-9 * (k + 1))),
    im: toPrecise(im + 1e-9 * Math.hypot(re, im) * (1 + k / n)),
  }));
  const [done, near] = [roots.map(() => false), roots.map(() => false)];
  for (let round = 0; round < 200 && done.includes(false); round++) {
    roots.forEach((root, k) => {
      if (done[k]) return;
      const step = aberthStep(monic, roots, k);
      roots[k] = { re: root.re - step.re, im: root.im - step.im };
      done[k] = magnitude(step) << 500n <= magnitude(root) || magnitude(step) <= 1n << 24n;
      near[k] = done[k] || magnitude(step) << 200n <= magnitude(root);
    });
  }
  // Roots that (nearly) coincide are found to half of the places only.
  if (near.includes(false)) {
    throw new DividingNetworkError(
      "no-solution",
      "polynomial: its roots could not be found",
      "Give poles that lie less close to each other, or less far apart",
    );
  }
  return roots.map((root) => (magnitude({ re: 0n, im: root.im }) << 120n <= magnitude(root) ? { re: root.re, im: 0n } : root));
}

function magnitude({ re, im }: PreciseComplex): Precise {
  return (re < 0n ? -re : re) + (im < 0n ? -im : im);
}

function aberthStep(monic: PrecisePolynomial, roots: readonly PreciseComplex[], k: number): PreciseComplex {
  const at = roots[k]!;
  let value: PreciseComplex = { re: 0n, im: 0n };
  let slope = value;
  for (let power = monic.length - 1; power >= 0; power--) {
    slope = timesComplex(slope, at);
    slope = { re: slope.re + value.re, im: slope.im + value.im };
    value = timesComplex(value, at);
    value = { re: value.re + monic[power]!, im: value.im };
  }
  if (magnitude(slope) === 0n || magnitude(value) === 0n) return { re: 0n, im: 0n };
  const newton = overComplex(value, slope);
  let [re, im] = [0n, 0n];
  roots.forEach((other, i) => {
    const gap = { re: at.re - other.re, im: at.im - other.im };
    if (i === k || magnitude(gap) === 0n) return;
    const push = overComplex({ re: preciseOne(), im: 0n }, gap);
    re += push.re;
    im += push.im;
  });
  const repelled = timesComplex(newton, { re, im });
  const divisor = { re: preciseOne() - repelled.re, im: -repelled.im };
  return magnitude(divisor) === 0n ? newton : overComplex(newton, divisor);
}
