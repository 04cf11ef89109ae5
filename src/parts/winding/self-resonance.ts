import { DividingNetworkError } from "../../errors";
import { show } from "../../errors/internal";
import { VACUUM_PERMITTIVITY } from "../../physics";
import { positiveResults } from "../positive-results";
import type { WoundCoil } from "./wound-coil";

/** Relative permittivity between turns: enamel and air in parts. From memory. */
const BETWEEN_TURNS = 3;

/**
 * Self-resonance of a wound coil, an estimate to a factor of two or so: far above the audio band for any crossover coil, which is all that it is to show.
 * One layer by Medhurst's formula, $C = D\left(0.1126\frac{l}{D} + 0.08 + 0.27\sqrt{\frac{D}{l}}\right)$ pF with lengths in cm (after Medhurst 1947, from memory);
 * more layers by the capacitance between neighbouring ones, of which each pair has its share of the voltage, $C = \frac{4(n-1)}{3n^2}\,\frac{\varepsilon_0\varepsilon_r 2\pi a l}{t}$
 * with t = 1.26·pitch − 1.15·d (textbooks, from memory).
 *
 * @param coil what `windCoil` gave
 * @returns capacitance in F and frequency in Hz
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { selfResonance, windCoil } from "dividing-network/parts";
 *
 * const coil = windCoil({ inductance: "0.82 mH", wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" } });
 * selfResonance(coil).frequency; // > 100000 Hz
 * ```
 */
export function selfResonance(coil: WoundCoil): { readonly capacitance: number; readonly frequency: number } {
  if (typeof coil !== "object" || coil === null || typeof coil.wire !== "object" || typeof coil.winding !== "object") {
    throw new DividingNetworkError("invalid-argument", `selfResonance: "coil" must come from windCoil, got ${show(coil)}`);
  }
  const { meanRadius, length } = coil.winding;
  const pitch = coil.wire.diameter + 2 * coil.wire.insulation;
  const shape = (2 * meanRadius) / length;
  const between = (VACUUM_PERMITTIVITY * BETWEEN_TURNS * 2 * Math.PI * meanRadius * length) / (1.26 * pitch - 1.15 * coil.wire.diameter);
  const capacitance =
    coil.layers === 1
      ? 2e-10 * meanRadius * (0.1126 / shape + 0.08 + 0.27 * Math.sqrt(shape))
      : (between * 4 * (coil.layers - 1)) / (3 * coil.layers ** 2);
  return positiveResults("selfResonance", { capacitance, frequency: 1 / (2 * Math.PI * Math.sqrt(coil.inductance * capacitance)) });
}
