import { DividingNetworkError, checkNumber, checkOptions } from "../errors";

/** A fit, with what it leaves and how well each parameter is known. */
export interface LeastSquaresFit {
  /** Best parameters, in the order of the start. */
  readonly parameters: Float64Array;
  /** Standard errors from the misfit that is left, residuals taken as independent; same units as the parameters. */
  readonly standardErrors: Float64Array;
  /** Sum of the squared residuals. */
  readonly squares: number;
  readonly iterations: number;
  /** False when the number of iterations ran out while the sum was still falling. */
  readonly converged: boolean;
}

/**
 * Least squares for a function that is not linear in its parameters (Levenberg–Marquardt, derivatives by central differences): the parameters,
 * in the units of the start, that make the sum of the squared residuals least, near the start.
 *
 * Scale parameters to be of order 1 (logarithms of quantities above zero do).
 *
 * @param residuals writes m residuals for given parameters, dimensionless or in one unit; must give finite numbers near the start
 * @param start first guess, p numbers, each in its parameter's own unit
 * @param options `count` m, at least p; `maxIterations`, default 100 (both dimensionless)
 * @returns parameters and their standard errors, p each, in the units of the start
 * @throws DividingNetworkError `invalid-argument`; `undetermined` when residuals are not finite at the start
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
  options: { readonly count: number; readonly maxIterations?: number },
): LeastSquaresFit {
  const caller = "fitLeastSquares";
  const { count, maxIterations = 100 } = checkOptions(caller, options, ["count", "maxIterations"]);
  const p = start.length;
  const m = checkNumber(caller, "count", count, { min: Math.max(1, p), integer: true });
  checkNumber(caller, "maxIterations", maxIterations, { min: 1, max: 10000, integer: true });
  let now = Float64Array.from(start);
  let out: Float64Array = new Float64Array(m);
  const sum = (values: Float64Array): number => values.reduce((total, value) => total + value * value, 0);
  residuals(now, out);
  let squares = sum(out);
  if (!Number.isFinite(squares)) throw new DividingNetworkError("undetermined", `${caller}: "residuals" must give finite numbers at the start`);
  let damping = 1e-3;
  let converged = false;
  let iterations = 0;
  while (!converged && iterations < maxIterations) {
    iterations++;
    const { normal, gradient } = normalEquations(residuals, now, out, m);
    let improved = false;
    for (let attempt = 0; attempt < 30 && !improved; attempt++) {
      const damped = normal.map((row, i) => row.map((value, j) => (i === j ? value * (1 + damping) + 1e-300 : value)));
      const step = solveSymmetric(damped, gradient);
      if (step === undefined) {
        damping *= 10;
        continue;
      }
      const next = now.map((value, i) => value - step[i]!);
      const nextOut = new Float64Array(m);
      residuals(next, nextOut);
      const nextSquares = sum(nextOut);
      if (nextSquares <= squares) {
        converged = squares - nextSquares <= 1e-14 * squares || step.every((value, i) => Math.abs(value) <= 1e-12 * (1 + Math.abs(now[i]!)));
        [now, out, squares] = [next, nextOut, nextSquares];
        damping = Math.max(1e-12, damping / 10);
        improved = true;
      } else damping *= 10;
    }
    if (!improved) converged = true;
  }
  const { normal } = normalEquations(residuals, now, out, m);
  const variance = squares / Math.max(1, m - p);
  const standardErrors = now.map((_, i) => {
    const column = solveSymmetric(normal, Float64Array.from(now, (_value, j) => (i === j ? 1 : 0)));
    return column === undefined ? Infinity : Math.sqrt(Math.max(0, variance * column[i]!));
  });
  return Object.freeze({ parameters: now, standardErrors, squares, iterations, converged });
}

function normalEquations(residuals: (p: Float64Array, out: Float64Array) => void, at: Float64Array, out: Float64Array, m: number) {
  const columns = Array.from(at, (value, j) => {
    const step = 6e-6 * (1 + Math.abs(value));
    const ahead = new Float64Array(m);
    const behind = new Float64Array(m);
    residuals(at.map((x, i) => (i === j ? x + step : x)), ahead);
    residuals(at.map((x, i) => (i === j ? x - step : x)), behind);
    return ahead.map((x, i) => (x - behind[i]!) / (2 * step));
  });
  const dot = (a: Float64Array, b: Float64Array): number => a.reduce((total, x, i) => total + x * b[i]!, 0);
  return { normal: columns.map((a) => columns.map((b) => dot(a, b))), gradient: Float64Array.from(columns, (a) => dot(a, out)) };
}

// Cholesky on the matrix scaled to a diagonal of ones; undefined when it is not positive definite.
function solveSymmetric(matrix: readonly (readonly number[])[], right: Float64Array): Float64Array | undefined {
  const n = right.length;
  const scale = matrix.map((row, i) => 1 / Math.sqrt(row[i]!));
  if (!scale.every(Number.isFinite)) return undefined;
  const lower = matrix.map((row) => row.map(() => 0));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let value = matrix[i]![j]! * scale[i]! * scale[j]!;
      for (let k = 0; k < j; k++) value -= lower[i]![k]! * lower[j]![k]!;
      if (i === j && !(value > 1e-14)) return undefined;
      lower[i]![j] = i === j ? Math.sqrt(value) : value / lower[j]![j]!;
    }
  }
  const x = right.map((value, i) => value * scale[i]!);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= lower[i]![k]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= lower[k]![i]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  return x.map((value, i) => value * scale[i]!);
}
