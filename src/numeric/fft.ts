import { DividingNetworkError } from "../errors";
import { checkNumbers, computedAll, checkOptions, show } from "../errors/internal";
import { chirpTransform } from "./chirp-transform";
import type { ComplexArrays } from "./complex-arrays";

interface Plan {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  readonly scratchRe: Float64Array;
  readonly scratchIm: Float64Array;
}

// Twiddle factors and work space of the lengths used last: planned once, run many times.
const plans = /* @__PURE__ */ new Map<number, Plan>();
const keptPlans = 8;

function planFor(n: number): Plan {
  const known = plans.get(n);
  if (known !== undefined) return known;
  const cos = new Float64Array(n);
  const sin = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    cos[i] = Math.cos((2 * Math.PI * i) / n);
    sin[i] = Math.sin((2 * Math.PI * i) / n);
  }
  const plan = { cos, sin, scratchRe: new Float64Array(n), scratchIm: new Float64Array(n) };
  if (plans.size >= keptPlans) plans.delete(plans.keys().next().value!);
  plans.set(n, plan);
  return plan;
}

/**
 * Transforms a sequence whose length is a power of two in place (forward, e^(−j2πkn/N), not scaled). Swapping the two
 * arrays in the call gives the inverse times N.
 */
export function transformPowerOfTwo(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  const { cos, sin, scratchRe, scratchIm } = planFor(n);
  let xr = re;
  let xi = im;
  let yr = scratchRe;
  let yi = scratchIm;
  let stride = 1;
  let rest = n;
  // Stockham's self-sorting order, four points at a time: the result needs no bit reversal.
  for (; rest >= 4; rest >>= 2, stride <<= 2) {
    const quarter = rest >> 2;
    const b = stride * quarter;
    const c = 2 * b;
    const d = 3 * b;
    for (let k = 0; k < quarter; k++) {
      const t = k * stride;
      const c1 = cos[t]!;
      const s1 = -sin[t]!;
      const c2 = cos[2 * t]!;
      const s2 = -sin[2 * t]!;
      const c3 = cos[3 * t]!;
      const s3 = -sin[3 * t]!;
      let o = 4 * t;
      for (let i = t; i < t + stride; i++, o++) {
        const acRe = xr[i]! + xr[i + c]!;
        const acIm = xi[i]! + xi[i + c]!;
        const amRe = xr[i]! - xr[i + c]!;
        const amIm = xi[i]! - xi[i + c]!;
        const bdRe = xr[i + b]! + xr[i + d]!;
        const bdIm = xi[i + b]! + xi[i + d]!;
        const bmRe = xi[i + d]! - xi[i + b]!;
        const bmIm = xr[i + b]! - xr[i + d]!;
        yr[o] = acRe + bdRe;
        yi[o] = acIm + bdIm;
        const uRe = amRe - bmRe;
        const uIm = amIm - bmIm;
        yr[o + stride] = uRe * c1 - uIm * s1;
        yi[o + stride] = uRe * s1 + uIm * c1;
        const vRe = acRe - bdRe;
        const vIm = acIm - bdIm;
        yr[o + 2 * stride] = vRe * c2 - vIm * s2;
        yi[o + 2 * stride] = vRe * s2 + vIm * c2;
        const wRe = amRe + bmRe;
        const wIm = amIm + bmIm;
        yr[o + 3 * stride] = wRe * c3 - wIm * s3;
        yi[o + 3 * stride] = wRe * s3 + wIm * c3;
      }
    }
    [xr, yr] = [yr, xr];
    [xi, yi] = [yi, xi];
  }
  if (rest === 2) {
    for (let i = 0; i < stride; i++) {
      yr[i] = xr[i]! + xr[i + stride]!;
      yi[i] = xi[i]! + xi[i + stride]!;
      yr[i + stride] = xr[i]! - xr[i + stride]!;
      yi[i + stride] = xi[i]! - xi[i + stride]!;
    }
    [xr, yr] = [yr, xr];
    [xi, yi] = [yi, xi];
  }
  if (xr !== re) {
    re.set(xr);
    im.set(xi);
  }
}

/**
 * Transforms in place for any length: a power of two directly, other lengths through a chirp. Forward and not scaled;
 * swapping the two arrays in the call gives the inverse times N.
 */
export function transformInPlace(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  if (n < 2) return;
  if ((n & (n - 1)) === 0) transformPowerOfTwo(re, im);
  else chirpTransform(re, im, transformPowerOfTwo);
}

/**
 * Discrete Fourier transform of a complex sequence of any length, in the unit of its input.
 *
 * $$X_k = \sum_{n=0}^{N-1} x_n\, e^{-j 2\pi k n/N}, \qquad x_n = \frac1N \sum_{k=0}^{N-1} X_k\, e^{+j 2\pi k n/N}$$
 *
 * A power of two runs in N log N with four-point steps; any other length by the chirp method at about six times that.
 *
 * @param re real parts, length N ≥ 1
 * @param im imaginary parts, length N
 * @param options `inverse` (default false) gives the second formula, with its 1/N
 * @returns new arrays of length N, in the input's unit
 * @throws DividingNetworkError `invalid-argument`
 * Source: Cooley and Tukey (1965); self-sorting order after Stockham (1966); chirp after Bluestein (1970).
 * @example
 * ```ts
 * import { fft } from "dividing-network/numeric";
 *
 * fft([1, 0, 0, 0], [0, 0, 0, 0]).re; // [1, 1, 1, 1]
 * ```
 */
export function fft(re: ArrayLike<number>, im: ArrayLike<number>, options?: { readonly inverse?: boolean | undefined }): ComplexArrays {
  const { inverse = false } = checkOptions("fft", options, ["inverse"]);
  const n = re?.length;
  if (!(n >= 1 && im?.length === n)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `fft: "re" and "im" must have one length of at least 1, got ${show(re)} and ${show(im)}`,
    );
  }
  checkNumbers("fft", "re", re);
  checkNumbers("fft", "im", im);
  const outRe = Float64Array.from(re);
  const outIm = Float64Array.from(im);
  if (!inverse) transformInPlace(outRe, outIm);
  else {
    transformInPlace(outIm, outRe);
    for (let i = 0; i < n; i++) {
      outRe[i] = outRe[i]! / n;
      outIm[i] = outIm[i]! / n;
    }
  }
  return Object.freeze({ re: computedAll("fft", outRe), im: computedAll("fft", outIm) });
}
