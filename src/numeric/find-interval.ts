import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/**
 * The dimensionless index i for which axis[i] ≤ value < axis[i + 1], by bisection; the last point belongs to the last
 * interval, and values outside the axis to the nearest interval.
 *
 * @param axis strictly ascending, at least 2 points, any unit
 * @param value in the axis's unit, finite
 * @returns an index from 0 to axis.length − 2
 */
export function findInterval(axis: ArrayLike<number>, value: number): number {
  if (typeof axis !== "object" || axis === null || typeof value !== "number")
    throw new DividingNetworkError(
      "invalid-argument",
      `findInterval: "axis" must be an array of numbers and "value" a number, got ${show(axis)} and ${show(value)}`,
    );
  let low = 0;
  let high = axis.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (axis[middle]! <= value) low = middle;
    else high = middle;
  }
  return low;
}
