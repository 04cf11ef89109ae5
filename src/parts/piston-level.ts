import { checkNumber, checkOptions, DividingNetworkError } from "../errors";
import { airDensity as densityOfAir, REFERENCE_PRESSURE } from "../physics";
import { inSi, type Area, type Frequency, type Length } from "../quantity";

/**
 * Sound pressure level in dB re 20 µPa of a small piston in a baffle, from its displacement.
 *
 * $$p = \frac{\rho S_d\, \omega^2 x}{2\pi r}$$
 *
 * with the peak displacement x; the level is that of the root mean square, p/√2.
 *
 * @param options `displacement` peak in m, `sd` in m², `frequency` in Hz, `distance` in m, default 1 m; `airDensity` in kg/m³, default 1.2041
 * @returns dB re 20 µPa, the same for either sign of the displacement; −∞ for no displacement
 * @throws DividingNetworkError `invalid-argument`
 * Validity: ka ≪ 1, half space.
 * Source: monopole in a baffle, textbook; checked value recomputed.
 * @example
 * ```ts
 * import { levelFromDisplacement } from "dividing-network/parts";
 *
 * levelFromDisplacement({ displacement: "1 mm", sd: "132 cm²", frequency: 50, airDensity: 1.2 }); // 78.886601
 * ```
 */
export function levelFromDisplacement(options: {
  readonly displacement: Length; readonly sd: Area; readonly frequency: Frequency; readonly distance?: Length; readonly airDensity?: number;
}): number {
  const caller = "levelFromDisplacement";
  const given = checkOptions(caller, options, ["displacement", "sd", "frequency", "distance", "airDensity"]);
  const x = inSi(caller, "displacement", given.displacement, "m");
  const sd = inSi(caller, "sd", given.sd, "m²", { above: 0 });
  const { rho, omega, r } = circumstances(caller, given);
  // A sum of logarithms: the product may leave what a number can hold while its level is a common one.
  return 20 * (Math.log10(rho) + Math.log10(sd) + 2 * Math.log10(omega) + Math.log10(Math.abs(x)) - Math.log10(r) - Math.log10(2 * Math.PI * Math.SQRT2 * REFERENCE_PRESSURE));
}

/**
 * Volume displacement in m³ (peak: area times peak displacement) that a level asks of a small piston in a baffle; inverse of
 * `levelFromDisplacement`.
 *
 * @param options `levelDb` re 20 µPa, `frequency` in Hz, `distance` in m, default 1 m; `airDensity` in kg/m³, default 1.2041
 * @returns m³, peak
 * @throws DividingNetworkError `invalid-argument`; `overflow` where no number can hold it
 * Validity: ka ≪ 1, half space.
 * Source: monopole in a baffle, textbook; checked value recomputed.
 * @example
 * ```ts
 * import { volumeDisplacementFromLevel } from "dividing-network/parts";
 *
 * volumeDisplacementFromLevel({ levelDb: 90, frequency: 40, airDensity: 1.2 }) * 1e6; // 74.14193
 * ```
 */
export function volumeDisplacementFromLevel(options: {
  readonly levelDb: number; readonly frequency: Frequency; readonly distance?: Length; readonly airDensity?: number;
}): number {
  const caller = "volumeDisplacementFromLevel";
  const given = checkOptions(caller, options, ["levelDb", "frequency", "distance", "airDensity"]);
  const level = checkNumber(caller, "levelDb", given.levelDb, { min: -200, max: 250, unit: "dB" });
  const { rho, omega, r } = circumstances(caller, given);
  const volume = 10 ** (level / 20 + Math.log10(REFERENCE_PRESSURE * Math.SQRT2 * 2 * Math.PI) + Math.log10(r) - Math.log10(rho) - 2 * Math.log10(omega));
  if (Number.isFinite(volume)) return volume;
  throw new DividingNetworkError("overflow", `${caller}: the volume must be a finite number, got more than 1.8e308 m³`, "Ask for a higher frequency or a nearer place");
}

function circumstances(caller: string, given: { readonly frequency: Frequency; readonly distance?: Length; readonly airDensity?: number }) {
  return {
    omega: 2 * Math.PI * inSi(caller, "frequency", given.frequency, "Hz", { above: 0 }),
    r: inSi(caller, "distance", given.distance ?? 1, "m", { above: 0 }),
    rho: checkNumber(caller, "airDensity", given.airDensity ?? densityOfAir(), { above: 0, unit: "kg/m³" }),
  };
}
