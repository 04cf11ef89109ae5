import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import type { Goal } from "../assessment";
import { goalOf } from "../assessment/internal";
import { checkStock } from "../parts/internal";
import type { RedesignOptions } from "./redesign-options";
import { coilResistance } from "./series-parts";
import { stockSupply } from "./stock-supply";
import { seriesSupply, type Supply } from "./supply";

const SERIES = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"] as const;

/** What a redesign is asked for, checked. */
export interface RedesignRequest extends Pick<RedesignOptions, "ratedImpedance" | "signal" | "onProgress"> {
  readonly goal: Goal;
  readonly supply: Supply;
  readonly maxParts: number;
}

/** Checks the options of a redesign. */
export function redesignRequest(caller: string, options: RedesignOptions): RedesignRequest {
  const {
    goal: aim,
    series: asked,
    stock: drawer,
    largestPrice,
    units,
    maxParts: most,
    coilResistance: law = coilResistance,
    ratedImpedance,
    signal,
    onProgress,
  } = checkOptions(caller, options, [
    "goal",
    "series",
    "stock",
    "largestPrice",
    "units",
    "maxParts",
    "coilResistance",
    "ratedImpedance",
    "signal",
    "onProgress",
  ]);
  if (typeof law !== "function")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "coilResistance" must be a function from H to Ω, got ${typeof law}`,
      "For example (l) => 350 * l",
    );
  const series = checkOneOf(caller, "series", asked ?? "E12", SERIES);
  const maxParts = most === undefined ? 8 : checkNumber(caller, "maxParts", most, { min: 2, max: 20, integer: true });
  if (drawer !== undefined && asked !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "series" and "stock" must not both be given`,
      "Leave out the series: the stock says what can be had",
    );
  if (drawer === undefined && (largestPrice ?? units) !== undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${largestPrice === undefined ? "units" : "largestPrice"}" must go with a stock, got no stock`,
      "Give the stock, or leave it out",
    );
  const market = {
    largestPrice: largestPrice === undefined ? Infinity : checkNumber(caller, "largestPrice", largestPrice, { min: 0 }),
    units: units === undefined ? 1 : checkNumber(caller, "units", units, { min: 1, max: 1000, integer: true }),
  };
  const supply: Supply =
    drawer === undefined ? seriesSupply(series, law) : stockSupply(caller, checkStock(caller, "stock", drawer), law, market);
  return { goal: goalOf(aim), supply, maxParts, ratedImpedance, signal, onProgress };
}
