// A published number is a string with its printed digits; the tolerance is half a unit of the last digit, never chosen by hand.
import { expect } from "vitest";

/** Half a unit of the last printed digit, widened by rounding in double precision. */
export function halfUnit(printed: string): number {
  const [mantissa = "", exponent = "0"] = printed.toLowerCase().split("e");
  const decimals = mantissa.includes(".") ? mantissa.length - mantissa.indexOf(".") - 1 : 0;
  return 0.5 * 10 ** (Number(exponent) - decimals) * (1 + 1e-9) + Math.abs(Number(printed)) * 1e-15;
}

/** Expects a number to agree with its printed form. */
export function expectPrinted(value: number | undefined, printed: string, what = ""): void {
  expect(Math.abs(value! - Number(printed)), `${what}: got ${value}, printed ${printed}`).toBeLessThanOrEqual(halfUnit(printed));
}

/** Expects numbers to agree one by one with what is printed, and to be as many. */
export function expectAllPrinted(values: ArrayLike<number>, printed: readonly string[], what = ""): void {
  expect(values.length, what).toBe(printed.length);
  printed.forEach((text, k) => expectPrinted(values[k], text, `${what} [${k}]`));
}
