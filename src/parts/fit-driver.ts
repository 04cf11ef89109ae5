import { fitLeastSquares, propagatedError } from "../numeric";
import type { CoilFormula } from "./coil-formula";
import { driverDeviations, type FitTask } from "./driver-deviations";

/** One formula, fitted. */
export interface DriverFit {
  readonly formula: CoilFormula;
  /** Whether the coil's terms are a coil's. */
  readonly valid: boolean;
  /** All that is found, in SI. */
  readonly values: Readonly<Record<string, number>>;
  /** Standard error of the logarithm of each; undefined where the curve does not determine it. */
  readonly errors: Readonly<Record<string, number | undefined>>;
  /** ln(Z_model/Z): real and imaginary parts in turn. */
  readonly deviations: Float64Array;
  readonly squares: number;
  readonly parameters: Float64Array;
  readonly converged: boolean;
}

/**
 * Fits one formula from the nearest of its starts and, since the sum of squares may have more than one valley, from a place close to its `limit`, if that has
 * been fitted. What is a coil comes before what isn't.
 */
export function fitDriver(task: FitTask, formula: CoilFormula, limit?: DriverFit, resonant = true): DriverFit {
  const { write, quantities, coilAt, starts } = driverDeviations(task, formula, resonant);
  const deviations = new Float64Array(2 * task.f.length);
  const squares = starts.map((p) => {
    write(p, deviations);
    return deviations.reduce((sum, value) => sum + value * value, 0);
  });
  const from = [starts[squares.indexOf(Math.min(...squares))]!];
  if (limit !== undefined && formula.limit !== undefined) {
    const { parameters } = limit;
    from.push(Float64Array.of(...parameters.slice(0, coilAt), ...formula.limit.extended([...parameters.slice(coilAt)])));
  }
  const fits = from.map((start) => fitLeastSquares(write, start, { count: deviations.length, maxIterations: 100, maxStep: 1 }));
  const valid = fits.filter(({ parameters }) => formula.valid(parameters, coilAt));
  const best = (valid.length > 0 ? valid : fits).reduce((one, next) => (next.squares < one.squares ? next : one));
  const values = quantities(best.parameters);
  const errors = Object.keys(values).map((name) => [name, propagatedError(best, (p) => Math.log(Math.abs(quantities(p)[name]!)))]);
  write(best.parameters, deviations);
  return {
    formula,
    valid: valid.length > 0,
    values,
    errors: Object.fromEntries(errors) as DriverFit["errors"],
    deviations,
    squares: best.squares,
    parameters: best.parameters,
    converged: best.converged,
  };
}
