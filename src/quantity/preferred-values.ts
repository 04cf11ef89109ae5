import { checkOneOf } from "../errors/internal";

/** A series of preferred values: the number is how many there are in a decade. */
export type PreferredSeries = "E3" | "E6" | "E12" | "E24" | "E48" | "E96" | "E192";

const allSeries: readonly PreferredSeries[] = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"];

/** Fixed by history: 2.7 to 4.7 and 8.2 are not what rounding would give. */
const e24: readonly number[] = [
  1, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2, 2.2, 2.4, 2.7, 3, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1,
];

/**
 * The preferred values of one decade, dimensionless, from 1 to below 10. E3, E6 and E12 are every eighth, fourth and
 * second value of E24, whose values are historical. E48, E96 and E192 are $10^{i/n}$ rounded to three digits, but for
 * the one exception of E192, 9.20 in the place of 9.19.
 *
 * Source: after IEC 60063.
 *
 * @param series name of the series
 * @returns ascending values, dimensionless, as many as the series' name says
 * @throws DividingNetworkError `invalid-argument` for another series
 * @example
 * ```ts
 * import { preferredValues } from "dividing-network/quantity";
 *
 * preferredValues("E6"); // [1, 1.5, 2.2, 3.3, 4.7, 6.8]
 * ```
 */
export function preferredValues(series: PreferredSeries): readonly number[] {
  checkOneOf("preferredValues", "series", series, allSeries);
  const count = Number(series.slice(1));
  if (count <= 24) return Object.freeze(e24.filter((_, i) => i % (24 / count) === 0));
  const rule = (i: number): number => Math.round(100 * 10 ** (i / count)) / 100;
  return Object.freeze(Array.from({ length: count }, (_, i) => (count === 192 && i === 185 ? 9.2 : rule(i))));
}
