import { checkNumber, checkOptions } from "../../errors/internal";
import { COPPER_DENSITY, copperResistivity, VACUUM_PERMEABILITY } from "../../physics";
import type { Inductance, Resistance, Temperature } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { positiveResults } from "../positive-results";
import { sectionMean } from "./section-mean";

/** The smallest air coil of round wire for an inductance and a resistance: Brooks's shape, the section a square of the inner radius. */
export interface SmallestCoil {
  /** Number of turns, not rounded. */
  readonly turns: number;
  /** Bare diameter of the wire, m. */
  readonly wireDiameter: number;
  /** m; also length and depth of the winding. */
  readonly innerRadius: number;
  /** m; half the outer diameter is twice the inner radius. */
  readonly outerDiameter: number;
  /** m. */
  readonly wireLength: number;
  /** kg of copper. */
  readonly copperMass: number;
}

/**
 * The smallest coil that has an inductance at a direct-current resistance, after Brooks (1931): square section with its side equal to the inner radius,
 * next to the shape with the most inductance for its wire. With c the side, κ = L/(a N²) and f the bare over the outer diameter of the wire,
 * $c = \sqrt{\frac{8\rho L}{\kappa f^2 R}}$ and $N = \sqrt{\frac{L}{1.5\,\kappa c}}$. Wound on that former with that wire it is what `windCoil` gives,
 * but for whole turns and layers.
 *
 * @param options `inductance` in H, `dcr` in Ω, each above 0; `temperature` in °C (default 20); `fill`: bare diameter over the pitch of the turns, dimensionless (default 0.92, about that of enamelled wire near 1 mm)
 * @returns turns, lengths in m, copper in kg
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when a result leaves what a number can hold
 * @example
 * ```ts
 * import { smallestCoil } from "dividing-network/parts";
 *
 * smallestCoil({ inductance: "1 mH", dcr: "0.3 Ω" }).outerDiameter; // 0.0715 m
 * ```
 */
export function smallestCoil(options: {
  readonly inductance: Inductance;
  readonly dcr: Resistance;
  readonly temperature?: Temperature | undefined;
  readonly fill?: number | undefined;
}): SmallestCoil {
  const caller = "smallestCoil";
  checkOptions(caller, options, ["inductance", "dcr", "temperature", "fill"]);
  const inductance = inSi(caller, "inductance", options?.inductance, "H", { above: 0 });
  const dcr = inSi(caller, "dcr", options.dcr, "Ω", { above: 0 });
  const temperature = inSi(caller, "temperature", options.temperature ?? 20, "°C", { min: -200, max: 300 });
  const fill = checkNumber(caller, "fill", options.fill ?? 0.92, { above: 0, max: 1 });
  const kappa = VACUUM_PERMEABILITY * sectionMean(2 / 3, 2 / 3);
  const side = Math.sqrt((8 * copperResistivity({ temperature })) / kappa / fill / fill) * Math.sqrt(inductance / dcr);
  const turns = Math.sqrt(inductance / (1.5 * kappa * side));
  const wireDiameter = (fill * side) / Math.sqrt(turns);
  const wireLength = 3 * Math.PI * side * turns;
  return positiveResults(caller, {
    turns,
    wireDiameter,
    innerRadius: side,
    outerDiameter: 4 * side,
    wireLength,
    copperMass: (COPPER_DENSITY * wireLength * Math.PI * wireDiameter ** 2) / 4,
  });
}
