import { DividingNetworkError } from "../errors";
import { checkNumber } from "../errors/internal";
import { fitEnd, shapeIntercept, shapeLevel, type EndShape } from "./fit-end";

/**
 * How ln|H| goes on beyond an end of the data, as a function of t = |ln(f/edge)| ≥ 0: it leaves with the data's own slope
 * and bends to its final one, or follows a stated high- or low-pass shape.
 */
export interface Tail {
  /** ln of the edge's frequency. */
  readonly edge: number;
  /** ln|H| at the edge. */
  readonly level: number;
  /** d ln|H| / dt at the edge, from the data. */
  readonly slope: number;
  /** d ln|H| / dt far out: minus the order. */
  readonly finalSlope: number;
  /** How fast the slope bends, per neper of frequency. */
  readonly rate: number;
  /** t of the stated corner (negative inside the band) and Q, 0 for a Butterworth shape. */
  readonly corner?: { readonly t: number; readonly q: number };
  /** The roll-off that the last octaves show, where one explains them. */
  readonly shape?: EndShape;
  /** Doubt of the slope next to the edge. */
  readonly doubt: number;
  readonly stated: boolean;
}

/** What a caller said about one end. */
export interface StatedTail {
  /** Fall in dB per octave going outwards. */
  readonly slope: number | undefined;
  /** Hz */
  readonly corner: number | undefined;
  readonly q: number | undefined;
  /** The data were cut at their limit of trust: there is no shape to be read from them. */
  readonly cut: boolean;
}

const sixDb = 6;
/** Doubt, in orders, of a slope where no roll-off explains the data, and of one from which on a roll-off explains nothing. */
const unexplained = 0.5;
const vague = 3;
/** A power law over two octaves, by what ln|H| misses a straight line. */
const exactLine = 1e-8;

/**
 * The tail at one end: `outward` is −1 for the low end, +1 for the high end. `x` is ln f, `level` is ln|H|, both of the
 * trusted band only. An unstated final slope is the nearest whole order when the data come within 0.2 of it, else the
 * data's own slope.
 */
export function fitTail(caller: string, x: Float64Array, level: Float64Array, outward: -1 | 1, stated: StatedTail): Tail {
  const end = outward < 0 ? "low" : "high";
  const n = x.length;
  const at = outward < 0 ? 0 : n - 1;
  const edge = x[at]!;
  const { slope, curvature, slopeError } = edgeShape(x, level, at, outward);
  if (stated.slope !== undefined) checkNumber(caller, `${end}Slope`, stated.slope, { min: -96, max: 96, unit: "dB per octave" });
  if (stated.corner !== undefined && stated.slope === undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${end}Corner" must come with "${end}Slope"`,
      `State the order of the roll-off, e.g. ${end}Slope: 12`,
    );
  }
  if (stated.q !== undefined && !(stated.corner !== undefined && stated.slope === 12)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${end}Q" must come with "${end}Corner" and ${end}Slope: 12`,
      "A Q belongs to a second-order corner",
    );
  }
  const assumed = assumedSlope(slope, curvature);
  const finalSlope = stated.slope === undefined ? assumed.finalSlope : -stated.slope / sixDb;
  const gap = slope - finalSlope;
  const measuredRate = -curvature / gap;
  const rate = Math.abs(gap) > 1e-3 && measuredRate > 1 && measuredRate < 8 ? measuredRate : 2;
  const doubt = slopeError + Math.max(Math.abs(gap) / 2, stated.slope === undefined ? assumed.doubt : 0);
  const tail = { edge, level: level[at]!, slope, finalSlope, rate, doubt, stated: stated.slope !== undefined };
  if (stated.corner === undefined) return stated.cut ? tail : withShape(tail, x, level, outward);
  if (finalSlope > -1)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${end}Corner" must come with a "${end}Slope" of at least 6 dB per octave`,
    );
  const hertz = checkNumber(caller, `${end}Corner`, stated.corner, { above: 0, unit: "Hz" });
  const q = stated.q === undefined ? 0 : checkNumber(caller, `${end}Q`, stated.q, { min: 0.1, max: 100 });
  const corner = { t: outward * (Math.log(hertz) - edge), q };
  const shaped = { ...tail, corner };
  const step = 1e-4;
  return { ...shaped, doubt: slopeError + Math.abs(slope - (tailLevel(shaped, step) - tail.level) / step) };
}

