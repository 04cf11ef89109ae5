import { checkNumber, checkOptions } from "../errors/internal";
import { REFERENCE_PRESSURE, type Air } from "../physics";
import { checkAir, simpleSourcePressure, volumeAcceleration } from "../physics/internal";
import type { Area, Frequency, Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { positiveResults } from "./positive-results";

/**
 * Sound pressure level in dB re 20 µPa of a small piston in a baffle, from its displacement.
 *
 * $$p = \frac{\rho S_d\, \omega^2 x}{2\pi r}$$
 *
 * with the peak displacement x; the level is that of the root mean square, p/√2.
 *
 * @param options `displacement` peak in m, `sd` in m², `frequency` in Hz, `distance` in m, default 1 m; the `air`, whose density counts (kg/m³)
 * @returns dB re 20 µPa, the same for either sign of the displacement; −∞ for none
 * @throws DividingNetworkError `invalid-argument`
 * Validity: ka ≪ 1, half space.
 * Source: monopole in a baffle, textbook; checked value recomputed.
 * @example
 * ```ts
 * import { displacementLevelDb } from "dividing-network/parts";
 *
 * displacementLevelDb({ displacement: "1 mm", sd: "132 cm²", frequency: 50, air: { density: 1.2 } }); // 78.886601
 * ```
 */
export function displacementLevelDb(options: {
  readonly displacement: Length;
  readonly sd: Area;
  readonly frequency: Frequency;
  readonly distance?: Length | undefined;
  readonly air?: Air | undefined;
}): number {
  const caller = "displacementLevelDb";
  const given = checkOptions(caller, options, ["displacement", "sd", "frequency", "distance", "air"]);
  const x = inSi(caller, "displacement", given.displacement, "m");
  const sd = inSi(caller, "sd", given.sd, "m²", { above: 0 });
  const { rho, f, r } = circumstances(caller, given);
  // Of ones, and a sum of logarithms for the rest, since the product may leave what a number can hold where the level does not.
  const lg = Math.log10;
  const ofOnes = simpleSourcePressure(1, volumeAcceleration(1, 1, 1), 2 * Math.PI, 1);
  return 20 * (lg(rho) + lg(sd) + 2 * lg(f) + lg(Math.abs(x)) - lg(r) + lg(ofOnes / REFERENCE_PRESSURE));
}

/**
 * Volume displacement in m³ (peak: area times peak displacement) that a level asks of a small piston in a baffle; inverse of
 * `displacementLevelDb`.
 *
 * @param options `levelDb` re 20 µPa, `frequency` in Hz, `distance` in m, default 1 m; the `air`, whose density counts (kg/m³)
 * @returns m³, peak
 * @throws DividingNetworkError `invalid-argument`, `overflow`
 * Validity: ka ≪ 1, half space.
 * Source: monopole in a baffle, textbook; checked value recomputed.
 * @example
 * ```ts
 * import { volumeDisplacementFromLevel } from "dividing-network/parts";
 *
 * volumeDisplacementFromLevel({ levelDb: 90, frequency: 40, air: { density: 1.2 } }) * 1e6; // 74.14193
 * ```
 */
export function volumeDisplacementFromLevel(options: {
  readonly levelDb: number;
  readonly frequency: Frequency;
  readonly distance?: Length | undefined;
  readonly air?: Air | undefined;
}): number {
  const caller = "volumeDisplacementFromLevel";
  const given = checkOptions(caller, options, ["levelDb", "frequency", "distance", "air"]);
  const level = checkNumber(caller, "levelDb", given.levelDb, { min: -200, max: 250, unit: "dB" });
  const { rho, f, r } = circumstances(caller, given);
  return positiveResults(caller, {
    volume: (REFERENCE_PRESSURE * 10 ** (level / 20)) / simpleSourcePressure(rho, volumeAcceleration(1, f, 1), 2 * Math.PI, r),
  }).volume;
}

function circumstances(caller: string, given: { readonly frequency: Frequency; readonly distance?: Length; readonly air?: Air }) {
  return {
    f: inSi(caller, "frequency", given.frequency, "Hz", { above: 0 }),
    r: inSi(caller, "distance", given.distance ?? 1, "m", { above: 0 }),
    rho: checkAir(caller, given.air).density,
  };
}
