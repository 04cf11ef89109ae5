import { DividingNetworkError } from "../../errors";
import { checkNumber } from "../../errors/internal";
import type { TransferFunction } from "../../response";
import { checkFilter, makeFilter } from "./check-filter";
import { isScaled, makeScaled, type Filter } from "./filter";

/**
 * One transfer function after the other, without loading: their product, in the product of their units.
 *
 * @param filters zeros and poles in rad/s, and gain, of each; at least one, at most 200 poles together
 * @returns zeros, poles (rad/s) and gain of the product
 * @throws DividingNetworkError `invalid-transfer-function`; `unscaled-prototype` for a prototype beside a filter
 * @example
 * ```ts
 * import { butterworth, cascade, highPass, lowPass } from "dividing-network/alignments";
 *
 * cascade(highPass(butterworth(2), 300), lowPass(butterworth(2), 3000)).poles.length; // 4
 * ```
 */
export function cascade(...filters: readonly [Filter, ...TransferFunction[]]): Filter;
export function cascade(...filters: readonly TransferFunction[]): TransferFunction;
export function cascade(...filters: readonly TransferFunction[]): TransferFunction {
  const checked = filters.map((filter, k) => checkFilter("cascade", `filters[${k}]`, filter));
  const gain = checkNumber(
    "cascade",
    "product of the gains",
    checked.reduce((product, filter) => product * filter.gain, 1),
  );
  const prototype = filters.findIndex((filter) => "family" in filter);
  const scaled = filters.some(isScaled);
  if (scaled && prototype >= 0) {
    throw new DividingNetworkError(
      "unscaled-prototype",
      `cascade: all of "filters" must lie at their frequencies, or none, got a prototype at 1 rad/s as filters[${prototype}] beside a filter`,
      'Bring it to its frequency first: lowPass(prototype, "3 kHz"), highPass or bandPass',
    );
  }
  const product = (scaled ? makeScaled : makeFilter)(
    checked.flatMap((filter) => filter.zeros),
    checked.flatMap((filter) => filter.poles),
    gain,
  );
  checkFilter("cascade", "filters", product);
  return product;
}
