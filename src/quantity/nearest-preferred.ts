import { checkNumber } from "../errors/internal";
import { preferredValues, type PreferredSeries } from "./preferred-values";

/** What counts as the preferred value itself, relative: far above rounding errors, far below the step of any series. */
const sameValue = 1e-9;

/** The largest preferred value not above, and the smallest not below; one value when the given one is preferred. */
function neighbours(caller: string, value: number, series: PreferredSeries): readonly [below: number, above: number] {
  checkNumber(caller, "value", value, { min: 1e-300, max: 1e300 });
  const mantissas = preferredValues(series);
  const decade = Math.floor(Math.log10(value));
  const candidates = [decade - 1, decade, decade + 1].flatMap((exponent) => mantissas.map((mantissa) => Number(`${mantissa}e${exponent}`)));
  const index = candidates.findIndex((candidate) => candidate >= value * (1 - sameValue));
  const above = candidates[index]!;
  return above <= value * (1 + sameValue) ? [above, above] : [candidates[index - 1]!, above];
}

/**
 * The preferred value whose ratio to the given value is nearest to 1, in the unit of `value`; of two equally near, the
 * smaller.
 *
 * @param value in any unit (SI: Ω, H, F), 1e-300 to 1e300
 * @param series name of the series
 * @returns the preferred value, in the unit of `value`
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { nearestPreferred } from "dividing-network/quantity";
 *
 * nearestPreferred(0.00043, "E12"); // 0.00047
 * ```
 */
export function nearestPreferred(value: number, series: PreferredSeries): number {
  const [below, above] = neighbours("nearestPreferred", value, series);
  return above / value < value / below ? above : below;
}

/**
 * The largest preferred value that is not above the given one, in the unit of `value`; the value itself when it is
 * preferred (to 1e-9, so that rounding errors do not lose a step).
 *
 * @param value in any unit (SI: Ω, H, F), 1e-300 to 1e300
 * @param series name of the series
 * @returns the preferred value, in the unit of `value`
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { preferredBelow } from "dividing-network/quantity";
 *
 * preferredBelow(5, "E12"); // 4.7
 * ```
 */
export function preferredBelow(value: number, series: PreferredSeries): number {
  return neighbours("preferredBelow", value, series)[0];
}

/**
 * The smallest preferred value that is not below the given one, in the unit of `value`; the value itself when it is
 * preferred (to 1e-9, so that rounding errors do not gain a step).
 *
 * @param value in any unit (SI: Ω, H, F), 1e-300 to 1e300
 * @param series name of the series
 * @returns the preferred value, in the unit of `value`
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { preferredAbove } from "dividing-network/quantity";
 *
 * preferredAbove(5, "E12"); // 5.6
 * ```
 */
export function preferredAbove(value: number, series: PreferredSeries): number {
  return neighbours("preferredAbove", value, series)[1];
}
