import { DividingNetworkError } from "../errors";
import { checkObject, show } from "../errors/internal";
import type { Entries, NodeOrPartName } from "../network";
import type { Air } from "../physics";
import { scaleResponse, type FrequencyResponse } from "../response";
import { checkLoudspeaker } from "./check-loudspeaker";
import type { Prediction } from "./prediction";

/** What drives the sources of a loudspeaker, in the form in which `pressureAt` and its like take it. */
export interface DrivenBy {
  /** V at each driver's terminals, in the order of the drivers. */
  readonly drives: readonly FrequencyResponse[];
  /** The loudspeaker's air: °C, % and Pa, or m/s and kg/m³. */
  readonly air: Air;
}

/**
 * The network's solution as drives for `sourcesOf`: V rms at each driver's terminals, with the loudspeaker's air. Spread it into the options
 * of `pressureAt`, `polarMap`, `sphereMap` or `listenerSensitivity`.
 *
 * @param prediction from `predict`, for the network and the voltage wanted
 * @returns drives in V over the prediction's frequencies, and the air: °C, % and Pa
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, predict, pressurePerVolt, resistor } from "dividing-network";
 * import { drivenBy } from "dividing-network/loudspeaker";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const entries = { R1: [resistor(4), "in", "w"], woofer: [resistor(8), "w", "gnd"] } as const;
 * const box = loudspeaker({ network: entries, drivers: [{ name: "woofer", pressures: [cone] }] });
 * drivenBy(predict(box, { voltage: 3 })).drives[0]?.re; // [2, 2]
 * ```
 */
export function drivenBy<T extends Entries>(prediction: Prediction<T>): DrivenBy {
  const caller = "drivenBy";
  const {
    loudspeaker: given,
    sweep,
    voltage,
  } = checkObject(caller, "prediction", prediction, "what predict() gives", "Make it with predict(loudspeaker)");
  const loudspeaker = checkLoudspeaker(caller, given);
  if (typeof checkObject(caller, "prediction.sweep", sweep, "what solve() gives").voltage !== "function")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "prediction.sweep" must be what solve() gives, got ${show(sweep)}`,
      "Make the prediction with predict(loudspeaker)",
    );
  const drives = loudspeaker.drivers.map(({ part }) => scaleResponse(sweep.voltage(part as NodeOrPartName<T>), voltage));
  return Object.freeze({ drives: Object.freeze(drives), air: loudspeaker.air });
}
