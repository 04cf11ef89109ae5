import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { choleskyFactor, choleskySolve } from "./cholesky";
import { knownDirections } from "./known-directions";

/** A fit, with what it leaves and how well each parameter is known. */
export interface LeastSquaresFit {
  /** Best parameters, in the order of the start. */
  readonly parameters: Float64Array;
  /**
   * Standard errors from the misfit that is left, residuals taken as independent and equally uncertain; same units as the parameters.
   * Undefined for a parameter that the residuals do not determine, alone or against another, and for all where no residual is left over.
   */
  readonly standardErrors: readonly (number | undefined)[];
  /** p rows of p: covariance in products of the parameters' units; 0 in the rows and columns of parameters without a standard error. */
  readonly covariance: readonly Float64Array[];
  /** Sum of the squared residuals. */
  readonly squares: number;
  /** How many steps it took. */
  readonly iterations: number;
  /**
   * True when the least sum is reached: the full step that is left would move the parameters by less than a thousandth of their standard
   * errors, or by less than 1e-9 (1 + |parameter|).
   */
  readonly converged: boolean;
}

/**
 * Least squares for a function that is not linear in its parameters (Levenberg–Marquardt, derivatives as given, else by central differences): the parameters,
 * in the units of the start, that make the sum of the squared residuals least, near the start.
 *
 * Scale parameters to be of order 1 (logarithms of quantities above zero do).
 *
 * @param residuals writes m residuals for given parameters, dimensionless or in one unit; must give finite numbers near the start
 * @param start first guess, p numbers, each in its parameter's own unit
 * @param options `count` m, at least p; `maxIterations`, default 100 (both dimensionless); `maxStep`: the most by which a parameter may
 *   change in one iteration, in its own unit, so that a step from far away does not leap into another valley; default without bound;
 *   `slopes`: writes the exact derivatives, one array of m by each of the p parameters, residual's unit per parameter's unit; `lower` and `upper`: bounds,
 *   p each, in the parameters' units (−Infinity and Infinity for none), between which the start is moved and all parameters stay; one that ends on a bound has no standard error
 * @returns parameters and their standard errors, p each, in the units of the start
 * @throws DividingNetworkError `invalid-argument`; `undetermined` when residuals or slopes are not finite at the start
 * Source: after Marquardt (1963).
 * @example
 * ```ts
 * import { fitLeastSquares } from "dividing-network/numeric";
 *
 * const [t, y] = [[0, 1, 2], [2, 1, 0.5]];
 * const fit = fitLeastSquares(([a, b], out) => t.forEach((x, i) => (out[i] = a * Math.exp(-b * x) - y[i])), [1, 1], { count: 3 });
 * fit.parameters; // [2, 0.693147]
 * ```
 */
