import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { realFft } from "../numeric";
import { checkedGrid } from "./checked-grid";
import { finiteResponse } from "./finite-response";
import type { FrequencyResponse } from "./sampled-function";
import { checkImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";

/** At which frequencies a response is wanted. */
export interface ResponseFromImpulseOptions {
  /** Hz, ascending, up to half the sampling rate: the sum is then evaluated at these. */
  readonly frequencies?: ArrayLike<number> | undefined;
  /** Length after padding with zeros, at least that of the impulse response; sets the spacing sampleRate / length. */
  readonly length?: number | undefined;
}

/**
 * Frequency response of an impulse response, in the unit of its samples.
 *
 * $$H(f) = \sum_n x_n\, e^{-j 2\pi f (t_0 + n/f_s)}$$
 *
 * By default at 0 Hz, f_s/N, … f_s/2 by a fast transform; with `frequencies`, at those alone. The time of the first sample is in
 * the phase: a direct sound that arrives after 3 ms has 3 ms of delay.
 *
 * @param impulse samples over time
 * @param options `frequencies` in Hz, or `length` (dimensionless) to pad to
 * @returns the response in the unit of the samples
 * @throws DividingNetworkError `invalid-impulse`, `invalid-argument`, `too-large` beyond 10⁹ products, `overflow`
 * @example
 * ```ts
 * import { impulseResponse, responseFromImpulse } from "dividing-network/response";
 *
 * const late = impulseResponse([0, 1, 0, 0], { sampleRate: 48000 });
 * responseFromImpulse(late).im; // [0, -1, 0]
 * ```
 */
export function responseFromImpulse(impulse: ImpulseResponse, options?: ResponseFromImpulseOptions): FrequencyResponse {
  const { samples, sampleRate, startTime } = checkImpulse("responseFromImpulse", "impulse", impulse);
  const { frequencies, length = samples.length } = checkOptions("responseFromImpulse", options, ["frequencies", "length"]);
  if (frequencies !== undefined) return atFrequencies(impulse, checkedGrid("responseFromImpulse", frequencies));
  checkNumber("responseFromImpulse", "length", length, { min: samples.length, max: 2 ** 26, integer: true });
  const padded = new Float64Array(length);
  padded.set(samples);
  const { re, im } = realFft(padded);
  const grid = re.map((_, k) => (k * sampleRate) / length);
  turn(grid, re, im, -startTime);
  return finiteResponse("responseFromImpulse", grid, re, im);
}

/** Multiplies by e^(j2πfτ) in place. */
export function turn(frequencies: Float64Array, re: Float64Array, im: Float64Array, time: number): void {
  if (time === 0) return;
  for (let k = 0; k < frequencies.length; k++) {
    const turns = frequencies[k]! * time;
    const angle = 2 * Math.PI * (turns - Math.round(turns));
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    const real = re[k]! * c - im[k]! * s;
    im[k] = re[k]! * s + im[k]! * c;
    re[k] = real;
  }
}

function atFrequencies({ samples, sampleRate, startTime }: ImpulseResponse, frequencies: Float64Array): FrequencyResponse {
  const highest = frequencies[frequencies.length - 1]!;
  checkNumber("responseFromImpulse", "frequencies", highest, { max: sampleRate / 2, unit: "Hz" });
  if (frequencies.length * samples.length > 1e9) {
    throw new DividingNetworkError(
      "too-large",
      `responseFromImpulse: "frequencies" times samples must be at most 1e9, got ${frequencies.length} × ${samples.length}`,
      'Leave out "frequencies" and resample the result, or gate the impulse response first',
    );
  }
  const re = new Float64Array(frequencies.length);
  const im = new Float64Array(frequencies.length);
  for (let k = 0; k < frequencies.length; k++) {
    const angle = (-2 * Math.PI * frequencies[k]!) / sampleRate;
    const stepRe = Math.cos(angle);
    const stepIm = Math.sin(angle);
    let sumRe = 0;
    let sumIm = 0;
    // The phasor is turned from sample to sample and set anew every 256.
    for (let block = 0; block < samples.length; block += 256) {
      let c = Math.cos(angle * block);
      let s = Math.sin(angle * block);
      const end = Math.min(samples.length, block + 256);
      for (let n = block; n < end; n++) {
        sumRe += samples[n]! * c;
        sumIm += samples[n]! * s;
        const next = c * stepRe - s * stepIm;
        s = c * stepIm + s * stepRe;
        c = next;
      }
    }
    re[k] = sumRe;
    im[k] = sumIm;
  }
  turn(frequencies, re, im, -startTime);
  return finiteResponse("responseFromImpulse", frequencies, re, im);
}
