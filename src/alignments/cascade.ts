import { checkNumber } from "../errors";
import type { TransferFunction } from "../response";
import { checkFilter, makeFilter } from "./check-filter";

/**
 * One transfer function after the other, without loading: their product, in the product of their units.
 *
 * @param filters zeros and poles in rad/s, and gain, of each; at least one, at most 200 poles together
 * @returns zeros, poles (rad/s) and gain of the product
 * @throws DividingNetworkError `invalid-transfer-function`
 * @example
 * ```ts
 * import { butterworth, cascade, highPass, lowPass } from "dividing-network/alignments";
 *
 * cascade(highPass(butterworth(2), 300), lowPass(butterworth(2), 3000)).poles.length; // 4
 * ```
 */
export function cascade(...filters: readonly TransferFunction[]): TransferFunction {
  const checked = filters.map((filter, k) => checkFilter("cascade", `filters[${k}]`, filter));
  const gain = checkNumber("cascade", "product of the gains", checked.reduce((product, filter) => product * filter.gain, 1));
  const product = makeFilter(checked.flatMap((filter) => filter.zeros), checked.flatMap((filter) => filter.poles), gain);
  return checkFilter("cascade", "filters", product);
}
