import { inverseRealFft, realFft } from "../numeric";
import { coarsest, isUniform, sampleLevel, smallestStep, transformLength } from "./log-axis-grid";
import { skippedPointError, worstResidual } from "./log-axis-error";
import { cubicOnGrid, interpolateUnit } from "./log-axis-cubic";
import { tabulate } from "./tabulate";
import { tailIntercept, type Tail } from "./tail";

/** What else there is to know about a phase that was computed: its continuation, and its trust apart from the tails. */
export interface LogAxisPhase {
  /** Phase in radians anywhere on the transform's axis, also beyond the data, at ln f. */
  readonly phaseAt: (x: number) => number;
  /** Estimate of what sampling and interpolation cost, radians. */
  readonly error: number;
  /** Length of the transform. */
  readonly points: number;
}

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
  tabulate(rest, 0, points, Math.floor(coarsest / step), (k) => {
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
  tabulate(rest, 0, points, Math.floor(coarsest / step), (k) => {
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

// ½ ln(1 + e^(2u)): ln|1 + jω| on the logarithmic axis.
function bend(u: number): number {
  return u > 0 ? u + 0.5 * Math.log1p(Math.exp(-2 * u)) : 0.5 * Math.log1p(Math.exp(2 * u));
}
