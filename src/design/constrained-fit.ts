import { DividingNetworkError } from "../errors";
import { fitLeastSquares } from "../numeric";

/** Squares to be made least in a box, under constraints. */
export interface ConstrainedProblem {
  /** Residuals, and numbers that must not be above 0. */
  readonly residuals: number;
  readonly constraints: number;
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** Writes both; NaN where there is nothing. */
  readonly values: (x: Float64Array, residuals: Float64Array, constraints: Float64Array) => void;
  /** ∂/∂x of both, one array of each by each unknown. */
  readonly slopes: (x: Float64Array, residuals: readonly Float64Array[], constraints: readonly Float64Array[]) => void;
}

/** Where a fit ended. */
export interface ConstrainedFit {
  readonly parameters: Float64Array;
  readonly squares: number;
  /** The largest constraint; −Infinity where there is none. */
  readonly worst: number;
}

/** What a constraint may exceed 0 by and still counts as kept. */
export const KEPT = 1e-9;
/** Room that constraints are given, so that what rounding leaves doesn't break them. */
const ROOM = 1e-7;
/** Rounds in which the constraints' weights are set anew. */
const ROUNDS = 12;

/**
 * Least squares under constraints by an augmented Lagrangian (after Hestenes and Powell, 1969): a broken constraint counts as a residual √w·(c + s), and the shifts s, which stand for its
 * multiplier, are carried on from round to round, so that the constraint is kept in the end and not only nearly. Undefined where nothing can be begun with.
 */
export function constrainedFit(
  problem: ConstrainedProblem,
  start: ArrayLike<number>,
  maxIterations: number,
  rounds = ROUNDS,
): ConstrainedFit | undefined {
  const { residuals: m, constraints: k, lower, upper } = problem;
  const shift = new Float64Array(k);
  const constraints = new Float64Array(k);
  let [weight, before] = [100, Infinity];
  let x: Float64Array = Float64Array.from(start);
  const count = Math.max(m + k, x.length);
  const step = (): Float64Array => {
    const root = Math.sqrt(weight);
    return fitLeastSquares(
      (at, out) => {
        out.fill(0);
        problem.values(at, out.subarray(0, m), constraints);
        for (let j = 0; j < k; j++) out[m + j] = root * Math.max(0, constraints[j]! + ROOM + shift[j]!);
      },
      x,
      {
        count,
        maxIterations,
        maxStep: 1,
        lower,
        upper,
        slopes(at, out) {
          const inner = out.map((column) => column.subarray(m, m + k));
          problem.slopes(
            at,
            out.map((column) => column.subarray(0, m)),
            inner,
          );
          if (k === 0) return;
          problem.values(at, new Float64Array(m), constraints);
          for (let j = 0; j < k; j++) {
            const held = constraints[j]! + ROOM + shift[j]! > 0 ? root : 0;
            for (const column of inner) column[j] = held === 0 ? 0 : held * column[j]!;
          }
        },
      },
    ).parameters;
  };
  try {
    for (let round = 0; round < rounds; round++) {
      x = step();
      const out = new Float64Array(m);
      problem.values(x, out, constraints);
      const worst = constraints.reduce((most, value) => Math.max(most, value), -Infinity);
      const squares = out.reduce((sum, value) => sum + value * value, 0);
      if (!Number.isFinite(squares) || Number.isNaN(worst)) return undefined;
      // A constraint that pushes although it is kept with room pushes too hard: another round.
      const idle = shift.every((value, j) => value === 0 || constraints[j]! > -1e-4);
      if (worst <= KEPT && (idle || round === rounds - 1)) return { parameters: x, squares, worst };
      if (round === rounds - 1) return { parameters: x, squares, worst };
      for (let j = 0; j < k; j++) shift[j] = Math.max(0, constraints[j]! + ROOM + shift[j]!);
      if (worst > 0.25 * before && worst > KEPT) {
        weight *= 10;
        for (let j = 0; j < k; j++) shift[j]! /= 10;
      }
      before = Math.max(worst, 0);
    }
  } catch (error) {
    if (!(error instanceof DividingNetworkError) || error.code !== "undetermined") throw error;
  }
  return undefined;
}
