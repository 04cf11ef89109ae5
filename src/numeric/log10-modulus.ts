/**
 * The decimal logarithm of the absolute value of a complex number, dimensionless: finite for every number but 0, also where the
 * absolute value itself is beyond 10³⁰⁸, as that of 1.7·10³⁰⁸ (1 + j) is.
 *
 * @param re real part, any unit
 * @param im imaginary part, same unit
 * @returns lg √(re² + im²) of the bare numbers; −∞ for 0
 */
export function log10Modulus(re: number, im: number): number {
  const squared = re * re + im * im;
  if (squared > 1e-280 && squared < 1e280) return Math.log10(Math.sqrt(squared));
  const [x, y] = [Math.abs(re), Math.abs(im)];
  const [less, more] = x < y ? [x, y] : [y, x];
  return more === 0 ? -Infinity : Math.log10(more) + Math.log10(Math.hypot(1, less / more));
}
