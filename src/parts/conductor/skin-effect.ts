import { checkOptions } from "../../errors/internal";
import { kelvinRatio } from "../../numeric/internal";
import { VACUUM_PERMEABILITY } from "../../physics";
import type { Frequency, Length, Temperature } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { conductorAt, type Conductor } from "./material";

/** A round wire's resistance and inner inductance at a frequency against those at direct current. */
export interface SkinEffect {
  /** R/R₀, dimensionless, 1 at 0 Hz and growing. */
  readonly resistanceRatio: number;
  /** Inner inductance over that at 0 Hz, which is µ/(8π) per metre; dimensionless, 1 and falling. */
  readonly inductanceRatio: number;
  /** Depth at which a plane conductor's current has fallen to 1/e, m; Infinity at 0 Hz. */
  readonly skinDepth: number;
}

/** The argument of Kelvin's functions, x = (d/2)·√(ωµ/ρ). */
export function skinArgument(diameter: number, frequency: number, resistivity: number, permeability: number): number {
  return (diameter / 2) * Math.sqrt(((2 * Math.PI * VACUUM_PERMEABILITY * permeability) / resistivity) * frequency);
}

/**
 * Skin effect of a round wire that stands alone, exactly: with $x = \frac{d}{2}\sqrt{\omega\mu\sigma}$ and $z = x e^{-j\pi/4}$ its inner impedance is
 * $R_0\,\frac{z J_0(z)}{2 J_1(z)}$, so that $R/R_0$ is the real part and $L/L_0$ is $8/x^2$ times the imaginary one. After the tables of NBS Circular 74
 * (1918), recomputed. In a winding the neighbours' field adds more than this (`windingResistance`).
 *
 * @param options `diameter` in m (above 0 m), `frequency` in Hz, `temperature` in °C (default 20), `material` (default copper)
 * @returns both ratios, dimensionless, and the skin depth in m
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`
 * @example
 * ```ts
 * import { skinEffect } from "dividing-network/parts";
 *
 * skinEffect({ diameter: "1 mm", frequency: "20 kHz" }).resistanceRatio; // 1.0267
 * skinEffect({ diameter: "2.5 mm", frequency: "20 kHz" }).resistanceRatio; // 1.5968
 * ```
 */
export function skinEffect(options: {
  readonly diameter: Length;
  readonly frequency: Frequency;
  readonly temperature?: Temperature | undefined;
  readonly material?: Conductor | undefined;
}): SkinEffect {
  const caller = "skinEffect";
  checkOptions(caller, options, ["diameter", "frequency", "temperature", "material"]);
  const diameter = inSi(caller, "diameter", options?.diameter, "m", { above: 0, max: 1e6 });
  const frequency = inSi(caller, "frequency", options.frequency, "Hz", { min: 0, max: 1e15 });
  const { resistivity, permeability } = conductorAt(caller, options.material, options.temperature);
  const x = skinArgument(diameter, frequency, resistivity, permeability);
  const { re, im } = kelvinRatio(x);
  // Below 1e-4 the inductance has lost less than 1e-17 of itself, and x² may be nothing.
  return Object.freeze({
    resistanceRatio: re,
    inductanceRatio: x < 1e-4 ? 1 : (8 * im) / x / x,
    skinDepth: x === 0 ? Infinity : diameter / x / Math.SQRT2,
  });
}
