import { inverseRealFft, realFft } from "../numeric";
import { tailIntercept, tailLevel, type Tail } from "./tail";

/** What else there is to know about a phase that was computed: its continuation, and its trust apart from the tails. */
export interface LogAxisPhase {
  /** Phase in radians anywhere on the transform's axis, also beyond the data, at ln f. */
  readonly phaseAt: (x: number) => number;
  /** Estimate of what sampling and interpolation cost, radians. */
  readonly error: number;
  /** Length of the transform. */
  readonly points: number;
}

const coarsest = 0.0078;
const padding = 20;
const longest = 2 ** 20;
const goodEnough = 1e-5;
const rounding = 1e-9;

/**
 * Minimum phase of ln|H| given at x = ln f (ascending), continued by two tails. On a logarithmic axis Bode's integral is a
 * convolution with 1/sinh, whose transform is −jπ tanh(πω/2): one multiplication between two transforms. A closed form
 * with the same two asymptotes is taken off first, so that what is transformed vanishes at both ends. `re` holds |H| when
 * called; the result is written into `re` and `im`.
 */
export function logAxisPhase(
  x: Float64Array,
  level: Float64Array,
  low: Tail,
  high: Tail,
  re: Float64Array,
  im: Float64Array,
): LogAxisPhase {
  const n = x.length;
  const band = x[n - 1]! - x[0]!;
  const dataStep = band / (n - 1);
  const uniform = isUniform(x, dataStep);
  let stride = uniform ? Math.max(1, Math.floor(coarsest / dataStep)) : 0;
  let step = uniform ? dataStep * stride : (band + padding) / transformLength((band + padding) / coarsest);
  const finest = uniform ? dataStep : Math.max(smallestStep(x), (band + padding) / longest);
  for (;;) {
    const points = transformLength((band + padding) / step);
    const before = Math.floor((points - band / step) / 2);
    const grid = sampleLevel(x, level, low, high, { points, before, step, stride });
    const exact = uniform && stride === 1;
    const residual = exact ? 0 : worstResidual(x, level, grid, before, step, goodEnough);
    const canRefine = uniform ? stride > 1 : step > finest && points < longest;
    if (residual > goodEnough && canRefine) {
      // The cubic misses by the fourth power of the step.
      const finer = residual > 200 * goodEnough ? 4 : 2;
      stride = uniform ? Math.max(1, Math.floor(stride / finer)) : 0;
      step = uniform ? dataStep * stride : Math.max(step / finer, (band + padding) / longest);
      continue;
    }
    const found = phaseOnGrid(grid, low, high, before, step);
    if (exact) {
      for (let i = 0; i < n; i++) {
        const phase = found.phase[before + i]!;
        im[i] = re[i]! * Math.sin(phase);
        re[i] = re[i]! * Math.cos(phase);
      }
    } else interpolateUnit(x, found.phase, before, step, re, im);
    const gaps = uniform ? 0 : skippedPointError(x, level, step);
    const left = residual > goodEnough ? worstResidual(x, level, grid, before, step, Infinity) : residual;
    const phaseAt = (at: number): number => cubicOnGrid(found.phase, Math.min(Math.max((at - low.edge) / step + before, 1), points - 3));
    return { phaseAt, error: rounding + found.alias + 3 * left + 2 * gaps, points };
  }
}

function transformLength(atLeast: number): number {
  let points = 1024;
  while (points < atLeast * (1 - 1e-9)) points *= 2;
  return points;
}

function isUniform(x: Float64Array, step: number): boolean {
  for (let i = 1; i < x.length; i++) if (Math.abs(x[i]! - x[0]! - i * step) > 1e-6 * step + 1e-13) return false;
  return true;
}

function smallestStep(x: Float64Array): number {
  let least = Infinity;
  for (let i = 1; i < x.length; i++) least = Math.min(least, x[i]! - x[i - 1]!);
  return least;
}

interface Grid {
  readonly points: number;
  readonly before: number;
  readonly step: number;
  /** Data points per grid step; 0 where the data must be interpolated. */
  readonly stride: number;
}

function sampleLevel(x: Float64Array, level: Float64Array, low: Tail, high: Tail, { points, before, step, stride }: Grid): Float64Array {
  const n = x.length;
  const out = new Float64Array(points);
  const end = before + Math.ceil((high.edge - low.edge) / step - 1e-9);
  tabulate(out, 0, before, step, (k) => tailLevel(low, (before - k) * step));
  tabulate(out, end, points, step, (k) => tailLevel(high, low.edge + (k - before) * step - high.edge));
  let i = 0;
  for (let k = before; k < end; k++) {
    const position = low.edge + (k - before) * step;
    if (stride > 0) out[k] = level[(k - before) * stride]!;
    else {
      while (i < n - 2 && x[i + 1]! <= position) i++;
      out[k] = cubicThrough(x, level, Math.min(Math.max(i - 1, 0), Math.max(n - 4, 0)), position);
    }
  }
  return out;
}

