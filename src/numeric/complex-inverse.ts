import { DividingNetworkError } from "../errors";
import { checkNumber, show } from "../errors/internal";

/**
 * Inverts a square complex matrix in place, by Gauss–Jordan elimination with partial pivoting on |re| + |im|. Rows may differ by many
 * decades: pivots from 1e-300 to 1e300 lose nothing. Nothing is allocated but a small index array.
 *
 * @param re real parts, n × n by rows, dimensionless or in any unit; replaced by those of the inverse
 * @param im imaginary parts, likewise by rows and in the same unit, or dimensionless
 * @param n rows, dimensionless
 * @returns false when a pivot is zero or a number isn't finite, of the matrix or of its inverse: the arrays are then left half done
 * @throws DividingNetworkError `invalid-argument` when the arrays hold fewer than n × n numbers, or are one
 * @example
 * ```ts
 * import { invertComplex } from "dividing-network/numeric";
 *
 * const [re, im] = [new Float64Array([0, 2, 4, 0]), new Float64Array(4)];
 * invertComplex(re, im, 2); // true
 * re; // [0, 0.25, 0.5, 0]
 * ```
 */
export function invertComplex(re: Float64Array, im: Float64Array, n: number): boolean {
  checkNumber("invertComplex", "n", n, { integer: true, min: 0, max: 10_000 });
  for (const [name, part] of [
    ["re", re],
    ["im", im],
  ] as const) {
    if (!(part instanceof Float64Array) || part.length < n * n)
      throw new DividingNetworkError(
        "invalid-argument",
        `invertComplex: "${name}" must be a Float64Array of ${n} × ${n} numbers, got ${show(part)}`,
      );
  }
  if (re === im && n > 0)
    throw new DividingNetworkError("invalid-argument", 'invertComplex: "re" and "im" must be two arrays, got one for both');
  const swaps = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    let [best, size] = [k, -1];
    for (let i = k; i < n; i++) {
      const now = Math.abs(re[i * n + k]!) + Math.abs(im[i * n + k]!);
      if (now > size) [best, size] = [i, now];
    }
    if (!(size > 0)) return false;
    swaps[k] = best;
    if (best !== k) swapRows(re, im, n, best, k);
    const at = k * n + k;
    // Of a pivot whose square is beyond what a number holds, a part of it that isn't.
    const unit = size > 1e-140 && size < 1e140 ? 1 : size;
    const [ar, ai] = [re[at]! / unit, im[at]! / unit];
    const square = ar * ar + ai * ai;
    const [pr, pi] = [ar / square / unit, -ai / square / unit];
    re[at] = 1;
    im[at] = 0;
    for (let j = k * n; j < k * n + n; j++) {
      const [x, y] = [re[j]!, im[j]!];
      re[j] = x * pr - y * pi;
      im[j] = x * pi + y * pr;
    }
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const [fr, fi] = [re[i * n + k]!, im[i * n + k]!];
      if (fr === 0 && fi === 0) continue;
      re[i * n + k] = 0;
      im[i * n + k] = 0;
      for (let j = 0; j < n; j++) {
        const [x, y] = [re[k * n + j]!, im[k * n + j]!];
        re[i * n + j]! -= fr * x - fi * y;
        im[i * n + j]! -= fr * y + fi * x;
      }
    }
  }
  for (let k = n - 1; k >= 0; k--) if (swaps[k] !== k) swapColumns(re, im, n, swaps[k]!, k);
  for (let i = 0; i < n * n; i++) if (!Number.isFinite(re[i]!) || !Number.isFinite(im[i]!)) return false;
  return true;
}

function swapRows(re: Float64Array, im: Float64Array, n: number, a: number, b: number): void {
  for (let j = 0; j < n; j++) {
    [re[a * n + j], re[b * n + j]] = [re[b * n + j]!, re[a * n + j]!];
    [im[a * n + j], im[b * n + j]] = [im[b * n + j]!, im[a * n + j]!];
  }
}

function swapColumns(re: Float64Array, im: Float64Array, n: number, a: number, b: number): void {
  for (let i = 0; i < n; i++) {
    [re[i * n + a], re[i * n + b]] = [re[i * n + b]!, re[i * n + a]!];
    [im[i * n + a], im[i * n + b]] = [im[i * n + b]!, im[i * n + a]!];
  }
}
