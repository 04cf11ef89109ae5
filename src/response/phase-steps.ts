import { estimateDelay } from "./estimate-delay";
import type { FrequencyResponse } from "./sampled-function";

/** The phase of a response without its bulk delay, in radians. */
export interface ResidualPhase {
  /** s, what was removed. */
  readonly delay: number;
  /** rad, continued from sample to sample by the smaller turn; held where the response is zero. */
  readonly unwrapped: Float64Array;
  /** rad, the turn from each sample to the next, in (−π, π]; n − 1 values. */
  readonly steps: Float64Array;
}

/** Removes a bulk delay (given in s, or estimated) and unwraps what is left; the first value lies in (−π, π]. */
export function residualPhase(response: FrequencyResponse, delay: number = estimateDelay(response)): ResidualPhase {
  const { frequencies, re, im } = response;
  const unwrapped = new Float64Array(frequencies.length);
  const steps = new Float64Array(frequencies.length - 1);
  let last: number | undefined;
  for (let i = 0; i < frequencies.length; i++) {
    const zero = re[i] === 0 && im[i] === 0;
    const turns = frequencies[i]! * delay;
    const phase = wrapped(Math.atan2(im[i]!, re[i]!) + 2 * Math.PI * (turns - Math.round(turns)));
    // Zero has no phase: the next sample that has one decides.
    if (i > 0) {
      steps[i - 1] = zero || last === undefined ? 0 : wrapped(phase - last);
      unwrapped[i] = zero ? unwrapped[i - 1]! : last === undefined ? phase : unwrapped[i - 1]! + steps[i - 1]!;
    } else unwrapped[i] = zero ? 0 : phase;
    if (!zero) last = phase;
  }
  return { delay, unwrapped, steps };
}

/** The same angle in (−π, π]. */
export function wrapped(angle: number): number {
  const turn = 2 * Math.PI;
  const within = angle - turn * Math.round(angle / turn);
  return within <= -Math.PI ? within + turn : within;
}
