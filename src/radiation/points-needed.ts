/**
 * How hard the integral over one dimension of a source is, seen from a point: by how many metres the distance changes per unit of the
 * integration variable on [−1, 1] at most, and how far away, as the sum of half-axes of a Bernstein ellipse, the integrand is smooth.
 */
export interface Extent {
  /** m. */
  readonly slope: number;
  /** Dimensionless, above 1. */
  readonly ellipse: number;
}

const ellipses = /* @__PURE__ */ Object.freeze([1.02, 1.05, 1.1, 1.2, 1.35, 1.5, 1.75, 2, 2.5, 3, 4, 6, 10, 20, 50, 1e3, 1e5, 1e8]);

/**
 * Points that a Gauss rule needs for an integrand of given extent, by the classic bound ρ^(−2n) times the growth of $e^{-jkR}$ on an ellipse,
 * minimised over a few ellipses. It is a first guess: the sum itself is always compared with one of more points.
 *
 * @param k wavenumber, rad/m
 * @param extent as seen from the point
 * @param tolerance wanted error relative to a sum in phase, dimensionless
 * @returns a whole number of at least 1, of a coarse ladder
 */
export function pointsNeeded(k: number, extent: Extent, tolerance: number): number {
  const digits = Math.log(2 / tolerance);
  const growth = (k * extent.slope) / 2;
  let best = Infinity;
  for (const candidate of ellipses) {
    const ellipse = Math.min(candidate, extent.ellipse);
    best = Math.min(best, (digits + growth * (ellipse - 1 / ellipse)) / (2 * Math.log(ellipse)));
    if (ellipse < candidate) break;
  }
  return onLadder(Math.max(1, Math.ceil(best)));
}

/** The next rule that is clearly finer than one of n points. */
export function finer(n: number): number {
  return onLadder(n + Math.max(2, Math.ceil(n / 5)));
}

/** Few different rules, so that each is computed once: all whole numbers to 16, then eight to an octave. */
function onLadder(n: number): number {
  if (n <= 16 || !(n < 1e6)) return n;
  const step = 2 ** (Math.floor(Math.log2(n)) - 3);
  return Math.ceil(n / step) * step;
}

/**
 * Extent of a straight piece of half length h, for a point whose distance from its line is `off` and from its middle, along it, `along`. m.
 */
export function straightExtent(half: number, off: number, along: number): Extent {
  const above = half - along;
  const below = half + along;
  const toTop = Math.hypot(off, above);
  const toBottom = Math.hypot(off, below);
  return {
    slope: half * Math.max(Math.abs(above) / toTop, Math.abs(below) / toBottom),
    ellipse: ellipseSum((toTop + toBottom) / (2 * half)),
  };
}

/** Extent of half a circle of a radius, for a point `height` off its plane and `off` its axis. m. */
export function circleExtent(radius: number, height: number, off: number): Extent {
  const product = radius * off;
  if (product === 0) return { slope: 0, ellipse: 1e8 };
  const nearest = Math.hypot(height, radius - off);
  return {
    slope: Math.min(radius, off, product / nearest),
    ellipse: ellipseSum((height * height + off * off + radius * radius) / (2 * product)),
  };
}

/** Extent of any smooth piece of half length h whose nearest point is at a distance, seen at a slant of at most `sine`. m. */
export function roughExtent(half: number, nearest: number, sine: number): Extent {
  const ratio = nearest / half;
  return { slope: half * Math.min(1, sine), ellipse: ratio + Math.hypot(1, ratio) };
}

function ellipseSum(halfAxis: number): number {
  return halfAxis > 1 ? Math.min(1e8, halfAxis + Math.sqrt((halfAxis - 1) * (halfAxis + 1))) : 1;
}
