import { checkImpulse, freezeImpulse, type ImpulseResponse } from "./impulse-response";

/**
 * Response to a step of 1 that begins at time zero, in the unit of the impulse response: the running sum of its samples.
 *
 * $$s_n = \sum_{m \le n} x_m$$
 *
 * @param impulse samples over time
 * @returns the step response at the same times, in the unit of the samples
 * @throws DividingNetworkError `invalid-impulse`
 * @example
 * ```ts
 * import { impulseResponse, stepResponse } from "dividing-network/response";
 *
 * stepResponse(impulseResponse([1, -0.5, -0.25], { sampleRate: 48000 })).samples; // [1, 0.5, 0.25]
 * ```
 */
export function stepResponse(impulse: ImpulseResponse): ImpulseResponse {
  const { samples, sampleRate, startTime } = checkImpulse("stepResponse", "impulse", impulse);
  let sum = 0;
  return freezeImpulse(samples.map((value) => (sum += value)), sampleRate, startTime);
}