export function fitLeastSquares(
  residuals: (parameters: Float64Array, out: Float64Array) => void,
  start: ArrayLike<number>,
  options: {
    readonly count: number;
    readonly maxIterations?: number | undefined;
    readonly maxStep?: number | undefined;
    readonly slopes?: ((parameters: Float64Array, out: readonly Float64Array[]) => void) | undefined;
    readonly lower?: ArrayLike<number> | undefined;
    readonly upper?: ArrayLike<number> | undefined;
  },
): LeastSquaresFit {
  const caller = "fitLeastSquares";
  const {
    count,
    maxIterations = 100,
    maxStep = Number.MAX_VALUE,
    slopes,
    lower,
    upper,
  } = checkOptions(caller, options, ["count", "maxIterations", "maxStep", "slopes", "lower", "upper"]);
  if (typeof residuals !== "function")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "residuals" must be a function that writes the residuals, got ${show(residuals)}`,
    );
  if (slopes !== undefined && typeof slopes !== "function")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "slopes" must be a function that writes the derivatives, got ${show(slopes)}`,
    );
  if (!Array.isArray(start) && !ArrayBuffer.isView(start))
    throw new DividingNetworkError("invalid-argument", `${caller}: "start" must be an array of numbers, got ${show(start)}`);
  const p = start.length;
  const m = checkNumber(caller, "count", count, { min: Math.max(1, p), max: 1e7, integer: true });
  checkNumber(caller, "maxIterations", maxIterations, { min: 1, max: 10000, integer: true });
  checkNumber(caller, "maxStep", maxStep, { above: 0 });
  const wrong = Array.from(start).findIndex((value) => !Number.isFinite(value));
  if (wrong >= 0)
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: "start" must be finite numbers, got ${show(start[wrong])} at index ${wrong}`,
    );
  const { inside, held } = boundsOf(caller, p, lower, upper);
  let now = inside(Float64Array.from(start));
  let out: Float64Array = new Float64Array(m);
  residuals(now, out);
  let squares = dot(out, out);
  if (!Number.isFinite(squares))
    throw new DividingNetworkError("undetermined", `${caller}: "residuals" must give finite numbers at the start`);
  let damping = 1e-3;
  let settled = false;
  let iterations = 0;
  // Slopes take long: those at a place are asked for once.
  let equations: NormalEquations | undefined;
  const equationsNow = () => (equations ??= normalEquations(residuals, slopes, now, out, m));
  if (slopes !== undefined && !equationsNow().gradient.every(Number.isFinite))
    throw new DividingNetworkError(
      "undetermined",
      `${caller}: "slopes" must give finite numbers at the start`,
      "Leave it out: derivatives are then taken by differences",
    );
  while (!settled && iterations < maxIterations) {
    iterations++;
    const { normal, gradient } = held(now, equationsNow());
    let improved = false;
    for (let attempt = 0; attempt < 30 && !improved; attempt++) {
      const damped = normal.map((row, i) => row.map((value, j) => (i === j ? value * (1 + damping) + 1e-300 : value)));
      const step = solveSymmetric(damped, gradient);
      if (step === undefined) {
        damping *= 10;
        continue;
      }
      const shorten = Math.max(1, ...step.map((value) => Math.abs(value) / maxStep));
      const next = inside(now.map((value, i) => value - step[i]! / shorten));
      const nextOut = new Float64Array(m);
      residuals(next, nextOut);
      const nextSquares = dot(nextOut, nextOut);
      if (nextSquares <= squares) {
        settled = squares - nextSquares <= 1e-14 * squares || step.every((value, i) => Math.abs(value) <= 1e-12 * (1 + Math.abs(now[i]!)));
        [now, out, squares, equations] = [next, nextOut, nextSquares, undefined];
        damping = Math.max(1e-12, damping / 10);
        improved = true;
      } else damping *= 10;
    }
    if (!improved) settled = true;
  }
  const { normal, gradient } = held(now, equationsNow());
  const { rank, inverse, step, decrease } = knownDirections(normal, gradient);
  const variance = m > rank ? squares / (m - rank) : undefined;
  const standardErrors = inverse.map((row, i) => (variance === undefined || row[i] === 0 ? undefined : Math.sqrt(variance * row[i]!)));
  return Object.freeze({
    parameters: now,
    standardErrors: Object.freeze(standardErrors),
    covariance: Object.freeze(inverse.map((row) => row.map((value) => value * (variance ?? 0)))),
    squares,
    iterations,
    converged: decrease <= 1e-6 * (variance ?? 0) || step.every((value, i) => Math.abs(value) <= 1e-9 * (1 + Math.abs(now[i]!))),
  });
}

/** Normal equations at some parameters. */
interface NormalEquations {
  readonly normal: readonly (readonly number[])[];
  readonly gradient: Float64Array;
}

/** Puts parameters between bounds, and takes out of normal equations those that stand on one and would go beyond it. */
function boundsOf(
  caller: string,
  p: number,
  lower: ArrayLike<number> | undefined,
  upper: ArrayLike<number> | undefined,
): {
  readonly inside: (parameters: Float64Array) => Float64Array;
  readonly held: (at: Float64Array, equations: NormalEquations) => NormalEquations;
} {
  if (lower === undefined && upper === undefined) return { inside: (parameters) => parameters, held: (_at, equations) => equations };
  const side = (name: "lower" | "upper", given: ArrayLike<number> | undefined, otherwise: number): Float64Array => {
    if (given === undefined) return new Float64Array(p).fill(otherwise);
    if (
      (!Array.isArray(given) && !ArrayBuffer.isView(given))
      || given.length !== p
      || Array.from(given).some((value) => typeof value !== "number" || Number.isNaN(value))
    ) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${name}" must be ${p} numbers, one by each parameter, got ${show(given)}`,
        "−Infinity or Infinity where there is no bound",
      );
    }
    return Float64Array.from(given);
  };
  const [low, high] = [side("lower", lower, -Infinity), side("upper", upper, Infinity)];
  const crossed = low.findIndex((value, i) => !(value <= high[i]!) || value === Infinity || high[i] === -Infinity);
  if (crossed >= 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "lower" must not lie above "upper", got ${low[crossed]} and ${high[crossed]} at index ${crossed}`,
    );
  return {
    inside: (parameters) => parameters.map((value, i) => Math.min(high[i]!, Math.max(low[i]!, value))),
    held(at, { normal, gradient }) {
      const on = at.map((value, i) =>
        low[i] === high[i] || (value <= low[i]! && gradient[i]! > 0) || (value >= high[i]! && gradient[i]! < 0) ? 1 : 0,
      );
      if (!on.includes(1)) return { normal, gradient };
      return {
        normal: normal.map((row, i) => row.map((value, j) => (on[i] || on[j] ? 0 : value))),
        gradient: gradient.map((value, i) => (on[i] ? 0 : value)),
      };
    },
  };
}

function normalEquations(
  residuals: (p: Float64Array, out: Float64Array) => void,
  slopes: ((p: Float64Array, out: readonly Float64Array[]) => void) | undefined,
  at: Float64Array,
  out: Float64Array,
  m: number,
): NormalEquations {
  const columns = slopes === undefined ? differences(residuals, at, m) : Array.from(at, () => new Float64Array(m));
  slopes?.(at, columns);
  return { normal: columns.map((a) => columns.map((b) => dot(a, b))), gradient: Float64Array.from(columns, (a) => dot(a, out)) };
}

function differences(residuals: (p: Float64Array, out: Float64Array) => void, at: Float64Array, m: number): Float64Array[] {
  return Array.from(at, (value, j) => {
    const step = 6e-6 * (1 + Math.abs(value));
    const moved = at.slice();
    const [ahead, behind] = [new Float64Array(m), new Float64Array(m)];
    moved[j] = value + step;
    residuals(moved, ahead);
    moved[j] = value - step;
    residuals(moved, behind);
    for (let i = 0; i < m; i++) ahead[i] = (ahead[i]! - behind[i]!) / (2 * step);
    return ahead;
  });
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

// By Cholesky's factor of the matrix scaled to a diagonal of ones; undefined when it is not positive definite.
function solveSymmetric(matrix: readonly (readonly number[])[], right: Float64Array): Float64Array | undefined {
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]!));
  if (!scale.every(Number.isFinite)) return undefined;
  const scaled = Float64Array.from(matrix.flatMap((row, i) => row.map((value, j) => value * scale[i]! * scale[j]!)));
  const factor = choleskyFactor(scaled, right.length, 1e-14);
  if (factor === undefined) return undefined;
  const x = right.map((value, i) => value * scale[i]!);
  choleskySolve(factor, x);
  return x.map((value, i) => value * scale[i]!);
}
