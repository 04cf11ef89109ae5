/** How finely the integral is taken: decimal digits aimed at along each coordinate, on the second winding and on the first. */
export interface Fineness {
  readonly outer: number;
  readonly inner: number;
  /** Points added everywhere, so that two rules never are the same. */
  readonly extra: number;
}

/** Gauss points for so many digits where the nearest singularity lies on the ellipse about the interval's ends whose half-axis is `axis` half-lengths. */
export function pointsFor(digits: number, axis: number, extra: number): number {
  const growth = Math.log(axis + Math.sqrt(Math.max(axis * axis - 1, 1e-12)));
  return Math.max(3, Math.min(24, Math.ceil((digits * Math.LN10) / (2 * growth)) + 1)) + extra;
}
