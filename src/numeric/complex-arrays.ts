/** A complex sequence as two arrays of one length. */
export interface ComplexArrays {
  /** Real parts. */
  readonly re: Float64Array;
  /** Imaginary parts, of the same length. */
  readonly im: Float64Array;
}

/** Numbers of nothing. */
export function zeros(count: number): ComplexArrays {
  return { re: new Float64Array(count), im: new Float64Array(count) };
}

/** a·b, point by point. */
export function product(a: ComplexArrays, b: ComplexArrays): ComplexArrays {
  const count = a.re.length;
  const { re, im } = zeros(count);
  const [ar, ai, br, bi] = [a.re, a.im, b.re, b.im];
  for (let i = 0; i < count; i++) {
    re[i] = ar[i]! * br[i]! - ai[i]! * bi[i]!;
    im[i] = ar[i]! * bi[i]! + ai[i]! * br[i]!;
  }
  return { re, im };
}

/** Adds factor·b to a at the points from … to − 1. */
export function addTo(a: ComplexArrays, factor: number, b: ComplexArrays, from = 0, to = a.re.length): void {
  for (let i = from; i < to; i++) {
    a.re[i] = a.re[i]! + factor * b.re[i]!;
    a.im[i] = a.im[i]! + factor * b.im[i]!;
  }
}

/** Takes the signs off zeros, in place: what lies exactly opposite has a phase of 180°, not of −180°. */
export function withoutMinusZero(arrays: ComplexArrays): ComplexArrays {
  const { re, im } = arrays;
  for (let i = 0; i < re.length; i++) {
    re[i] = re[i]! + 0;
    im[i] = im[i]! + 0;
  }
  return arrays;
}
