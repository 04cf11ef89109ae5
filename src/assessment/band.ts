import { DividingNetworkError } from "../errors";
import { REFERENCE_PRESSURE } from "../physics";
import { QUIETEST_DB } from "./third-octaves";
import { sampledAt } from "./sampled-at";
import type { FrequencyBand } from "../quantity";
import { bandInSi } from "../quantity/internal";
import { bandPowerAverage, frequencyResponse, levelDb, magnitude, scaleResponse, type FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";

/** A band of frequencies in Hz, both ends included. */
export interface Band {
  /** Hz: lower end. */
  readonly from: number;
  /** Hz: upper end. */
  readonly to: number;
}

export function checkBand(caller: string, argument: string, given: FrequencyBand): Band {
  return bandInSi(caller, argument, given, { min: 1e-3, max: 1e9 });
}

/** Points of a log grid that passes through 1 kHz, within a band: so that results don't hang on where the band begins. */
export function anchoredGrid({ from, to }: Band, perOctave: number): Float64Array {
  const step = (frequency: number) => perOctave * Math.log2(frequency / 1000);
  const [first, last] = [Math.ceil(step(from) - 1e-9), Math.floor(step(to) + 1e-9)];
  return Float64Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => 1000 * 2 ** ((first + index) / perOctave));
}

/** Points per octave at which responses are judged; nothing is smoothed. */
export const POINTS_PER_OCTAVE = 24;

/** A response on the points at which it is judged, and its level there in dB re 20 µPa. */
export function judged(
  response: FrequencyResponse,
  band: Band,
): { readonly frequencies: Float64Array; readonly response: FrequencyResponse; readonly levelDb: Float64Array } {
  // A band that ends at a measured frequency as printed has its last point there.
  const measured = response.frequencies;
  const ends = {
    from: band.from <= measured[0]! ? band.from * (1 - 1e-6) : band.from,
    to: band.to >= measured[measured.length - 1]! ? band.to * (1 + 1e-6) : band.to,
  };
  const frequencies = snap(anchoredGrid(ends, POINTS_PER_OCTAVE), measured);
  if (frequencies.length < 3)
    throw new DividingNetworkError(
      "band-too-narrow",
      `assess: from ${band.from} Hz to ${band.to} Hz there are fewer than three points to judge`,
      "Give a wider band",
    );
  const sampled = sampledAt(response, frequencies);
  return {
    frequencies,
    response: sampled,
    levelDb: levelDb(sampled, { reference: REFERENCE_PRESSURE }).map((level) => Math.max(SILENCE_DB, level)),
  };
}

/** Points that differ from a measured frequency by no more than its printed digits are that frequency: no interpolation there. */
function snap(wanted: Float64Array, measured: Float64Array): Float64Array {
  let at = 0;
  return wanted.map((frequency) => {
    while (at + 1 < measured.length && Math.abs(measured[at + 1]! - frequency) <= Math.abs(measured[at]! - frequency)) at++;
    return Math.abs(measured[at]! / frequency - 1) < 1e-4 ? measured[at]! : frequency;
  });
}

/** dB re 20 µPa: what silence counts as where levels are compared, so that differences and means stay numbers. */
export const SILENCE_DB = /* @__PURE__ */ (() => QUIETEST_DB - 20 * Math.log10(REFERENCE_PRESSURE))();

/** A response without the point at 0 Hz that impulses bring along: it lies nowhere on a logarithmic axis. */
export function aboveZero(caller: string, argument: string, given: FrequencyResponse): FrequencyResponse {
  const response = checkResponse(caller, argument, given);
  const { frequencies, re, im, marks } = response;
  if (frequencies[0]! > 0) return response;
  if (frequencies.length === 1)
    throw new DividingNetworkError("band-too-narrow", `${caller}: "${argument}" must reach above 0 Hz, got a single point at 0 Hz`);
  return frequencyResponse(frequencies.subarray(1), re.subarray(1), im.subarray(1), marks);
}

/** The part of a band that a response covers; undefined when less than a third of an octave is left. */
export function covered({ from, to }: Band, { frequencies }: FrequencyResponse): Band | undefined {
  const band = { from: Math.max(from, frequencies[0]!), to: Math.min(to, frequencies[frequencies.length - 1]!) };
  return band.to / band.from >= 2 ** (1 / 3) ? band : undefined;
}

/** 10 lg of the mean of |p|² over a band, each octave weighing the same, exactly: it hangs on no lattice of points. dB re 20 µPa. */
export function bandLevelDb(response: FrequencyResponse, { from, to }: Band): number {
  const { frequencies } = response;
  // A band that ends at a measured frequency as printed ends there.
  const [first, last] = [frequencies[0]!, frequencies[frequencies.length - 1]!];
  const band = { from: Math.abs(from / first - 1) < 1e-4 ? first : from, to: Math.abs(to / last - 1) < 1e-4 ? last : to };
  // Of the response over its largest magnitude: squares of what a number can hold may be beyond it.
  const largest = magnitude(response).reduce((most, size) => Math.max(most, size), 0);
  if (largest === 0) return -Infinity;
  return 10 * Math.log10(bandPowerAverage(scaleResponse(response, 1 / largest), band)) + 20 * Math.log10(largest / REFERENCE_PRESSURE);
}

/** Least squares of y against x. */
export function fitLine(x: ArrayLike<number>, y: ArrayLike<number>): { readonly slope: number; readonly at: (x: number) => number } {
  const n = x.length;
  let [mx, my] = [0, 0];
  for (let i = 0; i < n; i++) {
    mx += x[i]! / n;
    my += y[i]! / n;
  }
  let [sxx, sxy] = [0, 0];
  for (let i = 0; i < n; i++) {
    sxx += (x[i]! - mx) ** 2;
    sxy += (x[i]! - mx) * (y[i]! - my);
  }
  const slope = sxx === 0 ? 0 : sxy / sxx;
  return { slope, at: (value) => my + slope * (value - mx) };
}
