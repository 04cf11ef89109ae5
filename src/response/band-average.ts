import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { cubicValue, findInterval, log10Modulus, modulus, monotoneCubic } from "../numeric/internal";
import type { FrequencyBand } from "../quantity";
import { bandInSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";

/**
 * The mean of |H|² over a band, in the square of the response's unit, each octave weighing the same.
 *
 * $\frac{1}{\ln(f_2/f_1)} \int_{f_1}^{f_2} |H|^2 \, \frac{df}{f}$
 *
 * |H|² is integrated as the monotone cubic in ln f through the samples; the band may end between samples. Its square
 * root is the r.m.s. of the magnitude, and 10 lg of it a level; `bandMeanLevelDb` averages decibels instead.
 *
 * @param response any sampled response
 * @param band `{ from, to }`, Hz or text with its unit, above 0; the whole of it within the response's samples
 * @returns the mean of |H|², unit of the response squared
 * @throws DividingNetworkError `outside-band`, `invalid-response`, `invalid-argument`, `invalid-quantity`,
 * `unknown-option`, `overflow`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { bandPowerAverage } from "dividing-network/response";
 *
 * bandPowerAverage(frequencyResponse([100, 1000, 10000], [2, 2, 2], [0, 0, 0]), { from: "200 Hz", to: "5 kHz" }); // 4
 * ```
 */
export function bandPowerAverage(response: FrequencyResponse, band: FrequencyBand): number {
  return bandMean("bandPowerAverage", response, band, (x, y) => modulus(x, y) ** 2);
}

/**
 * The mean of the level over a band, in dB, each octave weighing the same: the mean of decibels, lower than the level of
 * the mean power by the more, the more the response varies.
 *
 * $\frac{1}{\ln(f_2/f_1)} \int_{f_1}^{f_2} 20 \lg\frac{|H|}{H_0} \, \frac{df}{f}$
 *
 * The level is integrated as the monotone cubic in ln f through the samples; the band may end between samples. A
 * sample of zero in the band or next to its edge makes it −∞ dB.
 *
 * @param response any sampled response
 * @param band `{ from, to }`, Hz or text with its unit, above 0; the whole of it within the response's samples
 * @param options `reference` H₀ in the unit of the response, above 0, default 1
 * @returns the mean level in dB
 * @throws DividingNetworkError `outside-band`, `invalid-response`, `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { bandMeanLevelDb } from "dividing-network/response";
 *
 * bandMeanLevelDb(frequencyResponse([100, 1000, 10000], [0.1, 1, 10], [0, 0, 0]), { from: 100, to: 10000 }); // 0.00
 * ```
 */
export function bandMeanLevelDb(
  response: FrequencyResponse,
  band: FrequencyBand,
  options?: { readonly reference?: number | undefined },
): number {
  const { reference = 1 } = checkOptions("bandMeanLevelDb", options, ["reference"]);
  checkNumber("bandMeanLevelDb", "reference", reference, { above: 0 });
  return bandMean("bandMeanLevelDb", response, band, (x, y) => 20 * (log10Modulus(x, y) - Math.log10(reference)));
}

function bandMean(caller: string, response: FrequencyResponse, band: FrequencyBand, measure: (re: number, im: number) => number): number {
  const { frequencies, re, im } = checkResponse(caller, "response", response);
  const { from: f0, to: f1 } = bandInSi(caller, "band", band);
  const n = frequencies.length;
  const lowest = frequencies[0] === 0 && n > 1 ? 1 : 0;
  if (n - lowest < 2 || f0 < frequencies[lowest]! || f1 > frequencies[n - 1]!) {
    throw new DividingNetworkError(
      "outside-band",
      `${caller}: the band must lie within the response's samples, ${frequencies[lowest]} Hz to ${frequencies[n - 1]} Hz, got ${f0} Hz to ${f1} Hz`,
      "Average within that band: nothing is extrapolated",
    );
  }
  const first = Math.max(findInterval(frequencies, f0), lowest);
  let last = findInterval(frequencies, f1) + 1;
  if (last - 1 > first && frequencies[last - 1] === f1) last--;
  const x = frequencies.slice(first, last + 1).map((f) => Math.log(f));
  const y = x.map((_, i) => measure(re[first + i]!, im[first + i]!));
  if (y.includes(-Infinity)) return -Infinity;
  const [start, end] = [Math.log(f0), Math.log(f1)];
  const mean = integral(x, y, start, end) / (end - start);
  if (Number.isFinite(mean)) return mean;
  throw new DividingNetworkError(
    "overflow",
    `${caller}: the mean must be a finite number, got ${mean} from ${f0} Hz to ${f1} Hz`,
    "Scale the response, or average over a wider band",
  );
}

/** Two-point Gauss quadrature in each interval, which is exact for its cubic. */
function integral(x: Float64Array, y: Float64Array, start: number, end: number): number {
  const curve = monotoneCubic(x, y);
  let sum = 0;
  for (let i = 0; i < x.length - 1; i++) {
    const [a, b] = [Math.max(start, x[i]!), Math.min(end, x[i + 1]!)];
    if (b <= a) continue;
    const [middle, offset] = [(a + b) / 2, (b - a) / (2 * Math.sqrt(3))];
    sum += ((b - a) / 2) * (cubicValue(curve, i, middle - offset) + cubicValue(curve, i, middle + offset));
  }
  return sum;
}
