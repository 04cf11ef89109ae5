import { DividingNetworkError } from "../errors";
import { checkNumbers, computedAll, checkNumber, show } from "../errors/internal";
import type { ComplexArrays } from "./complex-arrays";
import { transformInPlace } from "./fft";

/**
 * Discrete Fourier transform of a real sequence: the values at k = 0 … ⌊N/2⌋, in the unit of the input; the others are
 * their conjugates. Even lengths are done as one complex transform of half the length.
 *
 * @param samples real values, length N ≥ 1, in any one unit
 * @returns `re` and `im` of length ⌊N/2⌋ + 1, in the input's unit
 * @throws DividingNetworkError `invalid-argument` when there is no sample
 * Source: textbook, e.g. after Cooley, Lewis and Welch (1970).
 * @example
 * ```ts
 * import { realFft } from "dividing-network/numeric";
 *
 * realFft([0, 1, 0, 0]).im; // [0, -1, 0]
 * ```
 */
export function realFft(samples: ArrayLike<number>): ComplexArrays {
  const n = checkNumbers("realFft", "samples", samples).length;
  const half = Math.floor(n / 2);
  const re = new Float64Array(half + 1);
  const im = new Float64Array(half + 1);
  if (n % 2 === 1) {
    const wholeRe = Float64Array.from(samples);
    const wholeIm = new Float64Array(n);
    transformInPlace(wholeRe, wholeIm);
    re.set(wholeRe.subarray(0, half + 1));
    im.set(wholeIm.subarray(0, half + 1));
    return Object.freeze({ re: computedAll("realFft", re), im: computedAll("realFft", im) });
  }
  const evenRe = new Float64Array(half);
  const oddIm = new Float64Array(half);
  for (let i = 0; i < half; i++) {
    evenRe[i] = samples[2 * i]!;
    oddIm[i] = samples[2 * i + 1]!;
  }
  transformInPlace(evenRe, oddIm);
  const step = rotation(n);
  for (let k = 0; k <= half; k++) {
    const i = k === half ? 0 : k;
    const j = k === 0 ? 0 : half - k;
    const sumRe = (evenRe[i]! + evenRe[j]!) / 2;
    const sumIm = (oddIm[i]! - oddIm[j]!) / 2;
    const differenceRe = (oddIm[i]! + oddIm[j]!) / 2;
    const differenceIm = (evenRe[j]! - evenRe[i]!) / 2;
    const c = step.cos[k]!;
    const s = -step.sin[k]!;
    re[k] = sumRe + differenceRe * c - differenceIm * s;
    im[k] = sumIm + differenceRe * s + differenceIm * c;
  }
  return Object.freeze({ re: computedAll("realFft", re), im: computedAll("realFft", im) });
}

/**
 * The real sequence of length N whose transform is given by its first ⌊N/2⌋ + 1 values, in their unit; the inverse of
 * `realFft`. Imaginary parts at k = 0 and, for even N, at k = N/2 cannot belong to a real sequence and are not used.
 *
 * @param re real parts, length ⌊N/2⌋ + 1
 * @param im imaginary parts, the same length
 * @param length N, dimensionless
 * @returns the N real values, in the input's unit
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { inverseRealFft } from "dividing-network/numeric";
 *
 * inverseRealFft([1, 1, 1], [0, 0, 0], 4); // [1, 0, 0, 0]
 * ```
 */
export function inverseRealFft(re: ArrayLike<number>, im: ArrayLike<number>, length: number): Float64Array {
  const n = checkNumber("inverseRealFft", "length", length, { min: 1, max: 2 ** 26, integer: true });
  const half = Math.floor(n / 2);
  checkNumbers("inverseRealFft", "re", re);
  checkNumbers("inverseRealFft", "im", im);
  if (re.length !== half + 1 || im.length !== half + 1) {
    throw new DividingNetworkError(
      "invalid-argument",
      `inverseRealFft: "re" and "im" must have ${half + 1} values for a length of ${n}, got ${show(re)} and ${show(im)}`,
    );
  }
  const out = new Float64Array(n);
  if (n % 2 === 1) {
    const wholeIm = new Float64Array(n);
    for (let k = 0; k <= half; k++) {
      out[k] = re[k]!;
      wholeIm[k] = k === 0 ? 0 : im[k]!;
      if (k > 0) {
        out[n - k] = re[k]!;
        wholeIm[n - k] = -im[k]!;
      }
    }
    transformInPlace(wholeIm, out);
    for (let i = 0; i < n; i++) out[i] = out[i]! / n;
    return computedAll("inverseRealFft", out);
  }
  const evenRe = new Float64Array(half);
  const oddIm = new Float64Array(half);
  const step = rotation(n);
  for (let k = 0; k < half; k++) {
    const j = half - k;
    const imK = k === 0 ? 0 : im[k]!;
    const imJ = k === 0 ? 0 : im[j]!;
    const sumRe = (re[k]! + re[j]!) / 2;
    const sumIm = (imK - imJ) / 2;
    const halfRe = (re[k]! - re[j]!) / 2;
    const halfIm = (imK + imJ) / 2;
    const c = step.cos[k]!;
    const s = step.sin[k]!;
    evenRe[k] = sumRe - (halfRe * s + halfIm * c);
    oddIm[k] = sumIm + (halfRe * c - halfIm * s);
  }
  transformInPlace(oddIm, evenRe);
  for (let i = 0; i < half; i++) {
    out[2 * i] = evenRe[i]! / half;
    out[2 * i + 1] = oddIm[i]! / half;
  }
  return computedAll("inverseRealFft", out);
}

// cos and sin of 2πk/n for k = 0 … n/2, the last length kept.
let kept: { readonly n: number; readonly cos: Float64Array; readonly sin: Float64Array } | undefined;

function rotation(n: number): { readonly cos: Float64Array; readonly sin: Float64Array } {
  if (kept?.n === n) return kept;
  const cos = new Float64Array(n / 2 + 1);
  const sin = new Float64Array(n / 2 + 1);
  for (let k = 0; k <= n / 2; k++) {
    cos[k] = Math.cos((2 * Math.PI * k) / n);
    sin[k] = Math.sin((2 * Math.PI * k) / n);
  }
  kept = { n, cos, sin };
  return kept;
}
