import type { Evaluator } from "../parts/internal";
import { lawSlope, type MovingValue } from "./moving-value";

/** An admittance between two nodes, by frequency. */
export interface Branch {
  readonly from: number;
  readonly to: number;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A branch whose value moves: ∂y/∂ln value beside it. */
export interface MovingBranch extends Branch {
  readonly variable: number;
  readonly slopeRe: Float64Array;
  readonly slopeIm: Float64Array;
  readonly set: (x: number, slopes: boolean) => void;
}

/** A branch of a part that varies; `main` and `dcr` are the numbers of its value and its resistance among the law's. */
export function movingBranch(
  branch: Branch,
  variable: number,
  { law }: MovingValue,
  evaluator: Evaluator,
  values: Float64Array,
  main: number,
  dcr: number,
): MovingBranch {
  const n = branch.re.length;
  const [slopeRe, slopeIm, re, im] = [new Float64Array(n), new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  return {
    ...branch,
    variable,
    slopeRe,
    slopeIm,
    set(x, slopes) {
      const value = Math.exp(x);
      values[main] = value;
      if (law !== undefined && dcr >= 0) values[dcr] = law(value);
      evaluator.admittance(values, 0, 0, n, branch.re, branch.im, 0);
      if (!slopes) return;
      evaluator.derivative(values, 0, main, 0, n, slopeRe, slopeIm, 0);
      for (let f = 0; f < n; f++) [slopeRe[f], slopeIm[f]] = [value * slopeRe[f]!, value * slopeIm[f]!];
      if (law === undefined || dcr < 0) return;
      const slope = lawSlope(law, value);
      evaluator.derivative(values, 0, dcr, 0, n, re, im, 0);
      for (let f = 0; f < n; f++) [slopeRe[f], slopeIm[f]] = [slopeRe[f]! + slope * re[f]!, slopeIm[f]! + slope * im[f]!];
    },
  };
}
