import { findInterval, cubicValue, monotoneCubic, type CubicCurve } from "../numeric/internal";
import type { FrequencyResponse } from "../response";

/** dB re 1: what silence counts as. */
export const QUIETEST_DB = -400;

/** Half a third of an octave on the axis of ln f. */
const HALF = Math.LN2 / 6;

/**
 * A response by the power in a third of an octave around each frequency: |p|² as the monotone cubic over ln f, as `bandPowerAverage` takes it,
 * averaged exactly. Where the data end, so does the window.
 */
export interface ThirdOctaves {
  /** ln f of the first and the last sample. */
  readonly from: number;
  readonly to: number;
  /** 10 lg of the mean power around ln f, in dB re 1 of the response's unit squared; silence counts as −400 dB, so that means stay numbers. */
  readonly levelDb: (lnf: number) => number;
  /** Places on ln f at which `levelDb` bends: integrate between them. */
  readonly bends: readonly number[];
}

export function thirdOctaves({ frequencies, re, im }: FrequencyResponse): ThirdOctaves {
  const first = frequencies[0]! > 0 ? 0 : 1;
  const x = frequencies.slice(first).map(Math.log);
  const curve = monotoneCubic(
    x,
    x.map((_, i) => re[first + i]! ** 2 + im[first + i]! ** 2),
  );
  const sums = new Float64Array(x.length);
  for (let i = 1; i < x.length; i++) sums[i] = sums[i - 1]! + piece(curve, i - 1, x[i - 1]!, x[i]!);
  const [from, to] = [x[0]!, x[x.length - 1]!];
  const until = (at: number) => {
    const i = Math.min(findInterval(x, at), x.length - 2);
    return sums[i]! + piece(curve, i, x[i]!, at);
  };
  return {
    from,
    to,
    levelDb: (lnf) => {
      const [a, b] = [Math.max(from, lnf - HALF), Math.min(to, lnf + HALF)];
      return Math.max(QUIETEST_DB, 10 * Math.log10(Math.max(0, (until(b) - until(a)) / (b - a))));
    },
    bends: bendsOf(x),
  };
}

/** Where a window's end passes a sample, ascending. */
function bendsOf(x: Float64Array): readonly number[] {
  const all: number[] = [];
  for (let left = 0, right = 0; right < x.length;)
    all.push(left < x.length && x[left]! - HALF <= x[right]! + HALF ? x[left++]! - HALF : x[right++]! + HALF);
  return all;
}

/** Two-point Gauss quadrature, which is exact for a cubic. */
function piece(curve: CubicCurve, interval: number, a: number, b: number): number {
  const [middle, offset] = [(a + b) / 2, (b - a) / (2 * Math.sqrt(3))];
  return ((b - a) / 2) * (cubicValue(curve, interval, middle - offset) + cubicValue(curve, interval, middle + offset));
}

/** Nodes and weights of three-point Gauss quadrature on −1 … 1. */
const NODES = [-0.7745966692414834, 0, 0.7745966692414834] as const;
const WEIGHTS = [5 / 9, 8 / 9, 5 / 9] as const;

/** The integral over ln f of a function that bends only at the places given. */
export function integralBetween(from: number, to: number, bends: readonly number[], value: (lnf: number) => number): number {
  let sum = 0;
  overNodes(from, to, bends, (lnf, weight) => (sum += weight * value(lnf)));
  return sum;
}

/** The mean over ln f of such a function, and its variance: the mean square around the mean, so that nothing cancels where it is nearly the same everywhere. */
export function momentsBetween(
  from: number,
  to: number,
  bends: readonly number[],
  value: (lnf: number) => number,
): { readonly mean: number; readonly variance: number } {
  const [values, weights]: [number[], number[]] = [[], []];
  let sum = 0;
  overNodes(from, to, bends, (lnf, weight) => {
    const own = value(lnf);
    values.push(own);
    weights.push(weight);
    sum += weight * own;
  });
  const mean = sum / (to - from);
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += weights[i]! * (values[i]! - mean) ** 2;
  return { mean, variance: squares / (to - from) };
}

function overNodes(from: number, to: number, bends: readonly number[], take: (lnf: number, weight: number) => void): void {
  let a = from;
  for (let i = 0; i <= bends.length; i++) {
    const bend = i < bends.length ? bends[i]! : to;
    if (i < bends.length && !(bend > from && bend < to)) continue;
    const [middle, half] = [(a + bend) / 2, (bend - a) / 2];
    if (half > 0) for (let k = 0; k < 3; k++) take(middle + half * NODES[k]!, half * WEIGHTS[k]!);
    a = bend;
  }
}
