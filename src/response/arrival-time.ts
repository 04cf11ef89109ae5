import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import { checkImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";

/**
 * Time in seconds at which the direct sound arrives: where an impulse response first reaches a stated share of its largest
 * magnitude, straight between two samples. The default, −20 dB, comes before the peak and after the noise.
 *
 * The time depends on the rise of the driver: for a relative acoustic offset of two drivers see `relativeAcousticOffset`.
 *
 * @param impulse samples over time
 * @param options `thresholdDb` re the largest magnitude in dB, default −20 dB, −120 to 0
 * @returns s, on the time axis of the impulse response
 * @throws DividingNetworkError `invalid-impulse` when all samples are zero, `invalid-argument`
 * @example
 * ```ts
 * import { arrivalTime, impulseResponse } from "dividing-network/response";
 *
 * arrivalTime(impulseResponse([0, 0, 0, 1, 0.4], { sampleRate: 1000 }), { thresholdDb: -6.0206 }); // 0.0025
 * ```
 */
export function arrivalTime(impulse: ImpulseResponse, options?: { readonly thresholdDb?: number | undefined }): number {
  const { samples, sampleRate, startTime } = checkImpulse("arrivalTime", "impulse", impulse);
  const { thresholdDb = -20 } = checkOptions("arrivalTime", options, ["thresholdDb"]);
  checkNumber("arrivalTime", "thresholdDb", thresholdDb, { min: -120, max: 0, unit: "dB" });
  let peak = 0;
  for (const value of samples) peak = Math.max(peak, Math.abs(value));
  if (peak === 0) throw new DividingNetworkError("invalid-impulse", 'arrivalTime: "impulse" must hold a sound, got only zeros');
  const threshold = peak * 10 ** (thresholdDb / 20);
  const i = samples.findIndex((value) => Math.abs(value) >= threshold);
  const here = Math.abs(samples[i]!);
  const before = i === 0 ? here : Math.abs(samples[i - 1]!);
  const back = i === 0 || here === before ? 0 : (here - threshold) / (here - before);
  return startTime + (i - back) / sampleRate;
}
