/**
 * Fixed-point numbers of 640 binary places held in a bigint: for the few short calculations (ladder synthesis, poles of
 * published polynomials) in which double precision would cancel away.
 */
export type Precise = bigint;

const places = 640n;

/** The number 1. */
export function preciseOne(): Precise {
  return 1n << places;
}

/** A double, exactly (below 2⁻⁶⁴⁰ it is cut off). */
export function toPrecise(value: number): Precise {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, value);
  const bits = view.getBigUint64(0);
  const exponent = Number((bits >> 52n) & 0x7ffn);
  const fraction = bits & 0xfffffffffffffn;
  const mantissa = exponent === 0 ? fraction : fraction | 0x10000000000000n;
  const shift = BigInt(Math.max(exponent, 1) - 1075) + places;
  const size = shift >= 0n ? mantissa << shift : mantissa >> -shift;
  return value < 0 ? -size : size;
}

/** The nearest double. */
export function fromPrecise(value: Precise): number {
  // Beyond 2⁷⁰⁰ the number alone would overflow before it is scaled.
  return value >> 1020n === 0n || value >> 1020n === -1n ? Number(value) / 2 ** 640 : Number(value >> places);
}

/** a · b */
export function timesPrecise(a: Precise, b: Precise): Precise {
  return (a * b) >> places;
}

/** a / b, for b ≠ 0 */
export function overPrecise(a: Precise, b: Precise): Precise {
  return (a << places) / b;
}

/** √a, for a ≥ 0, by Newton's method on whole numbers. */
export function rootPrecise(a: Precise): Precise {
  if (a <= 0n) return 0n;
  const square = a << places;
  let guess = 1n << BigInt(((square.toString(16).length * 4) >> 1) + 1);
  for (;;) {
    const next = (guess + square / guess) >> 1n;
    if (next >= guess) return guess;
    guess = next;
  }
}

/** A complex number of that precision. */
export interface PreciseComplex {
  readonly re: Precise;
  readonly im: Precise;
}

/** a · b */
export function timesComplex(a: PreciseComplex, b: PreciseComplex): PreciseComplex {
  return { re: (a.re * b.re - a.im * b.im) >> places, im: (a.re * b.im + a.im * b.re) >> places };
}

/** a / b, for b ≠ 0 */
export function overComplex(a: PreciseComplex, b: PreciseComplex): PreciseComplex {
  const size = b.re * b.re + b.im * b.im;
  return { re: ((a.re * b.re + a.im * b.im) << places) / size, im: ((a.im * b.re - a.re * b.im) << places) / size };
}

/** The square root with a real part ≥ 0. */
export function rootComplex(a: PreciseComplex): PreciseComplex {
  const size = rootPrecise(timesPrecise(a.re, a.re) + timesPrecise(a.im, a.im));
  const half = rootPrecise((size + (a.re < 0n ? -a.re : a.re)) >> 1n);
  if (half === 0n) return { re: 0n, im: 0n };
  const other = overPrecise(a.im, half << 1n);
  if (a.re >= 0n) return { re: half, im: other };
  return a.im < 0n ? { re: -other, im: -half } : { re: other, im: half };
}
