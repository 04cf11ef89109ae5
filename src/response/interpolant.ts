import { DividingNetworkError } from "../errors";
import { cubicValue, findInterval, modulus, monotoneSlopes, type CubicCurve } from "../numeric/internal";
import type { FrequencyResponse } from "./sampled-function";
import { intervalKinds, type IntervalKind } from "./interval-kinds";
import { residualPhase } from "./phase-steps";
import { stepWeights } from "./step-weights";

/** A sampled response made ready for values between its samples. */
interface Interpolant {
  readonly response: FrequencyResponse;
  /** s, what is removed before interpolating and put back after. */
  readonly delay: number;
  /** rad, the turn of the rest from each sample to the next. */
  readonly steps: Float64Array;
  readonly kinds: readonly IntervalKind[];
  /** Over ln f, like the three below: logarithm of the magnitude, phase in rad, real and imaginary part of the rest. */
  readonly logMagnitude: CubicCurve;
  readonly phase: CubicCurve;
  readonly re: CubicCurve;
  readonly im: CubicCurve;
}

/** Responses never change, so that what was prepared for one value serves the next with the same stated delay. */
const prepared = /* @__PURE__ */ new WeakMap<FrequencyResponse, { readonly stated: number | undefined; readonly ready: Interpolant }>();

/** A response prepared, once; `delay` in s is removed before interpolating, estimated when it is not stated. */
function interpolant(response: FrequencyResponse, delay: number | undefined): Interpolant {
  const last = prepared.get(response);
  if (last !== undefined && last.stated === delay) return last.ready;
  const ready = prepare(response, delay);
  prepared.set(response, { stated: delay, ready });
  return ready;
}

function prepare(response: FrequencyResponse, delay: number | undefined): Interpolant {
  const { delay: removed, unwrapped, steps } = residualPhase(response, delay);
  const x = response.frequencies.map((f) => Math.log(f));
  const size = response.re.map((value, i) => modulus(value, response.im[i]!));
  const curves = {
    logMagnitude: size.map((value) => Math.log(value)),
    phase: unwrapped,
    re: size.map((value, i) => value * Math.cos(unwrapped[i]!)),
    im: size.map((value, i) => value * Math.sin(unwrapped[i]!)),
  };
  const kinds = intervalKinds({ x, size, steps, weights: stepWeights(response), ...curves });
  const polar = (y: Float64Array): CubicCurve => ({
    x,
    y,
    slopes: slopesBetween(x, y, (i) => kinds[i] === "null" || kinds[i] === "refused"),
  });
  const parts = (y: Float64Array): CubicCurve => ({ x, y, slopes: slopesBetween(x, y, (i) => kinds[i] === "refused") });
  return {
    response,
    delay: removed,
    steps,
    kinds,
    logMagnitude: polar(curves.logMagnitude),
    phase: polar(curves.phase),
    re: parts(curves.re),
    im: parts(curves.im),
  };
}

/** Slopes within each run of intervals that are not cut; a sample at 0 Hz has no logarithm and stands alone. */
function slopesBetween(x: Float64Array, y: Float64Array, cut: (interval: number) => boolean): Float64Array {
  const slopes = new Float64Array(x.length);
  for (let start = x[0] === -Infinity ? 1 : 0; start < x.length;) {
    let end = start + 1;
    while (end < x.length && !cut(end - 1)) end++;
    if (end - start > 1) slopes.set(monotoneSlopes(x.subarray(start, end), y.subarray(start, end)), start);
    start = end;
  }
  return slopes;
}

/**
 * Writes the value at a frequency in Hz into index k of two arrays: a sample itself, or what lies between two of them. `delay`
 * in s is the stated bulk delay.
 */
export function writeValue(
  caller: string,
  response: FrequencyResponse,
  delay: number | undefined,
  frequency: number,
  re: Float64Array,
  im: Float64Array,
  k: number,
): void {
  const { frequencies } = response;
  const last = frequencies.length - 1;
  if (!(frequency >= frequencies[0]! && frequency <= frequencies[last]!)) {
    throw new DividingNetworkError(
      "outside-band",
      `${caller}: the frequency must lie between ${frequencies[0]} Hz and ${frequencies[last]} Hz, where the response has samples, got ${frequency} Hz`,
      "Ask within that band: nothing is extrapolated",
    );
  }
  const i = last === 0 ? 0 : findInterval(frequencies, frequency);
  const sample = frequency === frequencies[i] ? i : frequency === frequencies[i + 1] ? i + 1 : -1;
  if (sample < 0) {
    writeBetween(caller, interpolant(response, delay), i, frequency, re, im, k);
    return;
  }
  re[k] = response.re[sample]!;
  im[k] = response.im[sample]!;
}

/** The same within interval i. */
function writeBetween(
  caller: string,
  from: Interpolant,
  i: number,
  frequency: number,
  re: Float64Array,
  im: Float64Array,
  k: number,
): void {
  const { frequencies } = from.response;
  const kind = from.kinds[i]!;
  if (kind === "refused") throw phaseStep(caller, from, i, frequency);
  const turns = frequency * from.delay;
  const turn = -2 * Math.PI * (turns - Math.round(turns));
  const x = Math.log(frequency);
  if (kind === "polar") {
    const size = Math.exp(cubicValue(from.logMagnitude, i, x));
    const angle = cubicValue(from.phase, i, x) + turn;
    re[k] = size * Math.cos(angle);
    im[k] = size * Math.sin(angle);
    return;
  }
  // Between 0 Hz and the first positive frequency the parts run straight in f, for 0 Hz lies on no logarithmic axis.
  const straight = (y: ArrayLike<number>): number => y[0]! + (frequency / frequencies[1]!) * (y[1]! - y[0]!);
  const fromZero = frequencies[i] === 0;
  const a = fromZero ? straight(from.re.y) : cubicValue(from.re, i, x);
  const b = fromZero ? straight(from.im.y) : cubicValue(from.im, i, x);
  re[k] = a * Math.cos(turn) - b * Math.sin(turn);
  im[k] = a * Math.sin(turn) + b * Math.cos(turn);
}

function phaseStep(caller: string, from: Interpolant, i: number, frequency: number): DividingNetworkError {
  const { frequencies } = from.response;
  const degrees = Math.abs(from.steps[i]!) * (180 / Math.PI);
  const here = `${degrees.toFixed(1)}° from ${frequencies[i]} Hz to ${frequencies[i + 1]} Hz`;
  const found = degrees > 90 ? here : `${here} by chance, but steps spread over the whole circle elsewhere`;
  return new DividingNetworkError(
    "phase-step",
    `${caller}: the phase must turn by at most 90° between samples (a delay of ${from.delay} s removed) for a value at ${frequency} Hz, got ${found}`,
    "State the delay if it is known, take the response with more points, or ask only where it is more than noise",
  );
}
