import { DividingNetworkError } from "../errors";
import { checkObject, computed, show } from "../errors/internal";
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
 */
export function monotoneCubic(x: ArrayLike<number>, y: ArrayLike<number>): CubicCurve {
  const slopes = monotoneSlopes(x, y);
  return { x: Float64Array.from(x), y: Float64Array.from(y), slopes };
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
 */
export function cubicValue(curve: CubicCurve, interval: number, at: number): number {
  const { x, y, slopes } = checkObject(caller, "curve", curve, "what monotoneCubic() gives");
  if (!(isArray(x) && isArray(y) && isArray(slopes)))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "curve" must hold the arrays x, y and slopes, got ${show(curve)}`,
      "monotoneCubic(x, y) makes such a curve",
    );
  if (!Number.isInteger(interval))
    throw new DividingNetworkError("invalid-argument", `${caller}: "interval" must be a whole number, got ${show(interval)}`);
  const start = sample(x, interval);
  const width = sample(x, interval + 1) - start;
  if (!Number.isFinite(at)) throw new DividingNetworkError("invalid-argument", `${caller}: "at" must be a finite number, got ${show(at)}`);
  const t = (at - start) / width;
  const rest = 1 - t;
  return computed(
    caller,
    rest * rest * ((1 + 2 * t) * sample(y, interval) + t * width * sample(slopes, interval))
      + t * t * ((3 - 2 * t) * sample(y, interval + 1) - rest * width * sample(slopes, interval + 1)),
  );
}

const caller = "cubicValue";

function isArray(value: unknown): boolean {
  return Array.isArray(value) || ArrayBuffer.isView(value);
}

/** One sample of the curve. */
function sample(values: ArrayLike<number>, index: number): number {
  const value = values[index];
  if (value === undefined || !Number.isFinite(value))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "interval" must be the number of a sample of the curve that has a next one, got ${show(index)}`,
    );
  return value;
}
