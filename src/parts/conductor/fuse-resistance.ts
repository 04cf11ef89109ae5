import { checkNumber, checkOptions } from "../../errors/internal";
import type { Current, Resistance } from "../../quantity";
import { inSi } from "../../quantity/internal";
import { positiveResults } from "../positive-results";

/** What a fuse puts into the signal path. */
export interface FuseResistance {
  /** Ω, next to no current. */
  readonly coldResistance: number;
  /** Ω, at the current that was given, once the element is warm. */
  readonly resistance: number;
}

/**
 * Resistance of a fuse at a lasting current, Ω, by a model: the element's rise in temperature is proportional to the power in it and its resistance to
 * that rise, so that $R = \frac{R_0}{1 - (1 - 1/h)(I/I_r)^2}$, where h is hot over cold at the rated current I_r. The defaults, 0.15 V across the cold
 * element at its rating and h = 1.6, are common practice without a source: types differ by a factor of two, and a data sheet is better. It follows power
 * over seconds: at a slow low note it moves within a period, which this doesn't say.
 *
 * A fuse is there for safety: never replace it by a larger one or by wire.
 *
 * @param options `rating` in A; `current` in A rms, up to the rating (default 0 A); `coldResistance` in Ω; `hotRatio` of resistances at the rating, dimensionless, at least 1
 * @returns cold and warm resistance in Ω
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`; `overflow` when a result leaves what a number can hold
 * @example
 * ```ts
 * import { fuseResistance } from "dividing-network/parts";
 *
 * fuseResistance({ rating: "2 A" }).coldResistance; // 0.075 Ω
 * fuseResistance({ rating: "2 A", current: "2 A" }).resistance; // 0.12 Ω
 * ```
 */
export function fuseResistance(options: {
  readonly rating: Current;
  readonly current?: Current | undefined;
  readonly coldResistance?: Resistance | undefined;
  readonly hotRatio?: number | undefined;
}): FuseResistance {
  const caller = "fuseResistance";
  checkOptions(caller, options, ["rating", "current", "coldResistance", "hotRatio"]);
  const rating = inSi(caller, "rating", options?.rating, "A", { above: 0 });
  const current = inSi(caller, "current", options.current ?? 0, "A", { min: 0, max: rating });
  const hotRatio = checkNumber(caller, "hotRatio", options.hotRatio ?? 1.6, { min: 1, max: 100 });
  const coldResistance =
    options.coldResistance === undefined ? 0.15 / rating : inSi(caller, "coldResistance", options.coldResistance, "Ω", { above: 0 });
  const share = current / rating;
  return positiveResults(caller, { coldResistance, resistance: coldResistance / (1 - (1 - 1 / hotRatio) * share * share) });
}
