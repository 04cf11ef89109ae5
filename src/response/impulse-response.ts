import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show, shown } from "../errors/internal";
import type { Frequency, Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { impulseViews } from "./views";
import type { ImpulseResponse } from "./sampled-impulse";

/** Hz: samples farther apart than 11 days are a slip, and their times would leave what a number can hold. */
export const LOWEST_RATE = 1e-6;

/**
 * Makes an `ImpulseResponse` after checking it, in the unit of the samples: at least one sample, all finite. The array is
 * copied.
 *
 * @param samples any one unit, length n
 * @param options `sampleRate` in Hz or text with its unit; `startTime` of the first sample in s, default 0
 * @returns a frozen impulse response of n samples in their unit
 * @throws DividingNetworkError `invalid-impulse`, `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { impulseResponse } from "dividing-network/response";
 *
 * impulseResponse([0, 1, 0.5], { sampleRate: "48 kHz" }).sampleRate; // 48000
 * ```
 */
export function impulseResponse(
  samples: ArrayLike<number>,
  options: { readonly sampleRate: Frequency; readonly startTime?: Time | undefined },
): ImpulseResponse {
  const { sampleRate, startTime = 0 } = checkOptions("impulseResponse", options, ["sampleRate", "startTime"]);
  const rate = inSi("impulseResponse", "sampleRate", sampleRate, "Hz", { min: LOWEST_RATE, max: 1e9 });
  const start = inSi("impulseResponse", "startTime", startTime, "s", { min: -1e6, max: 1e6 });
  if (!((Array.isArray(samples) || ArrayBuffer.isView(samples)) && samples.length > 0)) {
    throw new DividingNetworkError(
      "invalid-impulse",
      `impulseResponse: "samples" must be an array of at least one number, got ${show(samples)}`,
    );
  }
  for (let i = 0; i < samples.length; i++) {
    if (!Number.isFinite(samples[i]))
      throw new DividingNetworkError(
        "invalid-impulse",
        `impulseResponse: "samples" must be finite numbers, got ${show(samples[i])} at index ${i}`,
      );
  }
  return freezeImpulse(new Float64Array(samples), rate, start);
}

/** The unchecked constructor, for results that are right by construction. */
export function freezeImpulse(samples: Float64Array, sampleRate: number, startTime: number): ImpulseResponse {
  return Object.freeze(shown({ samples, sampleRate, startTime }, impulseViews));
}

/** Checks that an argument has the shape of an `ImpulseResponse` and returns it. */
export function checkImpulse(caller: string, argument: string, value: unknown): ImpulseResponse {
  const { samples, sampleRate, startTime } = (typeof value === "object" && value !== null ? value : {}) as Partial<
    Record<keyof ImpulseResponse, unknown>
  >;
  if (!(samples instanceof Float64Array && samples.length > 0)) {
    throw new DividingNetworkError(
      "invalid-impulse",
      `${caller}: "${argument}" must be an ImpulseResponse, { samples, sampleRate, startTime } with a Float64Array, got ${show(value)}`,
      "Make one with impulseResponse(samples, { sampleRate })",
    );
  }
  const wrong = samples.findIndex((sample) => !Number.isFinite(sample));
  if (wrong >= 0)
    throw new DividingNetworkError(
      "invalid-impulse",
      `${caller}: "${argument}" must have finite samples, got ${show(samples[wrong])} at index ${wrong}`,
      "impulseResponse(samples, { sampleRate }) makes a checked one",
    );
  checkNumber(caller, `${argument}.sampleRate`, sampleRate, { min: LOWEST_RATE, unit: "Hz" });
  checkNumber(caller, `${argument}.startTime`, startTime, { unit: "s", min: -1e6, max: 1e6 });
  return value as ImpulseResponse;
}
