import { checkNumber, checkOptions } from "../../errors/internal";
import { agmSums } from "../../numeric/internal";
import { VACUUM_PERMEABILITY } from "../../physics";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { positiveResults } from "../positive-results";

/** A single layer, as it is given: lengths in metres, or text with a unit. */
export interface Solenoid {
  /** Number of turns, above 0; need not be whole. */
  readonly turns: number;
  /** From the axis to the middle of the wire. */
  readonly radius: Length;
  /** Number of turns times their pitch. */
  readonly length: Length;
}

/**
 * Nagaoka's coefficient, dimensionless: the inductance of a cylindrical current sheet is $L = \mu_0\pi a^2N^2K_N/l$. After Lorenz (1879), tabulated by
 * Nagaoka (1909): $K_N = \frac{4}{3\pi k'}\left[\frac{k'^2}{k^2}(K - E) + E - k\right]$ with $k^2 = \frac{4a^2}{4a^2 + l^2}$. Right to about 1e-15: for short coils
 * E − k is taken from the complementary mean by Legendre's relation.
 *
 * @param diameterToLength diameter over length of the sheet, dimensionless, from 0 to 1e100
 * @returns coefficient, dimensionless, 1 for an endless coil
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { nagaokaCoefficient } from "dividing-network/parts";
 *
 * nagaokaCoefficient(1); // 0.688423
 * ```
 */
export function nagaokaCoefficient(diameterToLength: number): number {
  const ratio = checkNumber("nagaokaCoefficient", "diameterToLength", diameterToLength, { min: 0, max: 1e100 });
  const complement = 1 / Math.hypot(1, ratio);
  const k = ratio * complement;
  const { mean, squares } = agmSums(1, complement, k * k);
  const first = Math.PI / (2 * mean);
  // (K − E)/k², and E − k from the mean of 1 and k.
  const quotient = first * (0.5 + (k * k === 0 ? 0 : squares / (2 * k * k)));
  const excess = k < complement ? first * (1 - (k * k + squares) / 2) - k : shortExcess(complement, k, first);
  return (4 / (3 * Math.PI * complement)) * (complement * complement * quotient + excess);
}

/** E − k for k next to 1, where E and k are next to each other. */
function shortExcess(complement: number, k: number, first: number): number {
  const square = complement * complement;
  const { fall, squares } = agmSums(1, k, square);
  return square / (1 + k) - fall + first * ((square + squares) / 2);
}

/** Checks a single layer. */
export function checkedSolenoid(
  caller: string,
  given: Solenoid,
): { readonly turns: number; readonly radius: number; readonly length: number } {
  checkOptions(caller, given, ["turns", "radius", "length"]);
  return {
    turns: checkNumber(caller, "turns", given?.turns, { above: 0 }),
    radius: inSi(caller, "radius", given.radius, "m", { above: 0 }),
    length: inSi(caller, "length", given.length, "m", { above: 0 }),
  };
}

/** Inductance of a current sheet of one turn and radius 1, divided by µ₀, for its length. */
export function sheetMean(length: number): number {
  if (length < 1e-99) return Math.log(8 / length) - 0.5;
  return (Math.PI / length) * nagaokaCoefficient(2 / length);
}

/**
 * Inductance of a single layer as a current sheet, H: the current spread evenly over a cylinder. Exact for that (see `nagaokaCoefficient`); a layer
 * of round wire, close wound, differs by less than $\mu_0 a N$.
 *
 * @param solenoid `turns`, `radius` in m, `length` in m, each above 0
 * @returns inductance in H
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when the result leaves what a number can hold
 * @example
 * ```ts
 * import { solenoidInductance } from "dividing-network/parts";
 *
 * solenoidInductance({ turns: 100, radius: "25 mm", length: "50 mm" }); // 3.3972e-4 H
 * ```
 */
export function solenoidInductance(solenoid: Solenoid): number {
  const { turns, radius, length } = checkedSolenoid("solenoidInductance", solenoid);
  return positiveResults("solenoidInductance", { inductance: VACUUM_PERMEABILITY * radius * (turns * turns * sheetMean(length / radius)) })
    .inductance;
}
