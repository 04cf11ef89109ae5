import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import { localSlopes } from "../numeric/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { residualPhase } from "./phase-steps";

/**
 * The group delay of a response at each of its frequencies, in seconds.
 *
 * $\tau_g = -\frac{1}{2\pi} \frac{d\varphi}{df}$
 *
 * A bulk delay is removed first and added to the result. The rest of the phase is continued from sample to sample by the
 * smaller turn and differentiated by the polynomial in f through the five samples nearest by index (one-sided at the two
 * ends, through all samples when there are fewer than five). For a second-order system the error, relative to the largest group
 * delay, is below 2e-4 for Q = 2 with 24 points per octave, and below 1e-5 for Q = 2 and 5e-4 for Q = 5 with 48; it falls with the
 * fourth power of the spacing. Next to a step of the rest above 90° (noise, a null, a grid that is too coarse) the value depends on
 * the grid.
 *
 * @param response at least 2 points
 * @param options `delay` the bulk delay in s or text with its unit, when it is known; by default `estimateDelay`
 * @returns n group delays in s
 * @throws DividingNetworkError `too-few-points`, `invalid-response`, `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { groupDelay, linearGrid, responseOf } from "dividing-network";
 *
 * const firstOrder = { zeros: [], poles: [{ re: -1000, im: 0 }], gain: 1000 };
 * groupDelay(responseOf(firstOrder, linearGrid(0, 100, 21)))[0]; // 0.00100
 * ```
 */
export function groupDelay(response: FrequencyResponse, options?: { readonly delay?: Time | undefined }): Float64Array {
  const { frequencies } = checkResponse("groupDelay", "response", response);
  const { delay } = checkOptions("groupDelay", options, ["delay"]);
  if (frequencies.length < 2) {
    throw new DividingNetworkError(
      "too-few-points",
      'groupDelay: "response" must have at least 2 points, got 1',
      "A slope needs neighbours: sample the response on a grid",
    );
  }
  const rest = residualPhase(response, delay === undefined ? undefined : inSi("groupDelay", "delay", delay, "s", { min: -1e6, max: 1e6 }));
  const result = localSlopes(frequencies, rest.unwrapped).map((slope) => rest.delay - slope / (2 * Math.PI));
  const bad = result.findIndex((value) => !Number.isFinite(value));
  if (bad >= 0) {
    throw new DividingNetworkError(
      "overflow",
      `groupDelay: frequencies must be far enough apart for a slope, got neighbours of ${frequencies[bad]} Hz that are not`,
      "Leave points out",
    );
  }
  return result;
}