// The tail by the roll-off that the data show, where that leaves less doubt.
function withShape(tail: Tail, x: Float64Array, level: Float64Array, outward: -1 | 1): Tail {
  const sign = (tail.stated ? tail.finalSlope : tail.slope) > 0.3 ? -1 : 1;
  const order = tail.stated ? Math.abs(tail.finalSlope) : undefined;
  if (order !== undefined && !(Number.isInteger(order) && order <= 16)) return tail;
  const { meanResidual } = parabola(x, level, outward < 0 ? 0 : x.length - 1, outward, 2 * Math.LN2);
  if (meanResidual < exactLine) return tail;
  const fit = fitEnd(x, level, outward, sign, order);
  if (fit === undefined) return tail.stated ? tail : { ...tail, doubt: Math.max(tail.doubt, unexplained) };
  if (meanResidual < 2 * fit.residual) return tail;
  if (fit.doubt > vague) return { ...tail, doubt: Math.max(tail.doubt, Math.min(fit.doubt, 2 * vague)) };
  return { ...tail, shape: fit.shape, finalSlope: -sign * fit.shape.order, doubt: fit.doubt };
}

/** ln|H| at the distance t ≥ 0 beyond the edge. */
export function tailLevel(tail: Tail, t: number): number {
  const { corner, finalSlope, rate, shape } = tail;
  if (shape !== undefined) return tail.level + shapeLevel(shape, t);
  if (corner !== undefined) return tail.level + cornerLevel(tail, t) - cornerLevel(tail, 0);
  return tail.level + finalSlope * t + ((tail.slope - finalSlope) * -Math.expm1(-rate * t)) / rate;
}

/** The line that the tail tends to: ln|H| → intercept + finalSlope · t. */
export function tailIntercept(tail: Tail): number {
  const { corner, finalSlope, shape } = tail;
  if (shape !== undefined) return tail.level + shapeIntercept(shape);
  if (corner !== undefined) return tail.level - cornerLevel(tail, 0) - finalSlope * corner.t;
  return tail.level + (tail.slope - finalSlope) / tail.rate;
}

// ln|H| of the stated corner's own shape, 0 well inside the band.
function cornerLevel({ corner, finalSlope }: Tail, t: number): number {
  const u = t - corner!.t;
  const order = -finalSlope;
  if (corner!.q === 0) return u > 0 ? -order * u - 0.5 * Math.log1p(Math.exp(-2 * order * u)) : -0.5 * Math.log1p(Math.exp(2 * order * u));
  // (1 − r²)² + (r/Q)² with r = e^u, divided by r⁴ where r is large.
  const r2 = Math.exp(-2 * Math.abs(u));
  return (u > 0 ? -2 * u : 0) - 0.5 * Math.log((1 - r2) ** 2 + r2 / corner!.q ** 2);
}

/**
 * Where an unstated slope will settle: at the nearest whole order when it is close to it and not on its way past it, else at
 * the next steeper order when it bends downwards, the nearest one when it bends upwards, or where it is when it does not bend.
 */
function assumedSlope(slope: number, curvature: number): { finalSlope: number; doubt: number } {
  const nearest = Math.round(slope);
  const gap = nearest - slope;
  const steady = Math.abs(curvature) < 0.02;
  const approaching = curvature * gap > 0 && Math.abs(curvature) < 12 * Math.abs(gap);
  if (Math.abs(gap) < 0.2 && approaching) return { finalSlope: nearest, doubt: 0 };
  if (Math.abs(gap) < 0.2 && Math.abs(curvature) < 0.25) return { finalSlope: nearest, doubt: Math.abs(curvature) };
  if (steady) return { finalSlope: slope, doubt: Math.abs(gap) };
  return curvature < 0 ? { finalSlope: Math.floor(slope - 0.05), doubt: 0.5 } : { finalSlope: nearest, doubt: 0.5 + Math.abs(gap) };
}

