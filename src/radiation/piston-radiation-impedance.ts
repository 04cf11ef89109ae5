import { Complex } from "complex.js";
import { checkNumber, checkOptions } from "../errors/internal";
import { struveH1 } from "../numeric";
import { pistonResistance } from "./piston-directivity";

/**
 * Radiation impedance of one side of a circular piston in an infinite baffle, divided by ρcπa², dimensionless:
 * $Z = 1 - \frac{2J_1(2ka)}{2ka} + j\frac{2\mathbf{H}_1(2ka)}{2ka}$. Tends to $(ka)^2/2 + j\,8ka/3\pi$ for small ka, to 1 for large.
 *
 * @param options `ka`, wavenumber times radius, dimensionless
 * @returns mechanical impedance over ρcπa², dimensionless, a complex.js `Complex`
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { pistonRadiationImpedance } from "dividing-network/radiation";
 *
 * pistonRadiationImpedance({ ka: 1 }).re; // 0.423275
 * pistonRadiationImpedance({ ka: 1 }).im; // 0.646764
 * ```
 */
export function pistonRadiationImpedance(options: { readonly ka: number }): Complex {
  const { ka } = checkOptions("pistonRadiationImpedance", options, ["ka"]);
  checkNumber("pistonRadiationImpedance", "ka", ka, { min: 0, max: 1e6 });
  return new Complex(pistonResistance(ka), ka === 0 ? 0 : struveH1(2 * ka) / ka);
}
