import type { ComplexParts, TransferFunction } from "../../response";
import { allPassOf } from "../filters/all-pass-filter";
import type { Polarity } from "./crossover-data";

/**
 * The all-pass function at ω = 1 rad/s to which low-pass and high-pass of a prototype sum: $(1 \pm s^n)/D(s)$, where
 * all factors of the numerator are mirror images of D's or cancel against them. So it is for Linkwitz–Riley functions
 * with their own polarity and for Butterworth functions of odd order with either; undefined for any other.
 */
export function allPassOfSum(poles: TransferFunction["poles"], polarity: Polarity): TransferFunction | undefined {
  const n = poles.length;
  const sign = polarity === "same" ? 1 : -1;
  // What is left of D and of 1 ± sⁿ after cancelling what they share.
  const zeros = rootsOfSum(n, sign);
  const left: ComplexParts[] = [];
  for (const pole of poles) {
    const shared = zeros.findIndex((zero) => near(zero, pole));
    if (shared < 0) left.push(pole);
    else zeros.splice(shared, 1);
  }
  const mirrored = left.every((pole) => {
    const image = zeros.findIndex((zero) => near(zero, { re: -pole.re, im: pole.im }));
    if (image >= 0) zeros.splice(image, 1);
    return image >= 0;
  });
  return mirrored ? allPassOf(left) : undefined;
}

/** The n roots of 1 ± sⁿ. */
function rootsOfSum(n: number, sign: 1 | -1): ComplexParts[] {
  return Array.from({ length: n }, (_, k) => {
    const angle = ((2 * k + (sign === 1 ? 1 : 0)) * Math.PI) / n;
    return { re: Math.cos(angle), im: Math.sin(angle) };
  });
}

function near(a: ComplexParts, b: ComplexParts): boolean {
  return Math.hypot(a.re - b.re, a.im - b.im) < 1e-9;
}
