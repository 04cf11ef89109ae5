import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { stepWeights } from "./step-weights";

/** Responses never change, so that an estimate holds for as long as its response lives. */
const known = /* @__PURE__ */ new WeakMap<FrequencyResponse, number>();

/** At most this many steps from zero delay in either direction. */
const searchSteps = 512;

/**
 * The bulk delay of a response in seconds: the delay whose removal leaves the phase with the smallest steps from sample to
 * sample. It is for unwrapping and interpolation. Besides the flight of the sound it holds whatever part of the filter's own
 * phase looks like a delay, so it is no measure of distance.
 *
 * It maximises $\sum_i w_i \cos(\Delta\varphi_i + 2\pi \Delta f_i\, \tau)$ over τ, where Δφᵢ is the phase step between
 * neighbouring samples and wᵢ is 1, or less where the log magnitude bends sharply: in noise, at a null, at a corner. On a logarithmic grid the steps have many
 * widths, so that a delay which turns the phase by several turns per step is still found. On a linear grid of spacing Δf,
 * delays that differ by 1/Δf cannot be told apart; the one nearest to zero is given. The search covers ±1/(2Δf) for the
 * smallest step and at most ±64/Δf for the largest.
 *
 * @param response any sampled response; a single sample has delay 0
 * @returns s, positive when the sound arrives late
 * @throws DividingNetworkError `invalid-response`
 * @example
 * ```ts
 * import { frequencyResponse, logGrid } from "dividing-network";
 * import { delayResponse, estimateDelay } from "dividing-network/response";
 *
 * const grid = logGrid("20 Hz", "20 kHz", 480);
 * const flat = frequencyResponse(grid, grid.map(() => 1), grid.map(() => 0));
 * estimateDelay(delayResponse(flat, "2.914 ms")); // 0.002914
 * ```
 */
export function estimateDelay(response: FrequencyResponse): number {
  const own = checkResponse("estimateDelay", "response", response);
  let delay = known.get(own);
  if (delay === undefined) known.set(own, (delay = estimate(own)));
  return delay;
}

function estimate(response: FrequencyResponse): number {
  const { frequencies, re, im } = response;
  const n = frequencies.length - 1;
  const [steps, turns, weights] = [new Float64Array(n), new Float64Array(n), stepWeights(response)];
  let [narrowest, widest, total] = [Infinity, 0, 0];
  for (let i = 0; i < n; i++) {
    const step = frequencies[i + 1]! - frequencies[i]!;
    steps[i] = 2 * Math.PI * step;
    turns[i] = Math.atan2(im[i + 1]!, re[i + 1]!) - Math.atan2(im[i]!, re[i]!);
    total += weights[i]!;
    narrowest = Math.min(narrowest, step);
    widest = Math.max(widest, step);
  }
  if (total === 0) return 0;
  const spacing = 1 / (8 * widest);
  const reach = Math.min(searchSteps, Math.ceil(0.5 / narrowest / spacing));
  if (!Number.isFinite(spacing)) return 0;
  const delay = climb(steps, turns, weights, spacing * bestStep(steps, turns, weights, spacing, reach));
  return Number.isFinite(delay) ? delay : 0;
}

/** The whole multiple of `spacing` with the largest sum; a slight preference for short delays decides between equals. */
function bestStep(steps: Float64Array, turns: Float64Array, weights: Float64Array, spacing: number, reach: number): number {
  const sums = new Float64Array(2 * reach + 1);
  let total = 0;
  for (let i = 0; i < steps.length; i++) {
    const [weight, angle] = [weights[i]!, steps[i]! * spacing];
    if (weight === 0) continue;
    total += weight;
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    let re = weight * Math.cos(turns[i]! - reach * angle);
    let im = weight * Math.sin(turns[i]! - reach * angle);
    for (let k = 0; k < sums.length; k++) {
      sums[k]! += re;
      [re, im] = [re * c - im * s, re * s + im * c];
    }
  }
  for (let k = 0; k < sums.length; k++) sums[k]! -= (0.01 * total * Math.abs(k - reach)) / reach;
  let best = reach;
  for (let k = 0; k < sums.length; k++) if (sums[k]! > sums[best]!) best = k;
  return best - reach;
}

/** Walks to the top of the peak; each step uses a bound on the curvature, so that the sum never falls. */
function climb(steps: Float64Array, turns: Float64Array, weights: Float64Array, start: number): number {
  let curvature = 0;
  for (let i = 0; i < steps.length; i++) curvature += weights[i]! * steps[i]! * steps[i]!;
  let delay = start;
  for (let round = 0; round < 100; round++) {
    let slope = 0;
    for (let i = 0; i < steps.length; i++) slope += weights[i]! * steps[i]! * Math.sin(turns[i]! + steps[i]! * delay);
    const change = slope / curvature;
    delay -= change;
    if (Math.abs(change) * Math.sqrt(curvature) < 1e-13) break;
  }
  return delay;
}
