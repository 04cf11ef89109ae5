import type { Extent } from "./points-needed";

/** Where the points of a rule are written, and room for what is derived from them. */
export interface RulePoints {
  /** 1/m. */
  amplitudes: Float64Array;
  /** m. */
  lengths: Float64Array;
  /** m; of a rule along an edge, half the difference between the path and the height over the plane. */
  halves: Float64Array;
  /** 1/m², amplitude over twice the half, and m, length plus half: what is left of a rule along an edge at higher frequencies. */
  perHalf: Float64Array;
  ends: Float64Array;
  /** Space for one value per point. */
  scaled: Float64Array;
  /** 1/m², the sum of `perHalf`. */
  perHalfSum: number;
  /** m. */
  smallestHalf: number;
  /** Number of points written. */
  count: number;
}

/**
 * How one source is integrated for one point. `"surface"`: $\sum a_i e^{-jkR_i}$. `"edge"`: Green's theorem turns the integral over a flat
 * surface into one around its edge, $\frac1S\oint \frac{\rho\cdot n}{R+z}\,\mathrm{sinc}\frac{k(R-z)}2\,e^{-jk(R+z)/2}\,dl$, z being the
 * height over the plane and ρ the vector in the plane from the foot of the point: one dimension fewer and no singularity over the surface.
 */
export interface IntegrationRule {
  readonly kind: "surface" | "edge";
  /** One or two dimensions. */
  readonly extents: readonly Extent[];
  /** Height over the plane, m; for edges. */
  readonly height: number;
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
    points.halves = new Float64Array(2 * n);
    points.scaled = new Float64Array(2 * n);
    points.perHalf = new Float64Array(2 * n);
    points.ends = new Float64Array(2 * n);
  }
  points.count = n;
}

/** No points yet. */
export function noPoints(): RulePoints {
  const none = new Float64Array(0);
  return { amplitudes: none, lengths: none, halves: none, perHalf: none, ends: none, scaled: none, perHalfSum: 0, smallestHalf: 0, count: 0 };
}
