import { tabulate } from "./tabulate";
import { tailLevel, type Tail } from "./tail";

/** The widest step of the grid, in ln f. */
export const coarsest = 0.0078;

/** The power of two that a transform of so many points takes, 1024 at least. */
export function transformLength(atLeast: number): number {
  let points = 1024;
  while (points < atLeast * (1 - 1e-9)) points *= 2;
  return points;
}

/** Whether the steps of x are equal. */
export function isUniform(x: Float64Array, step: number): boolean {
  for (let i = 1; i < x.length; i++) if (Math.abs(x[i]! - x[0]! - i * step) > 1e-6 * step + 1e-13) return false;
  return true;
}

/** The smallest step of x. */
export function smallestStep(x: Float64Array): number {
  let least = Infinity;
  for (let i = 1; i < x.length; i++) least = Math.min(least, x[i]! - x[i - 1]!);
  return least;
}

/** Where the transform's grid lies: `before` of its points come before the data. */
interface Grid {
  readonly points: number;
  readonly before: number;
  readonly step: number;
  /** Data points per grid step; 0 where the data must be interpolated. */
  readonly stride: number;
}

/** The level on the grid: tails outside, the data themselves or the cubic through four of them inside. */
export function sampleLevel(
  x: Float64Array,
  level: Float64Array,
  low: Tail,
  high: Tail,
  { points, before, step, stride }: Grid,
): Float64Array {
  const n = x.length;
  const out = new Float64Array(points);
  const end = before + Math.ceil((high.edge - low.edge) / step - 1e-9);
  tabulate(out, 0, before, Math.floor(coarsest / step), (k) => tailLevel(low, (before - k) * step));
  tabulate(out, end, points, Math.floor(coarsest / step), (k) => tailLevel(high, low.edge + (k - before) * step - high.edge));
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
