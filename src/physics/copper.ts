import { checkOptions } from "../errors/internal";
import type { Temperature } from "../quantity";
import { inSi } from "../quantity/internal";

/** Density of copper, kg/m³ at 20 °C, after IEC 60028 (from memory). */
export const COPPER_DENSITY = 8890;

/** Ω m at 20 °C: 1/58 Ω mm²/m, annealed copper after IEC 60028 (recalled, then recomputed). */
const RESISTIVITY = 1e-6 / 58;
/** 1/K at 20 °C, at constant mass, after IEC 60028 (recalled, then recomputed). */
const COEFFICIENT = 0.00393;

/**
 * Resistivity of annealed copper, Ω m: $\rho = \frac{1}{58}\left(1 + 0.00393\,(T - 20\,^\circ\mathrm{C})\right)$ Ω mm²/m, after IEC 60028
 * (both figures recalled, then recomputed). A straight line, good to about 0.1 % from −50 to 200 °C; hard-drawn wire lies 2 to 3 % above.
 *
 * @param options `temperature` in °C (default 20, from −200 to 1000)
 * @returns Ω m
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { copperResistivity } from "dividing-network/physics";
 *
 * copperResistivity(); // 1.724e-8
 * copperResistivity({ temperature: 75 }) / copperResistivity(); // 1.21615
 * ```
 */
export function copperResistivity(options: { readonly temperature?: Temperature | undefined } = {}): number {
  const { temperature = 20 } = checkOptions("copperResistivity", options, ["temperature"]);
  return RESISTIVITY * (1 + COEFFICIENT * (inSi("copperResistivity", "temperature", temperature, "°C", { min: -200, max: 1000 }) - 20));
}
