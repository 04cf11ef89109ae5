import { DividingNetworkError } from "../../errors";
import { checkNumbers } from "../../errors/internal";
import { resample } from "../../response";
import { checkResponse } from "../../response/internal";
import type { ObjectiveOptions } from "./objective-data";

/** The size of the sum that is wanted, at each frequency. */
export function targetSizes(caller: string, target: ObjectiveOptions["target"], frequencies: Float64Array): Float64Array {
  const sizes =
    typeof target === "number"
      ? new Float64Array(frequencies.length).fill(target)
      : typeof target === "object" && target !== null && "frequencies" in target
        ? ((response) => response.re.map((re, i) => Math.hypot(re, response.im[i]!)))(
            resample(checkResponse(caller, "target", target), frequencies),
          )
        : Float64Array.from(checkNumbers(caller, "target", target));
  if (sizes.length !== frequencies.length || !sizes.every((size) => size > 1e-100 && size < 1e100)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "target" must be above 0 at each of the ${frequencies.length} frequencies`,
      "Leave out the frequencies where nothing is wanted, or give them the weight 0",
    );
  }
  return sizes;
}

/** The weight of each frequency; together 1 unless stated. */
export function weighting(caller: string, weights: ArrayLike<number> | undefined, n: number): Float64Array {
  if (weights === undefined) return new Float64Array(n).fill(1 / n);
  const list = Float64Array.from(checkNumbers(caller, "weights", weights));
  if (list.length !== n || !list.every((weight) => weight >= 0 && Number.isFinite(weight)))
    throw new DividingNetworkError("invalid-argument", `${caller}: "weights" must be ${n} numbers of at least 0`);
  return list;
}
