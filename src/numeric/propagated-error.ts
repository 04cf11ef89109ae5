import { DividingNetworkError } from "../errors";
import { checkList, checkNumbers, checkObject, show } from "../errors/internal";
import type { LeastSquaresFit } from "./fit-least-squares";

/**
 * Standard error of a number computed from fitted parameters, with all their covariances: $\sqrt{g^T C g}$ with the slopes g by central
 * differences, in the number's own unit.
 *
 * @param fit from `fitLeastSquares`
 * @param compute the number for given parameters, in any unit
 * @returns the standard error in that unit; undefined when the number depends on a parameter that has none
 * @example
 * ```ts
 * import { fitLeastSquares, propagatedError } from "dividing-network/numeric";
 *
 * const mean = fitLeastSquares(([a], out) => [1, 2, 3].forEach((y, i) => (out[i] = a! - y)), [0], { count: 3 });
 * propagatedError(mean, ([a]) => 2 * a!); // 1.154701
 * ```
 */
export function propagatedError(fit: LeastSquaresFit, compute: (parameters: Float64Array) => number): number | undefined {
  const caller = "propagatedError";
  checkObject(caller, "fit", fit, "what fitLeastSquares() gives");
  if (typeof compute !== "function")
    throw new DividingNetworkError("invalid-argument", `${caller}: "compute" must be a function of the parameters, got ${show(compute)}`);
  checkNumbers(caller, "fit.parameters", fit.parameters, 0);
  const rows = [fit.covariance, fit.standardErrors].map((each, index) =>
    checkList<unknown>(caller, index === 0 ? "fit.covariance" : "fit.standardErrors", each, "one entry a parameter"),
  );
  rows[0]!.forEach((row, index) => checkNumbers(caller, `fit.covariance[${index}]`, row));
  const { parameters, covariance, standardErrors } = fit;
  const slopes = parameters.map((value, j) => {
    const step = 6e-6 * (1 + Math.abs(value));
    const [ahead, behind] = [1, -1].map((sign) => compute(parameters.map((x, i) => (i === j ? x + sign * step : x))));
    return (ahead! - behind!) / (2 * step);
  });
  if (slopes.some((slope, i) => slope !== 0 && standardErrors[i] === undefined)) return undefined;
  const along = covariance.map((row) => row.reduce((sum, value, j) => sum + value * slopes[j]!, 0));
  const variance = along.reduce((sum, value, i) => sum + value * slopes[i]!, 0);
  return Number.isFinite(variance) ? Math.sqrt(Math.max(0, variance)) : undefined;
}
