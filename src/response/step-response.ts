import { checkImpulse, freezeImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";

/**
 * Response to a step of 1 that begins at time zero, in the unit of the impulse response, at the times of its samples: the sum of
 * the samples before and half of the one there. All of that one would give the value half a sample later.
 *
 * $$s_n = \sum_{m < n} x_m + \tfrac12 x_n$$
 *
 * @param impulse samples over time
 * @returns the step response at the same times, in the unit of the samples
 * @throws DividingNetworkError `invalid-impulse`
 * @example
 * ```ts
 * import { impulseResponse, stepResponse } from "dividing-network/response";
 *
 * stepResponse(impulseResponse([1, -0.5, -0.25], { sampleRate: 48000 })).samples; // [0.5, 0.75, 0.375]
 * ```
 */
export function stepResponse(impulse: ImpulseResponse): ImpulseResponse {
  const { samples, sampleRate, startTime } = checkImpulse("stepResponse", "impulse", impulse);
  let sum = 0;
  const steps = samples.map((value) => {
    const before = sum;
    sum += value;
    return before + value / 2;
  });
  return freezeImpulse(steps, sampleRate, startTime);
}
