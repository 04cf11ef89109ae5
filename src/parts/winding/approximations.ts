import { VACUUM_PERMEABILITY } from "../../physics";
import { positiveResults } from "../positive-results";
import { checkedSolenoid, type Solenoid } from "./solenoid";
import { checkedWinding, type Winding } from "./winding";

const INCH = 0.0254;

/**
 * Wheeler's formula for a single layer, H, after Wheeler (1928): $L = \frac{a^2N^2}{9a + 10l}$ µH with lengths in inches. Stated to 1 % for
 * $l > 0.8a$; 4 % low at $l = 0.4a$. `solenoidInductance` is exact.
 *
 * @param solenoid `turns`, `radius` in m, `length` in m, each above 0
 * @returns inductance in H, within 1 % where the length is above 0.8 of the radius
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { wheelerSolenoidInductance } from "dividing-network/parts";
 *
 * wheelerSolenoidInductance({ turns: 100, radius: "25 mm", length: "50 mm" }); // 3.394e-4 H
 * ```
 */
export function wheelerSolenoidInductance(solenoid: Solenoid): number {
  const { turns, radius, length } = checkedSolenoid("wheelerSolenoidInductance", solenoid);
  const shape = radius / (9 * radius + 10 * length);
  return positiveResults("wheelerSolenoidInductance", { inductance: 1e-6 * (turns * turns) * (radius / INCH) * shape }).inductance;
}

/**
 * Wheeler's formula for a winding of many layers, H, after Wheeler (1928): $L = \frac{0.8a^2N^2}{6a + 9l + 10w}$ µH with lengths in inches, mean radius a and depth w.
 * Stated to 1 % where the three terms of the denominator are about equal. `windingInductance` is exact.
 *
 * @param winding `turns`, and `meanRadius`, `length`, `depth` in m
 * @returns inductance in H, within about 1 % for squat coils
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { wheelerWindingInductance } from "dividing-network/parts";
 *
 * wheelerWindingInductance({ turns: 160, meanRadius: "22 mm", length: "20 mm", depth: "14 mm" }); // 8.634e-4 H
 * ```
 */
export function wheelerWindingInductance(winding: Winding): number {
  const { turns, meanRadius, length, depth } = checkedWinding("wheelerWindingInductance", winding);
  const shape = meanRadius / (6 * meanRadius + 9 * length + 10 * depth);
  return positiveResults("wheelerWindingInductance", { inductance: 0.8e-6 * (turns * turns) * (meanRadius / INCH) * shape }).inductance;
}

/**
 * Lundin's formula for a current sheet, H, after Lundin (1985), coefficients from memory: two rational functions of the shape, one for long
 * coils and one for short. Within 3e-6 of the exact value, which `solenoidInductance` gives.
 *
 * @param solenoid `turns`, `radius` in m, `length` in m, each above 0
 * @returns inductance in H, within 3e-6
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { lundinInductance } from "dividing-network/parts";
 *
 * lundinInductance({ turns: 100, radius: "25 mm", length: "50 mm" }); // 3.397238e-4 H
 * ```
 */
export function lundinInductance(solenoid: Solenoid): number {
  const { turns, radius, length } = checkedSolenoid("lundinInductance", solenoid);
  const long = 2 * radius <= length;
  const ratio = long ? (2 * radius) / length : length / (2 * radius);
  const x = ratio * ratio;
  const first = (1 + 0.383901 * x + 0.017108 * x * x) / (1 + 0.258952 * x);
  const second = 0.093842 * x + 0.002029 * x * x - 0.000801 * x * x * x;
  const shape = long ? (Math.PI / 2) * ratio * (first - (4 * ratio) / (3 * Math.PI)) : (Math.log(4 / ratio) - 0.5) * first + second;
  return positiveResults("lundinInductance", { inductance: VACUUM_PERMEABILITY * (turns * turns) * radius * shape }).inductance;
}