// The cubic through four neighbouring points (fewer when there are fewer), by Neville's scheme.
function cubicThrough(x: Float64Array, y: Float64Array, first: number, at: number): number {
  const a = x[first]! - at;
  const b = x[first + 1]! - at;
  const c = x[first + 2]! - at;
  const d = x[first + 3]! - at;
  const ab = (y[first]! * b - y[first + 1]! * a) / (b - a);
  const bc = (y[first + 1]! * c - y[first + 2]! * b) / (c - b);
  const cd = (y[first + 2]! * d - y[first + 3]! * c) / (d - c);
  const abc = (ab * c - bc * a) / (c - a);
  const bcd = (bc * d - cd * b) / (d - b);
  return (abc * d - bcd * a) / (d - a);
}

// Largest distance between the data and the cubic through the grid; stops as soon as it exceeds `enough`.
function worstResidual(x: Float64Array, level: Float64Array, grid: Float64Array, before: number, step: number, enough: number): number {
  let worst = 0;
  const scale = 1 / step;
  const origin = x[0]!;
  const n = x.length;
  for (let i = 0; i < n && worst <= enough;) {
    const k = Math.floor((x[i]! - origin) * scale + before);
    const start = origin + (k - before) * step;
    const end = start + step;
    const y0 = grid[k - 1]!;
    const y1 = grid[k]!;
    const y2 = grid[k + 1]!;
    const y3 = grid[k + 2]!;
    const a1 = y2 - y0 / 3 - y1 / 2 - y3 / 6;
    const a2 = (y0 + y2) / 2 - y1;
    const a3 = (y1 - y2) / 2 + (y3 - y0) / 6;
    do {
      const p = (x[i]! - start) * scale;
      worst = Math.max(worst, Math.abs(y1 + p * (a1 + p * (a2 + p * a3)) - level[i]!));
      i++;
    } while (i < n && x[i]! < end);
  }
  return worst;
}

// The cubic through the four grid values around a place counted in steps.
function cubicOnGrid(grid: Float64Array, place: number): number {
  const k = Math.floor(place);
  const p = place - k;
  const q = 1 - p;
  const inner = (1 + p) * (1 + q);
  return (inner * (q * grid[k]! + p * grid[k + 1]!)) / 2 - (p * q * ((1 + q) * grid[k - 1]! + (1 + p) * grid[k + 2]!)) / 6;
}

function phaseOnGrid(grid: Float64Array, low: Tail, high: Tail, before: number, step: number): { phase: Float64Array; alias: number } {
  const points = grid.length;
  const lowOrder = -low.finalSlope;
  const turn = high.finalSlope - lowOrder;
  // Asymptotes as lines in x − low.edge; `shelf` makes up for their distance at the middle of the band.
  const width = Math.max(1, high.edge - low.edge);
  const middle = (high.edge - low.edge) / 2;
  const lowLevel = tailIntercept(low);
  const highLevel = tailIntercept(high) - high.finalSlope * (high.edge - low.edge);
  const shelf = (highLevel - lowLevel + turn * middle) / width;
  const from = middle - width / 2;
  const to = middle + width / 2;
  const rest = new Float64Array(points);
  tabulate(rest, 0, points, step, (k) => {
    const u = (k - before) * step;
    return lowLevel + lowOrder * u + turn * bend(u - middle) + shelf * (bend(u - from) - bend(u - to));
  });
  for (let k = 0; k < points; k++) rest[k] = grid[k]! - rest[k]!;
  const spectrum = realFft(rest);
  const half = points / 2;
  const re = new Float64Array(half + 1);
  const im = new Float64Array(half + 1);
  let outer = 0;
  let inner = 0;
  for (let k = 1; k < half; k++) {
    const weight = Math.tanh((Math.PI * Math.PI * k) / (points * step));
    re[k] = -weight * spectrum.im[k]!;
    im[k] = weight * spectrum.re[k]!;
    if (k >= half / 4) {
      const size = Math.abs(spectrum.re[k]!) + Math.abs(spectrum.im[k]!);
      if (k >= half / 2) outer += size;
      else inner += size;
    }
  }
  const phase = inverseRealFft(re, im, points);
  tabulate(rest, 0, points, step, (k) => {
    const u = (k - before) * step;
    return (
      (lowOrder * Math.PI) / 2
      + turn * Math.atan(Math.exp(u - middle))
      + shelf * (Math.atan(Math.exp(u - from)) - Math.atan(Math.exp(u - to)))
    );
  });
  for (let k = 0; k < points; k++) phase[k]! += rest[k]!;
  // The octaves of the spectrum above the last one, were it to go on falling as it does.
  const ratio = inner > 0 ? Math.min(outer / inner, 0.9) : 0;
  return { phase, alias: ((2 / points) * outer * ratio) / (1 - ratio) };
}

