import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import { residualPhase } from "./phase-steps";

/**
 * The phase of a response at each of its frequencies, in degrees, wrapped to (−180°, 180°]; 0° where the response is zero.
 *
 * @param response any sampled response, n points
 * @returns n phases in degrees
 * @throws DividingNetworkError `invalid-response`
 * @example
 * ```ts
 * import { frequencyResponse, phaseDegrees } from "dividing-network";
 *
 * phaseDegrees(frequencyResponse([100, 1000, 10000], [1, 0, -1], [0, -1, 0])); // [0, -90, 180]
 * ```
 */
export function phaseDegrees(response: FrequencyResponse): Float64Array {
  const { re, im } = checkResponse("phaseDegrees", "response", response);
  return re.map((value, i) => {
    if (value === 0 && im[i] === 0) return 0;
    const degrees = (180 / Math.PI) * Math.atan2(im[i]!, value);
    return degrees <= -180 ? 180 : degrees;
  });
}

/**
 * The phase of a response without jumps, in degrees: a bulk delay is removed, the rest is continued from each sample to the
 * next by the smaller turn, and the delay's phase −360°·f·τ is put back.
 *
 * The rest starts within (−180°, 180°] at the lowest frequency: whole turns below it are unknown. It follows the true
 * phase as long as, delay aside, the phase turns by less than 180° between samples; where it turns further (a grid that is
 * too coarse, noise, the two sides of a null) the result depends on the grid by whole turns.
 *
 * @param response any sampled response, n points
 * @param options `delay` the bulk delay in s or text with its unit, when it is known; by default `estimateDelay`
 * @returns n phases in degrees, equal to `phaseDegrees` but for whole turns
 * @throws DividingNetworkError `invalid-response`, `invalid-argument`, `invalid-quantity`, `unknown-option`, `overflow`
 * @example
 * ```ts
 * import { frequencyResponse, unwrappedPhaseDegrees } from "dividing-network";
 * import { delayResponse } from "dividing-network/response";
 *
 * const late = delayResponse(frequencyResponse([100, 1000, 2000], [1, 1, 1], [0, 0, 0]), "3 ms");
 * unwrappedPhaseDegrees(late, { delay: "3 ms" }); // [-108.0, -1080.0, -2160.0]
 * ```
 */
export function unwrappedPhaseDegrees(response: FrequencyResponse, options?: { readonly delay?: Time | undefined }): Float64Array {
  const caller = "unwrappedPhaseDegrees";
  const { frequencies } = checkResponse(caller, "response", response);
  const { delay } = checkOptions(caller, options, ["delay"]);
  const rest = residualPhase(response, delay === undefined ? undefined : inSi(caller, "delay", delay, "s"));
  const degrees = frequencies.map((f, i) => (180 / Math.PI) * rest.unwrapped[i]! - 360 * (f * rest.delay));
  const bad = degrees.findIndex((value) => !Number.isFinite(value));
  if (bad < 0) return degrees;
  throw new DividingNetworkError(
    "overflow",
    `${caller}: the phase must be a finite number, got ${degrees[bad]}° at ${frequencies[bad]} Hz with a delay of ${rest.delay} s`,
    "Give frequencies in Hz and the delay in s",
  );
}
