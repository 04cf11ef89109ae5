/**
 * The normal distribution function Φ: its Maclaurin series with factors of one sign within ±3, Laplace's continued fraction of the tail beyond
 * (Abramowitz and Stegun 7.1.6 and 7.1.14, cited from memory). Good to some 1e-15.
 */
export function normalCdf(x: number): number {
  if (Number.isNaN(x)) return x;
  const size = Math.abs(x);
  const density = Math.exp((-size * size) / 2) / Math.sqrt(2 * Math.PI);
  let upper: number;
  if (size < 3) {
    let [term, sum] = [size, size];
    for (let k = 3; term > 1e-17 * sum; k += 2) {
      term *= (size * size) / k;
      sum += term;
    }
    upper = 0.5 - density * sum;
  } else if (size > 40) upper = 0;
  else {
    let tail = size;
    for (let k = 120; k >= 1; k--) tail = size + k / tail;
    upper = density / tail;
  }
  return x < 0 ? upper : 1 - upper;
}
