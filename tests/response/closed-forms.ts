// Closed forms that the tests of this folder compare with: written with complex.js, independent of the library.
import { Complex } from "complex.js";
import { DividingNetworkError } from "dividing-network/errors";
import { frequencyResponse, type FrequencyResponse, type TransferFunction } from "dividing-network/response";

/** A system by its complex value at a frequency in Hz. */
export type System = (f: number) => Complex;

export const sample = (system: System, frequencies: ArrayLike<number>): FrequencyResponse => {
  const values = Array.from(frequencies, system);
  return frequencyResponse(
    frequencies,
    values.map((value) => value.re),
    values.map((value) => value.im),
  );
};

/** ω₀²/(s² + sω₀/Q + ω₀²), or with s² above for the high-pass. */
export const secondOrder =
  (f0: number, q: number, highPass = false): System =>
  (f) => {
    const denominator = new Complex(1 - (f / f0) ** 2, f / f0 / q);
    return (highPass ? new Complex(-((f / f0) ** 2), 0) : new Complex(1, 0)).div(denominator);
  };

/** Its group delay in s, the same for both. */
export const secondOrderGroupDelay = (f0: number, q: number, f: number): number => {
  const x = f / f0;
  return (1 + x * x) / (2 * Math.PI * f0 * q) / ((1 - x * x) ** 2 + (x / q) ** 2);
};

export const firstOrder =
  (f0: number): System =>
  (f) =>
    new Complex(1, 0).div(new Complex(1, f / f0));

export const delayed =
  (system: System, seconds: number): System =>
  (f) =>
    system(f).mul(new Complex({ arg: -2 * Math.PI * f * seconds, abs: 1 }));

/** Two equal flat sources, the second weaker by a factor and later: nulls at odd multiples of half the inverse delay. */
export const comb =
  (first: number, second: number, strength: number): System =>
  (f) =>
    new Complex({ arg: -2 * Math.PI * f * first, abs: 1 }).add(new Complex({ arg: -2 * Math.PI * f * second, abs: strength }));

/** The poles of a second-order system, as the library takes them. */
export const secondOrderFilter = (f0: number, q: number, highPass = false): TransferFunction => {
  const w = 2 * Math.PI * f0;
  const root = new Complex(1 / (4 * q * q) - 1, 0).sqrt();
  const pole = (sign: number): { re: number; im: number } => ({ re: w * (-1 / (2 * q) + sign * root.re), im: w * sign * root.im });
  return {
    zeros: highPass
      ? [
          { re: 0, im: 0 },
          { re: 0, im: 0 },
        ]
      : [],
    poles: [pole(1), pole(-1)],
    gain: highPass ? 1 : w * w,
  };
};

/** The largest distance of a response from a system, relative to the system's value or to 1 when `absolute`. */
export const distance = (response: FrequencyResponse, system: System, absolute = false): number =>
  Array.from(response.frequencies).reduce((worst, f, i) => {
    const exact = system(f);
    return Math.max(worst, Math.hypot(response.re[i]! - exact.re, response.im[i]! - exact.im) / (absolute ? 1 : exact.abs()));
  }, 0);

/** The library's error that a call throws; anything else thrown, or nothing, fails the test. */
export const errorOf = (call: () => unknown): DividingNetworkError => {
  try {
    call();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
};

/** Copies of a response's arrays, to prove that a call changed nothing. */
export const copied = ({ frequencies, re, im, marks }: FrequencyResponse): unknown => ({
  frequencies: frequencies.slice(),
  re: re.slice(),
  im: im.slice(),
  marks: structuredClone(marks),
});
