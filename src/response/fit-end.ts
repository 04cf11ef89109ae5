import { nestedFits } from "./nested-fits";

/**
 * A roll-off read from the data: |H(edge)/H|² = S(r)/S(1), S(r) = Σ cⱼ rʲ from j = −`inner` to `order`, with r = (f/edge)^±2 above 1
 * beyond the data. Every all-pole end is such a sum, whatever its alignment: a high-pass of order n needs j = 0…n, and the terms below 0
 * take in what lies inside the band. `sign` −1 stands for the reciprocal, an end that rises outwards.
 */
export interface EndShape {
  readonly sign: 1 | -1;
  readonly order: number;
  /** c of r^−inner first, that of r^order last. */
  readonly coefficients: Float64Array;
}

/** A shape that was judged: doubt of the slope beyond the edge, in orders. */
export interface EndFit {
  readonly shape: EndShape;
  readonly doubt: number;
  /** Root mean square of what ln|H| misses by. */
  readonly residual: number;
}

interface Candidate extends EndFit {
  /** ln|H| − ln|H(edge)| at each node beyond the edge. */
  readonly levels: Float64Array;
}

/** Octaves of the data that are looked at, and how many terms are left for what lies inside the band. */
const windows: readonly (readonly [octaves: number, inner: number])[] = [
  [1.5, 2],
  [1.5, 4],
  [2, 3],
  [3, 2],
  [3, 4],
];
const highestOrder = 8;
const mostPoints = 96;
/** Relative error of |H|² below which no fit is believed to be, and above which it is none. */
const floor = 1e-9;
const worst = 0.05;
/** A shape is taken before a steeper one whose squared residual is not smaller by this factor, or when its residual is below this. */
const alike = 1.5;
const plenty = 2e-6;
/** Residuals of a wrong shape are no noise: all points together count as this many. */
const independent = 8;
/** Distances beyond the edge in nepers, at which continuations are compared. */
const nodeStep = 0.125;
const nodes = 49;
/** What share of S the steepest term must have at the edge: a smaller one only makes up for what the others miss inside. */
const visible = 0.003;
/** How many times S the terms may be together at the edge, signs apart: terms that cancel by more are no roll-off but a series. */
const cancelling = 100;

/**
 * The best of the shapes that explain the last octaves of `level` = ln|H| over `x` = ln f, seen from the edge inwards. `order` states the
 * order; undefined where no shape can be continued.
 */
export function fitEnd(x: Float64Array, level: Float64Array, outward: -1 | 1, sign: 1 | -1, order: number | undefined): EndFit | undefined {
  const found = windows.flatMap(([octaves, inner]) => {
    const points = lastPoints(x, level, outward, octaves, inner + 6);
    const fit = points === undefined ? undefined : simplest(points, sign, order, inner);
    return fit === undefined ? [] : [fit];
  });
  if (found.length === 0) return undefined;
  const least = Math.min(...found.map((fit) => fit.residual));
  const good = found.filter((fit) => fit.residual <= 10 * least);
  const best = good.reduce((a, b) => (b.doubt < a.doubt ? b : a));
  // What another window says that fits about as well counts in full where it sees another order, else as far as its own doubt does not explain it.
  const news = (other: Candidate): number =>
    difference(best.levels, other.levels) - (other.shape.order === best.shape.order ? other.doubt : 0);
  const spread = Math.max(0, ...good.map(news));
  return { shape: best.shape, doubt: best.doubt + spread, residual: best.residual };
}

/** ln|H| − ln|H(edge)| at the distance t beyond the edge, in nepers of frequency. */
export function shapeLevel({ sign, order, coefficients }: EndShape, t: number): number {
  return -sign * (order * t + 0.5 * Math.log(leading(coefficients, t) / leading(coefficients, 0)));
}

/** ln|H| − ln|H(edge)| → intercept − sign · order · t far out. */
export function shapeIntercept({ sign, coefficients }: EndShape): number {
  return -sign * 0.5 * Math.log(coefficients[coefficients.length - 1]! / leading(coefficients, 0));
}

/** S(r) r^−order. */
function leading(coefficients: Float64Array, t: number): number {
  const inverse = Math.exp(-2 * t);
  let sum = 0;
  for (let j = 0; j < coefficients.length; j++) sum = sum * inverse + coefficients[j]!;
  return sum;
}

interface Points {
  /** (f/edge)^±2, 1 at the edge and less inside. */
  readonly r: Float64Array;
  /** 2 ln|H/H(edge)|. */
  readonly doubled: Float64Array;
}

