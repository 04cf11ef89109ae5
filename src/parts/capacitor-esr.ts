import { checkNumber, checkOptions } from "../errors/internal";
import type { Capacitance, Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { positiveResults } from "./positive-results";

/**
 * Equivalent series resistance of a capacitor at a frequency from its dissipation factor, Ω: $R = \frac{\tan\delta}{\omega C}$, the definition of IEC 60384-1.
 * `capacitor(c, { dissipationFactor })` has it at every frequency. A data sheet states tan δ at one frequency, of an electrolytic mostly at 100 Hz or 1 kHz:
 * there the foil and leads, which don't fall with frequency, are no part of it.
 *
 * @param options `capacitance` in F and `frequency` in Hz, above 0; `dissipationFactor` tan δ, dimensionless, above 0
 * @returns resistance in Ω
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { capacitorEsr } from "dividing-network/parts";
 *
 * capacitorEsr({ capacitance: "10 µF", dissipationFactor: 0.001, frequency: "1 kHz" }); // 0.0159154943 Ω
 * ```
 */
export function capacitorEsr(options: {
  readonly capacitance: Capacitance;
  readonly dissipationFactor: number;
  readonly frequency: Frequency;
}): number {
  const caller = "capacitorEsr";
  checkOptions(caller, options, ["capacitance", "dissipationFactor", "frequency"]);
  const capacitance = inSi(caller, "capacitance", options?.capacitance, "F", { above: 0 });
  const dissipationFactor = checkNumber(caller, "dissipationFactor", options.dissipationFactor, { above: 0 });
  const frequency = inSi(caller, "frequency", options.frequency, "Hz", { above: 0 });
  return positiveResults(caller, { esr: dissipationFactor / (2 * Math.PI * frequency) / capacitance }).esr;
}
