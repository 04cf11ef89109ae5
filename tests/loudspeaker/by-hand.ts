// Complex arithmetic for these tests alone, and synthetic measurements made with it.
import { frequencyResponse, type FrequencyResponse } from "dividing-network/response";

export type C = readonly [re: number, im: number];

export const plus = (...list: readonly C[]): C => [list.reduce((sum, [re]) => sum + re, 0), list.reduce((sum, [, im]) => sum + im, 0)];
export const times = (a: C, b: C): C => [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
export const over = (a: C, b: C): C => {
  const size = b[0] ** 2 + b[1] ** 2;
  return [(a[0] * b[0] + a[1] * b[1]) / size, (a[1] * b[0] - a[0] * b[1]) / size];
};
export const turned = (size: number, degrees: number): C => [
  size * Math.cos((degrees * Math.PI) / 180),
  size * Math.sin((degrees * Math.PI) / 180),
];

/** Speed of sound in m/s at °C: 331.3 √(1 + t/273.15) after ISO 9613-1 written as 343.2 √(T/293.15 K). */
export const speed = (celsius: number): number => 343.2 * Math.sqrt((celsius + 273.15) / 293.15);

/** Hz, 24 an octave from 125 Hz to 16 kHz: passes through 1 kHz. */
export const grid = Float64Array.from({ length: 169 }, (_, index) => 125 * 2 ** (index / 24));

/** A response on the grid from a function of frequency. */
export function sampled(at: (frequency: number) => C, frequencies: ArrayLike<number> = grid): FrequencyResponse {
  const values = Array.from(frequencies, at);
  return frequencyResponse(
    Float64Array.from(frequencies),
    values.map(([re]) => re),
    values.map(([, im]) => im),
  );
}

/** A flight of so many metres: e^(−jkr)/r times a size in Pa at 1 m. */
export const flight =
  (metres: number, c: number, size = 1) =>
  (frequency: number): C =>
    turned(size / metres, (-360 * frequency * metres) / c);
