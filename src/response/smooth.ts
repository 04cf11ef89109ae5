import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import { estimateDelay } from "./estimate-delay";
import { finiteResponse } from "./finite-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { turn } from "./response-from-impulse";
import { unitScale } from "./unit-scale";

/** How a response is smoothed. */
export interface SmoothOptions {
  /** n of 1/n octave, 1 to 96. */
  readonly fraction: number;
  /** `"power"` (default): mean of |H|², phase kept; `"complex"`: mean of H with the bulk delay taken out. */
  readonly kind?: "power" | "complex" | undefined;
  /** s: the bulk delay for `"complex"`, where it is known. */
  readonly delay?: Time | undefined;
}

/**
 * A response averaged over a band of 1/n octave around each frequency, in its unit.
 *
 * $$|\bar H(f)|^2 = \frac{n}{\ln 2} \int_{-\ln 2/2n}^{\ln 2/2n} |H(f e^u)|^2\, du \quad\text{(power)}, \qquad
 * \bar H(f) = \frac{n}{\ln 2} \int H(f e^u)\, e^{j 2\pi f e^u \tau} du \cdot e^{-j 2\pi f \tau} \quad\text{(complex)}$$
 *
 * Between samples |H|² or H is taken as straight over ln f. At the ends of the data the band is cut equally on both sides.
 *
 * Bias. Power smoothing never reads below the level's mean: on a straight slope it reads high by `smoothingBiasDb`, fills dips, and keeps
 * peaks' power; noise adds its power. Complex smoothing reads low wherever the phase turns within the band after the bulk delay: by
 * sin(x)/x for a turn of 2x; it acts as a time window and takes reflections out. Half an octave from each feature nothing is changed.
 * The result is marked as smoothed.
 *
 * @param response any sampled response
 * @param options `fraction` n (dimensionless), `kind`, `delay` in s
 * @returns the smoothed response at the same frequencies, in its unit
 * @throws DividingNetworkError `invalid-response`, `invalid-argument`, `unknown-option`, `overflow`
 * @example
 * ```ts
 * import { frequencyResponse, smoothResponse } from "dividing-network/response";
 *
 * const comb = frequencyResponse([800, 900, 1000, 1100, 1200], [1, 2, 1, 2, 1], [0, 0, 0, 0, 0]);
 * smoothResponse(comb, { fraction: 3, kind: "complex", delay: 0 }).re[2]; // 1.5537
 * ```
 */
export function smoothResponse(response: FrequencyResponse, options: SmoothOptions): FrequencyResponse {
  const caller = "smoothResponse";
  const { frequencies, re, im, marks = [] } = checkResponse(caller, "response", response);
  const { fraction, kind = "power", delay } = checkOptions(caller, options, ["fraction", "kind", "delay"]);
  checkNumber(caller, "fraction", fraction, { min: 1, max: 96 });
  checkOneOf(caller, "kind", kind, ["power", "complex"]);
  const bulk = delay === undefined ? undefined : inSi(caller, "delay", delay, "s", { min: -10, max: 10 });
  const half = Math.LN2 / (2 * fraction);
  const mark: Mark = Object.freeze({ kind: "smoothed", note: `${kind}-smoothed over 1/${fraction} octave` });
  const at0 = frequencies[0] === 0 ? 1 : 0;
  const x = frequencies.subarray(at0).map((f) => Math.log(f));
  const put = (smoothed: Float64Array, original: Float64Array): Float64Array => {
    const out = original.slice();
    out.set(smoothed, at0);
    return out;
  };
  const scale = unitScale(re, im);
  if (kind === "power") {
    const mean = slidingMean(
      x,
      re.subarray(at0).map((value, k) => (value / scale) ** 2 + (im[at0 + k]! / scale) ** 2),
      half,
    ).map((power) => Math.max(0, power));
    const gain = mean.map((power, k) => {
      const size = Math.hypot(re[at0 + k]! / scale, im[at0 + k]! / scale);
      return size === 0 ? 0 : Math.sqrt(power) / size;
    });
    const outRe = put(
      gain.map((g, k) => (g === 0 ? Math.sqrt(mean[k]!) * scale : g * (re[at0 + k]! / scale) * scale)),
      re,
    );
    const outIm = put(
      gain.map((g, k) => g * (im[at0 + k]! / scale) * scale),
      im,
    );
    return finiteResponse(caller, frequencies, outRe, outIm, [...marks, mark]);
  }
  const tau = bulk ?? estimateDelay(response);
  const flatRe = re.map((value) => value / scale);
  const flatIm = im.map((value) => value / scale);
  turn(frequencies, flatRe, flatIm, tau);
  const outRe = put(slidingMean(x, flatRe.subarray(at0), half), flatRe);
  const outIm = put(slidingMean(x, flatIm.subarray(at0), half), flatIm);
  turn(frequencies, outRe, outIm, -tau);
  return finiteResponse(
    caller,
    frequencies,
    outRe.map((value) => value * scale),
    outIm.map((value) => value * scale),
    [...marks, mark],
  );
}

