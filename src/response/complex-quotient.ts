import { DividingNetworkError } from "../errors";

/**
 * Writes (a + jb)/(c + jd) into index i of two arrays. After Smith (1962): divides by the larger part first, so that
 * nothing overflows on the way. The divisor must not be zero.
 */
export function writeQuotient(a: number, b: number, c: number, d: number, re: Float64Array, im: Float64Array, i: number): void {
  if (Math.abs(c) >= Math.abs(d)) {
    const ratio = d / c;
    const scale = c + d * ratio;
    re[i] = (a + b * ratio) / scale;
    im[i] = (b - a * ratio) / scale;
  } else {
    const ratio = c / d;
    const scale = c * ratio + d;
    re[i] = (a * ratio + b) / scale;
    im[i] = (b * ratio - a) / scale;
  }
}

/** The error of a division by a response that is zero at some frequency. */
export function divisionByZero(caller: string, argument: string, frequency: number): DividingNetworkError {
  return new DividingNetworkError(
    "division-by-zero",
    `${caller}: "${argument}" must not be zero where it divides, got 0 at ${frequency} Hz`,
    "Leave that frequency out",
  );
}
