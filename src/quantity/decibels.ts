import { checkNumber } from "../errors/internal";

/**
 * Level of an amplitude ratio in dB: $20 \log_{10} x$. A ratio of 0 is −∞ dB. Inverse of `amplitudeRatio`.
 *
 * @param ratio ratio of two amplitudes (voltages, pressures), dimensionless, at least 0
 * @returns level in dB
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { decibels } from "dividing-network/quantity";
 *
 * decibels(2); // 6.0206
 * decibels(0); // -Infinity
 * ```
 */
export function decibels(ratio: number): number {
  return 20 * Math.log10(checkNumber("decibels", "ratio", ratio, { min: 0 }));
}

/**
 * Amplitude ratio of a level in dB: $10^{L/20}$, dimensionless. Inverse of `decibels`; −∞ dB is a ratio of 0.
 *
 * @param db level in dB, −∞ or a number up to 6165 dB (the largest ratio that a number can hold)
 * @returns ratio of two amplitudes, dimensionless
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { amplitudeRatio } from "dividing-network/quantity";
 *
 * amplitudeRatio(-6); // 0.501187
 * ```
 */
export function amplitudeRatio(db: number): number {
  if (db === -Infinity) return 0;
  return 10 ** (checkNumber("amplitudeRatio", "db", db, { max: 6165, unit: "dB" }) / 20);
}

/**
 * By how much the amplitude ratio of a level exceeds 1, dimensionless: $10^{L/20} - 1$, to all digits also where the level is next to 0 dB.
 * What attenuators and shelves are made of; `amplitudeRatio(db) - 1` would keep no digit of 10⁻¹⁵ dB.
 *
 * @param db level in dB, −∞ or a number up to 6165 dB
 * @returns ratio of two amplitudes less 1, dimensionless; −1 for −∞ dB
 * @throws DividingNetworkError `invalid-argument`
 */
export function amplitudeExcess(db: number): number {
  if (db === -Infinity) return -1;
  return Math.expm1((checkNumber("amplitudeExcess", "db", db, { max: 6165, unit: "dB" }) / 20) * Math.LN10);
}
