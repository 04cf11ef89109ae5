import { checkObject, checkOptions } from "../errors/internal";
import type { FrequencyResponse } from "../response";
import { checkResponse } from "../response/internal";
import { checkBand, fitLine, judged } from "./band";
import type { FrequencyBand } from "../quantity";

/** How far a response is from a straight line over the logarithm of frequency. */
export interface Smoothness {
  /** dB per octave of the fitted line. */
  readonly slopeDbPerOctave: number;
  /** dB, of the deviations from the line, divisor n. */
  readonly standardDeviationDb: number;
  /** dB, the largest deviation with its sign. */
  readonly worstDb: number;
  /** Hz, where it is. */
  readonly worstFrequency: number;
  /** dB, highest less lowest level. */
  readonly rangeDb: number;
}

/**
 * Smoothness of a response over a band: deviations (dB) from the line fitted to its level against log₂ f, on points a 24th
 * of an octave apart, not smoothed.
 *
 * @param response sound pressure, Pa
 * @param options `band` in Hz
 * @returns slope in dB/octave, standard deviation, worst deviation and range in dB, and where the worst lies in Hz
 * @throws DividingNetworkError `invalid-argument`, `outside-band`
 * @example
 * ```ts
 * import { frequencyResponse, logGrid } from "dividing-network";
 * import { smoothness } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 10_000, 200);
 * const falling = frequencyResponse(grid, grid.map((frequency) => 100 / frequency), grid.map(() => 0));
 * smoothness(falling, { band: { from: 300, to: 3000 } }).slopeDbPerOctave; // -6.0206
 * ```
 */
export function smoothness(response: FrequencyResponse, options: { readonly band: FrequencyBand }): Smoothness {
  checkOptions("smoothness", checkObject("smoothness", "options", options, "{ band }"), ["band"]);
  const { frequencies, levelDb } = judged(checkResponse("smoothness", "response", response), checkBand("smoothness", "band", options.band));
  const octaves = frequencies.map((frequency) => Math.log2(frequency));
  const line = fitLine(octaves, levelDb);
  let [worst, sum, low, high] = [0, 0, Infinity, -Infinity];
  const deviation = levelDb.map((level, index) => level - line.at(octaves[index]!));
  deviation.forEach((value, index) => {
    if (Math.abs(value) > Math.abs(deviation[worst]!)) worst = index;
    sum += value * value;
    low = Math.min(low, levelDb[index]!);
    high = Math.max(high, levelDb[index]!);
  });
  return Object.freeze({
    slopeDbPerOctave: line.slope,
    standardDeviationDb: Math.sqrt(sum / deviation.length),
    worstDb: deviation[worst]!,
    worstFrequency: frequencies[worst]!,
    rangeDb: high - low,
  });
}
