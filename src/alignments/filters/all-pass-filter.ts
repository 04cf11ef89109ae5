import { checkNumber, checkOptions } from "../../errors/internal";
import type { Frequency } from "../../quantity";
import type { TransferFunction } from "../../response";
import { checkFrequency, makeFilter } from "./check-filter";
import { makeScaled, type Filter } from "./filter";
import { conjugatePair } from "../prototypes/prototype";
import { secondOrderPoles } from "../prototypes/second-order-poles";

/**
 * An all-pass filter (dimensionless, 1 at zero frequency) of first order, $\frac{\omega_0 - s}{\omega_0 + s}$, or
 * second order, $\frac{\omega_0^2 - s\omega_0/Q + s^2}{\omega_0^2 + s\omega_0/Q + s^2}$. Delay at low frequencies:
 * $2/\omega_0$ or $2/(Q\omega_0)$.
 *
 * @param options `frequency` in Hz: where the phase is −90° (first order) or −180° (second order); `q`: for the second
 *   order, dimensionless; left out, the filter is of first order
 * @returns zeros, poles (rad/s) and gain of the filter
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { allPassFilter, groupDelayOf } from "dividing-network/alignments";
 *
 * groupDelayOf(allPassFilter({ frequency: 1000 }), [0]); // [0.00031831]
 * ```
 */
export function allPassFilter(options: { readonly frequency: Frequency; readonly q?: number | undefined }): Filter {
  const { frequency, q } = checkOptions("allPassFilter", options, ["frequency", "q"]);
  const w = 2 * Math.PI * checkFrequency("allPassFilter", "frequency", frequency);
  const poles =
    q === undefined ? conjugatePair(-w, 0) : secondOrderPoles(w, checkNumber("allPassFilter", "q", q, { min: 0.001, max: 1000 }));
  const { zeros, gain } = allPassOf(poles);
  return makeScaled(zeros, poles, gain);
}

/** The all-pass function with the given poles and their mirror images as zeros, 1 at zero frequency. */
export function allPassOf(poles: TransferFunction["poles"]): TransferFunction {
  return makeFilter(
    poles.map(({ re, im }) => ({ re: -re, im })),
    poles,
    poles.length % 2 === 0 ? 1 : -1,
  );
}
