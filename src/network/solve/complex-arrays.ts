import { DividingNetworkError } from "../../errors";

/** A complex function on a grid, without the grid. */
export interface ComplexArrays {
  readonly re: Float64Array;
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

/** 1/Y of admittances (S) at frequencies in Hz. */
export function impedanceOf({ re: ar, im: ai }: ComplexArrays, frequencies: Float64Array): ComplexArrays {
  const { re, im } = zeros(ar.length);
  for (let i = 0; i < ar.length; i++) {
    if (ar[i] === 0 && ai[i] === 0)
      throw new DividingNetworkError(
        "infinite-impedance",
        `solve: no current flows at ${frequencies[i]} Hz, so that the impedance is infinite there`,
        "Use `admittance`, which is 0 there, or leave this frequency out",
      );
    // After Smith (1962): 1/Y of a conductance alone is exactly the resistance.
    if (Math.abs(ar[i]!) >= Math.abs(ai[i]!)) {
      const ratio = ai[i]! / ar[i]!;
      re[i] = 1 / (ar[i]! + ai[i]! * ratio);
      im[i] = -ratio * re[i]!;
    } else {
      const ratio = ar[i]! / ai[i]!;
      im[i] = -1 / (ai[i]! + ar[i]! * ratio);
      re[i] = -ratio * im[i]!;
    }
  }
  return { re, im };
}
