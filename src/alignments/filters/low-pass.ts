import type { Frequency } from "../../quantity";
import type { TransferFunction } from "../../response";
import { checkFilter, checkFrequency } from "./check-filter";
import { makeScaled, refuseScaled, type Filter, type PrototypeFunction } from "./filter";

/**
 * The low-pass filter (dimensionless, V per V) of a prototype: $s \to s/\omega_0$, so that what the prototype does at ω
 * = 1 rad/s happens at the corner.
 *
 * @param prototype a function at ω = 1 rad/s: from `butterworth` and the like, or any zeros, poles (rad/s) and gain
 * @param corner Hz as a number, or text: `"2.5 kHz"`; 1 mHz to 1 MHz
 * @returns zeros, poles (rad/s) and gain of the filter
 * @throws DividingNetworkError `already-scaled` for a filter in place of a prototype; `invalid-argument`, `invalid-quantity`,
 *   `invalid-transfer-function`
 * @example
 * ```ts
 * import { butterworth, lowPass } from "dividing-network/alignments";
 * import { levelDb, responseOf } from "dividing-network/response";
 *
 * levelDb(responseOf(lowPass(butterworth(2), "1 kHz"), [1000, 2000])); // [-3.0103, -12.3045]
 * ```
 */
export function lowPass(prototype: PrototypeFunction, corner: Frequency): Filter {
  refuseScaled("lowPass", "prototype", prototype);
  const { zeros, poles, gain } = checkFilter("lowPass", "prototype", prototype);
  const w = 2 * Math.PI * checkFrequency("lowPass", "corner", corner);
  const scaled = (list: TransferFunction["poles"]) => list.map(({ re, im }) => ({ re: re * w, im: im * w }));
  return makeScaled(scaled(zeros), scaled(poles), gain * w ** (poles.length - zeros.length));
}
