import { computedAll } from "../errors/internal";
import { localSlopes } from "./local-slopes";

/**
 * Slopes for a cubic through every sample, in the unit of y per unit of x, that stays monotone wherever the samples are
 * monotone and does not flatten smooth maxima and minima.
 *
 * The slopes of `localSlopes` are limited to between zero and the larger of three times the smaller neighbouring secant and
 * one and a half times a slope built from the smaller of the neighbouring second differences. The cubic's error falls with
 * the fourth power of the spacing where the curve is smooth, with the third next to an extremum.
 *
 * Source: the extended limiter after Huynh (1993), "Accurate monotone cubic interpolation".
 *
 * @param x strictly ascending, length n
 * @param y length n
 * @returns n slopes; a single sample has slope 0
 */
export function monotoneSlopes(x: ArrayLike<number>, y: ArrayLike<number>): Float64Array {
  const slopes = localSlopes(x, y);
  const n = x.length;
  if (n < 3) return slopes;
  const secant = new Float64Array(n - 1);
  for (let i = 0; i < n - 1; i++) secant[i] = (y[i + 1]! - y[i]!) / (x[i + 1]! - x[i]!);
  const bend = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) bend[i] = (secant[i]! - secant[i - 1]!) / (x[i + 1]! - x[i - 1]!);
  // At the ends there is one second difference to go by: it may shape an extremum, but not bend a monotone run beyond its samples.
  if (secant[0]! * secant[1]! < 0) bend[0] = bend[1]!;
  if (secant[n - 2]! * secant[n - 3]! < 0) bend[n - 1] = bend[n - 2]!;
  for (let i = 0; i < n; i++) {
    const before = secant[Math.max(i - 1, 0)]!;
    const after = secant[Math.min(i, n - 2)]!;
    const fromLeft = i === 0 ? Infinity : before + smaller(bend[i - 1]!, bend[i]!) * (x[i]! - x[i - 1]!);
    const fromRight = i === n - 1 ? Infinity : after - smaller(bend[i]!, bend[i + 1]!) * (x[i + 1]! - x[i]!);
    const guide = i === 0 ? fromRight : i === n - 1 ? fromLeft : smaller(fromLeft, fromRight);
    const bound = Math.max(3 * Math.abs(smaller(before, after)), 1.5 * Math.abs(guide));
    slopes[i] = smaller(slopes[i]!, Math.sign(guide) * bound);
  }
  return computedAll("monotoneSlopes", slopes);
}

/** The value nearer to zero when both have one sign, else zero. */
function smaller(a: number, b: number): number {
  return a > 0 && b > 0 ? Math.min(a, b) : a < 0 && b < 0 ? Math.max(a, b) : 0;
}