/**
 * What power smoothing over 1/n octave reads too high on a straight slope, in dB.
 *
 * $$10 \lg \frac{\sinh a}{a}, \qquad a = \frac{s \ln 10}{20\, n}$$
 *
 * with s the slope in dB per octave: 0.04 dB for 12 dB/octave over 1/6 octave, 0.60 dB for 24 dB/octave over 1/3 octave.
 *
 * @param options `fraction` n (dimensionless), `slope` in dB per octave
 * @returns dB, at least 0
 * @throws DividingNetworkError `invalid-argument`
 * Source: algebra: the mean of 10^(sx/10) over one band.
 * @example
 * ```ts
 * import { smoothingBiasDb } from "dividing-network/response";
 *
 * smoothingBiasDb({ fraction: 3, slope: 24 }); // 0.60
 * ```
 */
export function smoothingBiasDb(options: { readonly fraction: number; readonly slope: number }): number {
  const { fraction, slope } = checkOptions("smoothingBiasDb", options, ["fraction", "slope"]);
  checkNumber("smoothingBiasDb", "fraction", fraction, { min: 1, max: 96 });
  checkNumber("smoothingBiasDb", "slope", slope, { min: -1000, max: 1000, unit: "dB per octave" });
  const a = Math.abs(slope * Math.LN10) / (20 * fraction);
  return a < 1e-8 ? 0 : 10 * Math.log10(Math.sinh(a) / a);
}

// Mean over ±half around each x of the function that is straight between the samples; less where the data end.
function slidingMean(x: Float64Array, y: Float64Array, half: number): Float64Array {
  const n = x.length;
  const out = new Float64Array(n);
  // Running area as a sum of two numbers: far below the level of the rest, a plain difference would drown in rounding.
  const area = new Float64Array(n);
  const rounding = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    const step = ((x[i]! - x[i - 1]!) * (y[i]! + y[i - 1]!)) / 2;
    const before = area[i - 1]!;
    const sum = before + step;
    const part = sum - before;
    area[i] = sum;
    rounding[i] = rounding[i - 1]! + (before - (sum - part)) + (step - part);
  }
  // The area from sample i to a place between samples i and i + 1.
  const beyond = (place: number, i: number): number => {
    const t = place - x[i]!;
    const slope = i + 1 < n ? (y[i + 1]! - y[i]!) / (x[i + 1]! - x[i]!) : 0;
    return t * (y[i]! + (slope * t) / 2);
  };
  // Both ends of the band only move upwards.
  let low = 0;
  let high = 0;
  for (let k = 0; k < n; k++) {
    const reach = Math.min(half, x[k]! - x[0]!, x[n - 1]! - x[k]!);
    if (!(reach > 0)) {
      out[k] = y[k]!;
      continue;
    }
    const from = x[k]! - reach;
    const to = x[k]! + reach;
    while (low + 1 < n && x[low + 1]! <= from) low++;
    while (high + 1 < n && x[high + 1]! <= to) high++;
    const whole = area[high]! - area[low]! + (rounding[high]! - rounding[low]!);
    out[k] = (whole + beyond(to, high) - beyond(from, low)) / (2 * reach);
  }
  return out;
}