// A smooth function of the grid's index, written from `from` to `to`: where the grid is much finer than the function asks for, at every few
// points, and cubics between.
function tabulate(out: Float64Array, from: number, to: number, step: number, value: (k: number) => number): void {
  const every = Math.max(1, Math.floor(coarsest / step));
  if (every < 4) {
    for (let k = from; k < to; k++) out[k] = value(k);
    return;
  }
  let [y0, y1, y2, y3] = [value(from - every), value(from), value(from + every), value(from + 2 * every)];
  for (let start = from; start < to; start += every) {
    const a1 = y2 - y0 / 3 - y1 / 2 - y3 / 6;
    const a2 = (y0 + y2) / 2 - y1;
    const a3 = (y1 - y2) / 2 + (y3 - y0) / 6;
    const stop = Math.min(to, start + every);
    for (let k = start; k < stop; k++) {
      const p = (k - start) / every;
      out[k] = y1 + p * (a1 + p * (a2 + p * a3));
    }
    [y0, y1, y2, y3] = [y1, y2, y3, value(start + 3 * every)];
  }
}

// ½ ln(1 + e^(2u)): ln|1 + jω| on the logarithmic axis.
function bend(u: number): number {
  return u > 0 ? u + 0.5 * Math.log1p(Math.exp(-2 * u)) : 0.5 * Math.log1p(Math.exp(2 * u));
}

// Values at the data: cos φ and sin φ by cubics through those of the grid, brought to the magnitude, which `re` holds at first.
function interpolateUnit(x: Float64Array, phase: Float64Array, before: number, step: number, re: Float64Array, im: Float64Array): void {
  const gridCos = new Float64Array(phase.length);
  const gridSin = new Float64Array(phase.length);
  const last = Math.min(phase.length, before + Math.ceil((x[x.length - 1]! - x[0]!) / step) + 3);
  for (let k = Math.max(0, before - 1); k < last; k++) {
    gridCos[k] = Math.cos(phase[k]!);
    gridSin[k] = Math.sin(phase[k]!);
  }
  const scale = 1 / step;
  const origin = x[0]!;
  const n = x.length;
  for (let i = 0; i < n;) {
    const k = Math.floor((x[i]! - origin) * scale + before);
    const start = origin + (k - before) * step;
    const end = start + step;
    const c0 = gridCos[k]!;
    const c1 = gridCos[k + 1]! - gridCos[k - 1]! / 3 - c0 / 2 - gridCos[k + 2]! / 6;
    const c2 = (gridCos[k - 1]! + gridCos[k + 1]!) / 2 - c0;
    const c3 = (c0 - gridCos[k + 1]!) / 2 + (gridCos[k + 2]! - gridCos[k - 1]!) / 6;
    const s0 = gridSin[k]!;
    const s1 = gridSin[k + 1]! - gridSin[k - 1]! / 3 - s0 / 2 - gridSin[k + 2]! / 6;
    const s2 = (gridSin[k - 1]! + gridSin[k + 1]!) / 2 - s0;
    const s3 = (s0 - gridSin[k + 1]!) / 2 + (gridSin[k + 2]! - gridSin[k - 1]!) / 6;
    do {
      const p = (x[i]! - start) * scale;
      const c = c0 + p * (c1 + p * (c2 + p * c3));
      const s = s0 + p * (s1 + p * (s2 + p * s3));
      const size = re[i]! / Math.sqrt(c * c + s * s);
      re[i] = c * size;
      im[i] = s * size;
      i++;
    } while (i < n && x[i]! < end);
  }
}

// Where the data are sparser than the grid: the miss of the cubic through the four points around each interval, at its middle, by the
// difference that the point beside them shows. At the ends of the data there is no point on the other side, and the cubic misses by more.
function skippedPointError(x: Float64Array, level: Float64Array, step: number): number {
  let worst = 0;
  for (let i = 0; i < x.length - 1 && x.length >= 5; i++) {
    if (x[i + 1]! - x[i]! < step) continue;
    const first = Math.min(Math.max(i - 1, 0), x.length - 4);
    const middle = (x[i]! + x[i + 1]!) / 2;
    let product = 1;
    for (let k = first; k < first + 4; k++) product *= middle - x[k]!;
    // One difference alone may happen to vanish.
    const difference = [first - 1, first, first + 1].reduce(
      (most, k) => (k < 0 || k > x.length - 5 ? most : Math.max(most, Math.abs(fourthDifference(x, level, k)))),
      0,
    );
    worst = Math.max(worst, Math.abs(product) * difference);
  }
  return worst;
}

// The divided difference over five points.
function fourthDifference(x: Float64Array, y: Float64Array, first: number): number {
  let sum = 0;
  for (let k = first; k < first + 5; k++) {
    let weight = 1;
    for (let m = first; m < first + 5; m++) if (m !== k) weight *= x[k]! - x[m]!;
    sum += y[k]! / weight;
  }
  return sum;
}
