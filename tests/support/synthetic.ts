// Closed forms for these tests alone: filters at ω = 1, textbook ladders, complex arithmetic.
import { loudspeaker, pressurePerVolt, type Loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import { capacitor, inductor, resistor } from "dividing-network/parts";
import type { Entries } from "dividing-network/network";
import { frequencyResponse, type FrequencyResponse } from "dividing-network/response";

export type C = readonly [re: number, im: number];
export const plus = (a: C, b: C): C => [a[0] + b[0], a[1] + b[1]];
export const times = (a: C, b: C): C => [a[0] * b[0] - a[1] * b[1], a[0] * b[1] + a[1] * b[0]];
export const over = (a: C, b: C): C => {
  const size = b[0] ** 2 + b[1] ** 2;
  return [(a[0] * b[0] + a[1] * b[1]) / size, (a[1] * b[0] - a[0] * b[1]) / size];
};
export const size = ([re, im]: C): number => Math.hypot(re, im);
export const turned = (magnitude: number, degrees: number): C => [
  magnitude * Math.cos((degrees * Math.PI) / 180),
  magnitude * Math.sin((degrees * Math.PI) / 180),
];
export const dB = (ratio: number): number => 20 * Math.log10(ratio);

/** Hz: 48 an octave through 1 kHz, 62.5 Hz to 16 kHz. */
export const grid = Float64Array.from({ length: 385 }, (_, index) => 1000 * 2 ** ((index - 192) / 48));
/** Hz: 24 an octave through 1 kHz, within a band. */
export const twentyFourths = (from: number, to: number): number[] => {
  const list: number[] = [];
  for (let k = Math.ceil(24 * Math.log2(from / 1000) - 1e-9); k <= 24 * Math.log2(to / 1000) + 1e-9; k++) list.push(1000 * 2 ** (k / 24));
  return list;
};

/** The mean of a function of frequency over log frequency, by Simpson's rule on 4000 intervals. */
export function meanOverOctaves(value: (frequency: number) => number, from: number, to: number): number {
  const n = 4000;
  let sum = 0;
  for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * value(from * (to / from) ** (i / n));
  return sum / (3 * n);
}

export function sampled(at: (frequency: number) => C, frequencies: ArrayLike<number> = grid): FrequencyResponse {
  const values = Array.from(frequencies, at);
  return frequencyResponse(
    Float64Array.from(frequencies),
    values.map(([re]) => re),
    values.map(([, im]) => im),
  );
}

/** Denominators of the Butterworth and Linkwitz–Riley filters, as factors c₀ + c₁ s + c₂ s² (common textbook knowledge). */
export const DENOMINATORS: Readonly<Record<string, readonly (readonly number[])[]>> = {
  "Butterworth 1": [[1, 1]],
  "Butterworth 2": [[1, Math.SQRT2, 1]],
  "Butterworth 3": [
    [1, 1],
    [1, 1, 1],
  ],
  "Butterworth 4": [
    [1, 2 * Math.cos(Math.PI / 8), 1],
    [1, 2 * Math.cos((3 * Math.PI) / 8), 1],
  ],
  "Linkwitz–Riley 2": [
    [1, 1],
    [1, 1],
  ],
  "Linkwitz–Riley 4": [
    [1, Math.SQRT2, 1],
    [1, Math.SQRT2, 1],
  ],
};
export const orderOf = (name: string): number => Number(name.at(-1));

/** Low-pass and high-pass of a name with their corner at `corner` Hz. */
export function filters(name: string, corner: number): { readonly low: (f: number) => C; readonly high: (f: number) => C } {
  const denominator = (x: number): C =>
    DENOMINATORS[name]!.reduce<C>((product, [c0 = 0, c1 = 0, c2 = 0]) => times(product, [c0 - c2 * x * x, c1 * x]), [1, 0]);
  const power = (x: number): C => Array.from({ length: orderOf(name) }).reduce<C>((product) => times(product, [0, x]), [1, 0]);
  return { low: (f) => over([1, 0], denominator(f / corner)), high: (f) => over(power(f / corner), denominator(f / corner)) };
}

/** Ladder values from an ideal source to a load of 1 Ω at ω = 1, first a series coil (common textbook knowledge). */
export const LADDERS: Readonly<Record<string, readonly number[]>> = {
  "Butterworth 1": [1],
  "Butterworth 2": [Math.SQRT2, Math.SQRT1_2],
  "Butterworth 3": [3 / 2, 4 / 3, 1 / 2],
  "Butterworth 4": [1.530734, 1.577161, 1.082392, 0.382683],
  "Linkwitz–Riley 2": [2, 1 / 2],
  "Linkwitz–Riley 4": [(4 * Math.SQRT2) / 3, (9 * Math.SQRT2) / 8, (2 * Math.SQRT2) / 3, Math.SQRT2 / 4],
};

/** Both branches of a two-way network on resistors R, with a corner for each; driver parts are "woofer" and "tweeter". */
export function twoWay(name: string, R: number, lowCorner: number, highCorner = lowCorner, reversed = false): Entries {
  const entries: Record<string, unknown> = {};
  const branch = (kind: "low" | "high", corner: number, load: string): string => {
    const w = 2 * Math.PI * corner;
    let node = "in";
    LADDERS[name]!.forEach((g, index) => {
      const coil = (index % 2 === 0) === (kind === "low");
      // A coil g becomes, by s → 1/s, a capacitor 1/g, and the other way round.
      const value = kind === "low" ? g : 1 / g;
      const part = coil ? inductor((value * R) / w) : capacitor(value / (w * R));
      const next = index % 2 === 0 ? `${load}${index}` : "gnd";
      entries[`${coil ? "L" : "C"}${load}${index}`] = [part, node, next];
      if (index % 2 === 0) node = next;
    });
    return node;
  };
  entries.woofer = [resistor(R), branch("low", lowCorner, "w"), "gnd"];
  const plusNode = branch("high", highCorner, "t");
  entries.tweeter = reversed ? [resistor(R), "gnd", plusNode] : [resistor(R), plusNode, "gnd"];
  return entries as Entries;
}

export const measure = (
  at: (f: number) => C,
  place: { readonly distance?: number; readonly azimuth?: number; readonly elevation?: number } = {},
  frequencies?: ArrayLike<number>,
): PressurePerVolt =>
  pressurePerVolt({
    response: sampled(at, frequencies),
    drive: { voltage: 1, at: "terminals" },
    distance: 1,
    timeZero: "common",
    ...place,
  });

/** A two-way loudspeaker on that network whose drivers give these pressures. */
export const twoWayBox = (network: Entries, woofer: readonly PressurePerVolt[], tweeter: readonly PressurePerVolt[]): Loudspeaker =>
  loudspeaker({
    network,
    drivers: [
      { name: "woofer", role: "woofer", pressures: woofer },
      { name: "tweeter", role: "tweeter", pressures: tweeter },
    ],
  });

/** A driver that is flat on the axis. */
export const flat = [measure(() => [0.1, 0])];

/** Every value times a number. */
export const scaled = ({ frequencies, re, im }: FrequencyResponse, by: number): FrequencyResponse =>
  frequencyResponse(
    frequencies,
    re.map((value) => value * by),
    im.map((value) => value * by),
  );
