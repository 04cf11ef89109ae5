import { monotoneSlopes } from "./monotone-slopes";

/** A curve through samples: in each interval the cubic that has the samples' values and slopes at both ends. */
export interface CubicCurve {
  /** Strictly ascending, length n. */
  readonly x: ArrayLike<number>;
  /** Length n. */
  readonly y: ArrayLike<number>;
  /** Slopes dy/dx at the samples, length n. */
  readonly slopes: ArrayLike<number>;
}

/**
 * The smooth curve through samples that overshoots nowhere: cubics with the slopes of `monotoneSlopes`, in the unit of y.
 *
 * @param x strictly ascending, length n, any unit
 * @param y length n, any unit
 * @returns the curve, to be read with `cubicValue`
 * @example
 * ```ts
 * import { cubicValue, monotoneCubic } from "dividing-network/numeric";
 *
 * cubicValue(monotoneCubic([0, 1, 2, 3, 4], [0, 1, 4, 9, 16]), 2, 2.5); // 6.25
 * ```
 */
export function monotoneCubic(x: ArrayLike<number>, y: ArrayLike<number>): CubicCurve {
  return { x: Float64Array.from(x), y: Float64Array.from(y), slopes: monotoneSlopes(x, y) };
}

/**
 * The value of a cubic curve at one place, in the unit of y.
 *
 * $y = (1+2t)(1-t)^2 y_0 + t(1-t)^2 h m_0 + t^2(3-2t) y_1 - t^2(1-t) h m_1$ with $t = (x - x_0)/h$
 *
 * @param curve the curve, at least 2 samples
 * @param interval index of the interval's first sample, dimensionless, 0 to n − 2
 * @param at where, in the unit of x, within that interval
 * @returns the value there, exactly that of the sample at an end of the interval
 * @example
 * ```ts
 * import { cubicValue } from "dividing-network/numeric";
 *
 * cubicValue({ x: [0, 2], y: [0, 4], slopes: [0, 4] }, 0, 1); // 1
 * ```
 */
export function cubicValue(curve: CubicCurve, interval: number, at: number): number {
  const { x, y, slopes } = curve;
  const start = x[interval]!;
  const width = x[interval + 1]! - start;
  const t = (at - start) / width;
  const rest = 1 - t;
  return rest * rest * ((1 + 2 * t) * y[interval]! + t * width * slopes[interval]!)
    + t * t * ((3 - 2 * t) * y[interval + 1]! - rest * width * slopes[interval + 1]!);
}
