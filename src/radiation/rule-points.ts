import type { Extent } from "./points-needed";

/** Where the points of a rule are written, and room for what is derived from them. */
export interface RulePoints {
  /** 1/m. */
  amplitudes: Float64Array;
  /** m, beyond what all points have in common; of a rule along an edge, half the difference between the path and the height over the plane. */
  lengths: Float64Array;
  /** 1/m², amplitude over twice the length, and m, twice the length: what is left of a rule along an edge at higher frequencies. */
  perLength: Float64Array;
  doubles: Float64Array;
  /** Space for one value per point. */
  scaled: Float64Array;
  /** 1/m², the sum of `perLength`. */
  perLengthSum: number;
  /** m. */
  smallestLength: number;
  /** Number of points written. */
  count: number;
}

/**
 * How one source is integrated for one point. `"surface"`: $e^{-jkd}\sum a_i e^{-jk(R_i-d)}$, d being the distance from the source's middle.
 * `"edge"`: Green's theorem turns the integral over a flat surface into one around its edge,
 * $\frac1S e^{-jkz}\oint \frac{\rho\cdot n}{R+z}\,\mathrm{sinc}(kh)\,e^{-jkh}\,dl$ with $h = (R-z)/2$, z being the height over the plane
 * and ρ the vector in the plane from the foot of the point: one dimension fewer and no singularity over the surface. What all points have
 * in common is taken out, and the rest computed without subtracting long paths: far away it would be lost in their rounding.
 */
export interface IntegrationRule {
  readonly kind: "surface" | "edge";
  /** One or two dimensions. */
  readonly extents: readonly Extent[];
  /** The length that all points have in common, m. */
  readonly common: number;
  /** Size of the largest terms against their sum, dimensionless, at least 1. */
  readonly cancellation: number;
  /** The same with every element counted whole, for elements that are weighted by direction; the sum in phase is its. */
  readonly whole?: IntegrationRule | undefined;
  /** Writes the points for so many per dimension. */
  fill(points: RulePoints, first: number, second: number): void;
}

/** Makes room for n points, which are then written. */
export function room(points: RulePoints, n: number): void {
  if (points.amplitudes.length < n) {
    points.amplitudes = new Float64Array(2 * n);
    points.lengths = new Float64Array(2 * n);
    points.scaled = new Float64Array(2 * n);
    points.perLength = new Float64Array(2 * n);
    points.doubles = new Float64Array(2 * n);
  }
  points.count = n;
}

/** No points yet. */
export function noPoints(): RulePoints {
  const none = new Float64Array(0);
  return { amplitudes: none, lengths: none, perLength: none, doubles: none, scaled: none, perLengthSum: 0, smallestLength: 0, count: 0 };
}
