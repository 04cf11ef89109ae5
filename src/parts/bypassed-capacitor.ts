import { Complex } from "complex.js";
import { DividingNetworkError } from "../errors";
import { checkNumber, show } from "../errors/internal";
import type { Frequency } from "../quantity";
import { inSi } from "../quantity/internal";
import { capacitor, type Capacitor } from "./capacitor";
import { positiveResults } from "./positive-results";

/** Two capacitors side by side as one, at a frequency. */
export interface BypassedCapacitor {
  /** Ω, complex. */
  readonly impedance: Complex;
  /** Series capacitance at that frequency, F. */
  readonly capacitance: number;
  /** Series resistance at that frequency, Ω. */
  readonly esr: number;
  /** The part that is the same at that frequency, and nearly so around it. */
  readonly part: Capacitor;
}

/**
 * A small capacitor across a large one: what both are at a frequency. In a network the two stand side by side between the same nodes, which is exact at
 * every frequency; this tells what the small one does. That is little in the audio band: beside 1 % of the capacitance, 1 % of the current.
 *
 * @param main the large capacitor, from `capacitor`
 * @param bypass the small one, alike
 * @param frequency Hz, above 0 Hz
 * @returns impedance in Ω, series capacitance in F and resistance in Ω, and a part
 * @throws DividingNetworkError `invalid-argument` or `invalid-quantity`; `overflow` when a result leaves what a number can hold
 * @example
 * ```ts
 * import { bypassedCapacitor, capacitor } from "dividing-network/parts";
 *
 * const electrolytic = capacitor("47 µF", { dissipationFactor: 0.05 });
 * bypassedCapacitor(electrolytic, capacitor("1 µF"), "1 kHz").esr; // 0.1623 Ω, from 0.1693 Ω
 * ```
 */
export function bypassedCapacitor(main: Capacitor, bypass: Capacitor, frequency: Frequency): BypassedCapacitor {
  const caller = "bypassedCapacitor";
  const omega = 2 * Math.PI * inSi(caller, "frequency", frequency, "Hz", { above: 0 });
  let [conductance, susceptance] = [0, 0];
  for (const [name, part] of [
    ["main", main],
    ["bypass", bypass],
  ] as const) {
    if (part?.kind !== "capacitor")
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${name}" must be a capacitor, got ${show(part)}`,
        'Call capacitor("10 µF")',
      );
    checkNumber(caller, `${name}.capacitance`, part.capacitance, { above: 0, unit: "F" });
    checkNumber(caller, `${name}.esr`, part.esr, { min: 0, unit: "Ω" });
    checkNumber(caller, `${name}.dissipationFactor`, part.dissipationFactor, { min: 0 });
    // Y = jωC/(1 + jt) with t = ωC·ESR + tan δ.
    const reactive = omega * part.capacitance;
    const loss = reactive * part.esr + part.dissipationFactor;
    conductance += (reactive * loss) / (1 + loss * loss);
    susceptance += reactive / (1 + loss * loss);
  }
  const size = conductance * conductance + susceptance * susceptance;
  const [esr, reactance] = [conductance / size, susceptance / size];
  const { capacitance } = positiveResults(caller, { capacitance: 1 / omega / reactance });
  if (!Number.isFinite(esr))
    throw new DividingNetworkError(
      "overflow",
      `${caller}: "esr" must be within what a number can hold, got ${esr}`,
      "Check the units of what was given",
    );
  return Object.freeze({ impedance: new Complex(esr, -reactance), capacitance, esr, part: capacitor(capacitance, { esr }) });
}
