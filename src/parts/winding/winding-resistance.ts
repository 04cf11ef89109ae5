import { DividingNetworkError } from "../../errors";
import { checkOptions, show } from "../../errors/internal";
import { ellipticE, ellipticK } from "../../numeric";
import { kelvinRatio } from "../../numeric/internal";
import { VACUUM_PERMEABILITY } from "../../physics";
import type { Frequency } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { skinArgument } from "../conductor/skin-effect";
import { conductorAt } from "../conductor/material";
import type { Section } from "./gap";
import type { WoundCoil } from "./wound-coil";

/** Resistance of a wound coil at a frequency. */
export interface WindingResistance {
  /** Ω, skin effect and the neighbours' field included. */
  readonly resistance: number;
  /** What the skin effect of the wire alone makes of the direct-current resistance, as a ratio, dimensionless. */
  readonly skinRatio: number;
  /** What the field of the other turns adds, as a ratio to the direct-current resistance, dimensionless. */
  readonly proximityRatio: number;
}

/**
 * Mean of |B|² over the section of a winding for one ampere through each of one turn spread over it, divided by µ₀² (1/m², lengths in any unit): the
 * current in a lattice of circles, nearly square, and the field at the corners between them, where what the nearest circles leave out cancels; Simpson's
 * rule over the corners.
 */
export function meanSquareField({ meanRadius, length, depth }: Section): number {
  const shape = Math.max(1 / 12, Math.min(12, Math.sqrt(depth / length)));
  const rows = 2 * Math.max(1, Math.round(6 * shape));
  const columns = 2 * Math.max(1, Math.round(6 / shape));
  const simpson = (i: number, count: number): number => (i === 0 || i === count ? 1 : i % 2 === 1 ? 4 : 2) / (3 * count);
  let sum = 0;
  for (let i = 0; i <= rows; i++) {
    for (let k = 0; k <= columns; k++) {
      const rho = meanRadius + depth * (i / rows - 0.5);
      const z = length * (k / columns - 0.5);
      let radial = 0;
      let axial = 0;
      for (let m = 0; m < rows; m++) {
        for (let n = 0; n < columns; n++) {
          const a = meanRadius + depth * ((m + 0.5) / rows - 0.5);
          const d = z - length * ((n + 0.5) / columns - 0.5);
          const far = (a + rho) ** 2 + d * d;
          const near = (a - rho) ** 2 + d * d;
          const modulus = Math.min((4 * a * rho) / far, 1 - 1e-15);
          const [first, second] = [ellipticK(modulus), ellipticE(modulus)];
          const scale = 1 / (2 * Math.PI * Math.sqrt(far));
          axial += scale * (first + ((a * a - rho * rho - d * d) / near) * second);
          if (rho > 0) radial += (scale * d * (((a * a + rho * rho + d * d) / near) * second - first)) / rho;
        }
      }
      sum += simpson(i, rows) * simpson(k, columns) * (axial * axial + radial * radial);
    }
  }
  return sum / (rows * columns) ** 2;
}

/**
 * Alternating-current resistance of a wound coil, an estimate: the exact skin effect of its wire, and the loss of a round wire across the mean square
 * field of the winding at uniform current density, exact for each wire in a uniform field: per metre $\pi (d/2)^2\,\omega\mu_0\,|H|^2\,\mathrm{Im}(-J_2/J_0)$.
 * What it leaves out is how the wires' eddy currents act on one another. It is good to some 10 % up to a wire of one and a half skin depths, where
 * neighbours begin to shield one another, and too high above. After the squared-field method; the accuracy is from memory.
 *
 * @param coil what `windCoil` gave
 * @param frequency Hz, 0 Hz or more
 * @returns resistance in Ω and the two contributions as ratios to the direct-current resistance, dimensionless
 * @throws DividingNetworkError `invalid-argument` or `invalid-quantity`
 * @example
 * ```ts
 * import { windCoil, windingResistance } from "dividing-network/parts";
 *
 * const coil = windCoil({ inductance: "0.82 mH", wire: { diameter: "1.2 mm" }, former: { diameter: "30 mm", length: "20 mm" } });
 * windingResistance(coil, "1 kHz").resistance / coil.dcr; // 1.131
 * ```
 */
export function windingResistance(coil: WoundCoil, frequency: Frequency): WindingResistance {
  const caller = "windingResistance";
  if (typeof coil !== "object" || coil === null || typeof coil.wire !== "object" || typeof coil.winding !== "object") {
    throw new DividingNetworkError("invalid-argument", `${caller}: "coil" must come from windCoil, got ${show(coil)}`);
  }
  checkOptions(caller, coil.wire, ["diameter", "insulation"]);
  const hertz = inSi(caller, "frequency", frequency, "Hz", { min: 0, max: 1e12 });
  const { diameter } = coil.wire;
  const { resistivity } = conductorAt(caller, "copper", coil.temperature);
  const x = skinArgument(diameter, hertz, resistivity, 1);
  const { re, im } = kelvinRatio(x);
  // J₂/J₀ = 1/F − 1, whose imaginary part is −Im F/|F|².
  const eddy = im / (re * re + im * im);
  const { turns } = coil.winding;
  const square = turns * turns * meanSquareField(coil.winding);
  const perMetre = (Math.PI / 4) * diameter ** 2 * 2 * Math.PI * hertz * VACUUM_PERMEABILITY * 2 * square * eddy;
  const proximityRatio = (perMetre * coil.wireLength) / coil.dcr;
  return Object.freeze({ resistance: coil.dcr * (re + proximityRatio), skinRatio: re, proximityRatio });
}
