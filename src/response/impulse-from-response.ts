import { checkNumber, checkOptions } from "../errors/internal";
import { inverseRealFft } from "../numeric";
import { halfWindow } from "../numeric/internal";
import type { Frequency, Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { freezeImpulse, LOWEST_RATE } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";
import { resample } from "./resample";
import { turn } from "./response-from-impulse";

/** How a frequency response is brought to samples over time. */
export interface ImpulseFromResponseOptions {
  /** Hz or text with its unit. */
  readonly sampleRate: Frequency;
  /** Number of samples. */
  readonly length: number;
  /** s, of the first sample; default 0. A negative one shows what comes before zero. */
  readonly startTime?: Time | undefined;
  /** Octaves over which each end of the data is faded out (half-Hann over ln f), where the data end inside 0 … sampleRate/2; default 0. */
  readonly taperOctaves?: number | undefined;
}

/**
 * Impulse response of a frequency response, in its unit: the inverse of `responseFromImpulse`.
 *
 * $$x_n = \frac1N \sum_k H(f_k)\, e^{+j 2\pi f_k (t_0 + n/f_s)}, \qquad f_k = k f_s/N$$
 *
 * A response that already stands at k·f_s/N for k = 0 … N/2 comes back exactly. Any other is resampled to those
 * frequencies and taken as zero outside its band: a band-limited impulse rings at the band's edges, before the direct sound as
 * well as after it; `taperOctaves` trades ringing for bandwidth. The result repeats every N/f_s: what is longer folds back.
 *
 * @param response any sampled response
 * @param options `sampleRate` in Hz, `length` dimensionless, `startTime` in s, `taperOctaves` in octaves
 * @returns `length` samples in the unit of the response
 * @throws DividingNetworkError `invalid-response`, `invalid-argument`, `phase-step` when the response is too coarse to resample
 * @example
 * ```ts
 * import { frequencyResponse, impulseFromResponse } from "dividing-network/response";
 *
 * const flat = frequencyResponse([0, 12000, 24000], [1, 1, 1], [0, 0, 0]);
 * impulseFromResponse(flat, { sampleRate: 48000, length: 4 }).samples; // [1, 0, 0, 0]
 * ```
 */
export function impulseFromResponse(response: FrequencyResponse, options: ImpulseFromResponseOptions): ImpulseResponse {
  const caller = "impulseFromResponse";
  const own = checkResponse(caller, "response", response);
  const {
    sampleRate,
    length,
    startTime = 0,
    taperOctaves = 0,
  } = checkOptions(caller, options, ["sampleRate", "length", "startTime", "taperOctaves"]);
  const rate = inSi(caller, "sampleRate", sampleRate, "Hz", { min: LOWEST_RATE, max: 1e9 });
  const start = inSi(caller, "startTime", startTime, "s", { min: -1e6, max: 1e6 });
  checkNumber(caller, "length", length, { min: 1, max: 2 ** 24, integer: true });
  checkNumber(caller, "taperOctaves", taperOctaves, { min: 0, max: 20, unit: "octaves" });
  const half = Math.floor(length / 2);
  const grid = Float64Array.from({ length: half + 1 }, (_, k) => (k * rate) / length);
  const re = new Float64Array(half + 1);
  const im = new Float64Array(half + 1);
  const { frequencies } = own;
  const lowest = frequencies[0]!;
  const highest = frequencies[frequencies.length - 1]!;
  if (frequencies.length === grid.length && grid.every((f, k) => Math.abs(f - frequencies[k]!) <= 1e-9 * rate)) {
    re.set(own.re);
    im.set(own.im);
  } else {
    const slack = 1e-9 * rate;
    const first = Math.max(0, Math.ceil(((lowest - slack) * length) / rate));
    const last = Math.min(half, Math.floor(((highest + slack) * length) / rate));
    if (first <= last) {
      const inside = grid.slice(first, last + 1).map((f) => Math.min(highest, Math.max(lowest, f)));
      const found = resample(own, inside);
      re.set(found.re, first);
      im.set(found.im, first);
      if (taperOctaves > 0) taper(grid, re, im, lowest, highest >= rate / 2 - slack ? Infinity : highest, taperOctaves);
    }
  }
  turn(grid, re, im, start);
  return freezeImpulse(inverseRealFft(re, im, length), rate, start);
}

function taper(grid: Float64Array, re: Float64Array, im: Float64Array, lowest: number, highest: number, octaves: number): void {
  for (let k = 0; k < grid.length; k++) {
    const fromLow = lowest > 0 ? Math.log2(grid[k]! / lowest) / octaves : 1;
    const fromHigh = Math.log2(highest / Math.max(grid[k]!, 1e-300)) / octaves;
    const weight = halfWindow("hann", Math.max(0, 1 - Math.max(0, fromLow))) * halfWindow("hann", Math.max(0, 1 - Math.max(0, fromHigh)));
    re[k]! *= weight;
    im[k]! *= weight;
  }
}
