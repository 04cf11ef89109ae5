import { checkNumber, checkOptions } from "../../errors/internal";
import type { Length, Temperature } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { positiveResults } from "../positive-results";
import { conductorAt, type Conductor } from "./material";

/** Diameter of gauge 36 in m, and the ratio of 39 steps, after ASTM B258. */
const GAUGE_36 = 0.127e-3;
const STEPS = 39;
const RATIO = 92;

/**
 * Bare diameter of a wire of the American wire gauge, m, after ASTM B258: $d = 0.127\,\mathrm{mm}\cdot 92^{(36-n)/39}$.
 *
 * @param options `awg`: gauge number, dimensionless, −3 to 56; 0 for 1/0, −1 for 2/0, −2 for 3/0, −3 for 4/0
 * @returns diameter in m, without insulation
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { wireDiameter } from "dividing-network/parts";
 *
 * wireDiameter({ awg: 18 }); // 1.023687e-3 m
 * ```
 */
export function wireDiameter(options: { readonly awg: number }): number {
  checkOptions("wireDiameter", options, ["awg"]);
  const awg = checkNumber("wireDiameter", "awg", options?.awg, { min: -3, max: 56 });
  return GAUGE_36 * RATIO ** ((36 - awg) / STEPS);
}

/**
 * The gauge number that belongs to a diameter, the inverse of `wireDiameter`.
 *
 * @param options `diameter` of the bare wire in m, above 0 m
 * @returns gauge number, dimensionless, in general not whole
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { wireGauge } from "dividing-network/parts";
 *
 * wireGauge({ diameter: "1 mm" }); // 18.2
 * ```
 */
export function wireGauge(options: { readonly diameter: Length }): number {
  checkOptions("wireGauge", options, ["diameter"]);
  const diameter = inSi("wireGauge", "diameter", options?.diameter, "m", { above: 0 });
  return 36 - (STEPS * (Math.log(diameter) - Math.log(GAUGE_36))) / Math.log(RATIO);
}

/**
 * Direct-current resistance of a round wire, Ω: $R = \rho(T)\,\frac{4l}{\pi d^2}$, of annealed copper after IEC 60028 unless another material is given.
 *
 * @param options `diameter` of the bare wire and `length` in m, above 0 m; `temperature` in °C (default 20); `material` (default copper)
 * @returns resistance in Ω
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { wireResistance } from "dividing-network/parts";
 *
 * wireResistance({ diameter: "1 mm", length: "10 m" }); // 0.21952 Ω
 * wireResistance({ diameter: "1 mm", length: "10 m", temperature: "75 °C" }); // 0.26697 Ω
 * ```
 */
export function wireResistance(options: {
  readonly diameter: Length;
  readonly length: Length;
  readonly temperature?: Temperature | undefined;
  readonly material?: Conductor | undefined;
}): number {
  const caller = "wireResistance";
  checkOptions(caller, options, ["diameter", "length", "temperature", "material"]);
  const diameter = inSi(caller, "diameter", options?.diameter, "m", { above: 0 });
  const length = inSi(caller, "length", options.length, "m", { above: 0 });
  const { resistivity } = conductorAt(caller, options.material, options.temperature);
  return positiveResults(caller, { resistance: (((4 * resistivity) / Math.PI / diameter) * length) / diameter }).resistance;
}