/** Up to `mostPoints` points evenly over the last octaves; over more of them where points are few. */
function lastPoints(x: Float64Array, level: Float64Array, outward: -1 | 1, octaves: number, fewest: number): Points | undefined {
  const n = x.length;
  const at = outward < 0 ? 0 : n - 1;
  const indices = [at];
  const span = octaves * Math.LN2;
  const gap = span / mostPoints;
  if (n < fewest) return undefined;
  const least = Math.abs(x[at - outward * (fewest - 1)]! - x[at]!);
  const reach = Math.max(span, least) + 1e-9;
  if (least > 4 * span) return undefined;
  for (let k = at - outward; k >= 0 && k < n; k -= outward) {
    const distance = Math.abs(x[k]! - x[at]!);
    if (distance > reach) break;
    if (distance >= gap * indices.length) indices.push(k);
  }
  if (indices.length < fewest) return undefined;
  const doubled = Float64Array.from(indices, (k) => 2 * (level[k]! - level[at]!));
  if (doubled.some((value) => Math.abs(value) > 300)) return undefined;
  return { r: Float64Array.from(indices, (k) => Math.exp(-2 * Math.abs(x[k]! - x[at]!))), doubled };
}

function simplest({ r, doubled }: Points, sign: 1 | -1, stated: number | undefined, inner: number): Candidate | undefined {
  const m = r.length;
  const most = Math.min(stated ?? highestOrder, m - inner - 5);
  if (most < (stated ?? 0)) return undefined;
  const square = doubled.map((value) => Math.exp(sign * value));
  const columns = Array.from({ length: inner + most + 1 }, (_, k) => square.map((value, i) => value * r[i]! ** (k - inner)));
  const { squares, coefficients, errorOf } = nestedFits(columns, new Float64Array(m).fill(1));
  const variances = Float64Array.from(columns, (_, j) => squares[j + 1]! / (m - j - 1) + floor ** 2);
  const least = variances.subarray(inner + (stated ?? 0)).reduce((a, b) => Math.min(a, b));
  const found: Candidate[] = [];
  for (let order = stated ?? 0; order <= most && order <= (found[0]?.shape.order ?? Infinity) + 2; order++) {
    const k = inner + order + 1;
    const variance = variances[k - 1]!;
    if (variance > Math.min(worst ** 2, Math.max(alike * least, plenty ** 2))) continue;
    const shape: EndShape = { sign, order, coefficients: coefficients(k) };
    const levels = continuation(shape);
    if (levels === undefined) continue;
    const scale = Math.sqrt(variance * Math.max(1, m / independent));
    const doubt = scale * Math.max(...[nearKernel, farKernel].map((kernel) => errorOf(sensitivities(shape, inner, kernel), k)));
    found.push({ shape, doubt, levels, residual: Math.sqrt(variance) / 2 });
  }
  if (found.length === 0) return undefined;
  const first = found[0]!;
  return { ...first, doubt: found.reduce((doubt, other) => Math.max(doubt, difference(first.levels, other.levels)), first.doubt) };
}

/** The levels at the nodes, when the shape can be continued: above zero everywhere, the steepest term visible. */
function continuation(shape: EndShape): Float64Array | undefined {
  const { sign, order, coefficients } = shape;
  const last = coefficients[coefficients.length - 1]!;
  const edge = leading(coefficients, 0);
  if (coefficients.reduce((sum, value) => sum + Math.abs(value), 0) > cancelling * edge) return undefined;
  if (!(last >= visible * edge && edge > 0)) return undefined;
  const levels = new Float64Array(nodes);
  for (let k = 0; k < nodes; k++) {
    const value = leading(coefficients, k * nodeStep);
    if (!(value > 0)) return undefined;
    levels[k] = -sign * (order * k * nodeStep + 0.5 * Math.log(value / edge));
  }
  return levels;
}

/*
 * The phase at the distance s inside is the integral of the level at t beyond the edge over π sinh(s + t). A slope that is wrong by one
 * order makes the level wrong by t. These kernels, at the edge (s = 0) and far inside, are scaled to give 1 for it.
 */
const nearKernel = /* @__PURE__ */ kernel((t) => (t === 0 ? 0 : 1 / Math.sinh(t)));
const farKernel = /* @__PURE__ */ kernel((t) => Math.exp(-t));

function kernel(weight: (t: number) => number): Float64Array {
  const out = Float64Array.from({ length: nodes }, (_, k) => weight(k * nodeStep));
  const one = out.reduce((sum, value, k) => sum + value * k * nodeStep, 0);
  return out.map((value) => value / one);
}

/** By how many orders of slope two continuations differ, by what they do to the phase. */
function difference(a: Float64Array, b: Float64Array): number {
  let [near, far] = [0, 0];
  for (let k = 0; k < nodes; k++) {
    const apart = Math.abs(a[k]! - b[k]!);
    near += nearKernel[k]! * apart;
    far += farKernel[k]! * apart;
  }
  return Math.max(near, far);
}

/** How a kernel's integral over the levels moves with each coefficient. */
function sensitivities({ order, coefficients }: EndShape, inner: number, weights: Float64Array): Float64Array {
  const out = new Float64Array(coefficients.length);
  const edge = leading(coefficients, 0);
  for (let k = 0; k < nodes; k++) {
    const inverse = Math.exp(-2 * k * nodeStep);
    let share = 1 / leading(coefficients, k * nodeStep);
    for (let j = inner + order; j >= 0; j--, share *= inverse) out[j]! += 0.5 * weights[k]! * (share - 1 / edge);
  }
  return out;
}