/**
 * Slope and curvature (per t) at the edge: a parabola by least squares over a quarter octave, at least four points; over
 * half or a whole octave where the scatter makes the curvature doubtful, and a straight line where it still is.
 */
function edgeShape(
  x: Float64Array,
  level: Float64Array,
  at: number,
  outward: -1 | 1,
): { slope: number; curvature: number; slopeError: number } {
  for (const octaves of [0.25, 0.5, 1]) {
    const { slope, curvature, slopeError, curvatureError } = parabola(x, level, at, outward, octaves * Math.LN2);
    if (curvatureError < 0.05) return { slope, curvature, slopeError };
  }
  const { meanSlope, meanSlopeError } = parabola(x, level, at, outward, Math.LN2);
  return { slope: meanSlope, curvature: 0, slopeError: meanSlopeError };
}

function parabola(x: Float64Array, level: Float64Array, at: number, outward: -1 | 1, span: number) {
  const n = x.length;
  const inside = (count: number): boolean => count < n && (count < 4 || Math.abs(x[at - outward * count]! - x[at]!) <= span);
  let count = 1;
  while (inside(2 * count)) count *= 2;
  for (let add = count; add >= 1; add = Math.floor(add / 2)) while (inside(count + add)) count += add;
  // A few hundred of the points are enough.
  const stride = Math.max(1, Math.floor(count / 256));
  const t: number[] = [];
  const y: number[] = [];
  let [s0, s1, s2, s3, s4, r0, r1, r2] = [0, 0, 0, 0, 0, 0, 0, 0];
  for (let i = 0; i <= count; i += stride) {
    const k = at - outward * i;
    const u = outward * (x[k]! - x[at]!);
    const v = level[k]! - level[at]!;
    t.push(u);
    y.push(v);
    s0 += 1;
    s1 += u;
    s2 += u * u;
    s3 += u * u * u;
    s4 += u * u * u * u;
    r0 += v;
    r1 += u * v;
    r2 += u * u * v;
  }
  const det = s0 * (s2 * s4 - s3 * s3) - s1 * (s1 * s4 - s2 * s3) + s2 * (s1 * s3 - s2 * s2);
  const slope = (s0 * (r1 * s4 - s3 * r2) - r0 * (s1 * s4 - s2 * s3) + s2 * (s1 * r2 - r1 * s2)) / det;
  const half = (s0 * (s2 * r2 - r1 * s3) - s1 * (s1 * r2 - r1 * s2) + r0 * (s1 * s3 - s2 * s2)) / det;
  const offset = (r0 - s1 * slope - s2 * half) / s0;
  const left = t.reduce((total, value, i) => total + (y[i]! - offset - slope * value - half * value * value) ** 2, 0);
  const variance = left / Math.max(1, t.length - 3);
  const lineDet = s0 * s2 - s1 * s1;
  const meanSlope = (s0 * r1 - s1 * r0) / lineDet;
  const meanOffset = (r0 - s1 * meanSlope) / s0;
  const meanLeft = t.reduce((total, value, i) => total + (y[i]! - meanOffset - meanSlope * value) ** 2, 0);
  return {
    slope,
    curvature: 2 * half,
    slopeError: Math.sqrt((variance * Math.abs(s0 * s4 - s2 * s2)) / Math.abs(det)),
    curvatureError: 2 * Math.sqrt((variance * Math.abs(s0 * s2 - s1 * s1)) / Math.abs(det)),
    meanSlope,
    meanResidual: Math.sqrt(meanLeft / Math.max(1, t.length - 2)),
    meanSlopeError: Math.sqrt(((meanLeft / Math.max(1, t.length - 2)) * s0) / lineDet),
  };
}
