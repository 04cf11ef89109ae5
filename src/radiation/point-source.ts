import { checkOptions } from "../errors/internal";
import { placementKeys, placeSource, type Source, type SourcePlacement } from "./source";

/**
 * A point source (monopole), whose field at unit drive is $e^{-jkr}/r$, 1/m.
 *
 * @param options position in m (x towards the listener, y to the loudspeaker's own left, z up), polarity, delay in s, gain in dB
 * @returns a source, plain data; lengths in m
 * @throws DividingNetworkError when an option is unknown or out of range
 * @example
 * ```ts
 * import { pointSource, pressureAt } from "dividing-network/radiation";
 *
 * pressureAt([pointSource()], [0], { points: [[2, 0, 0]] }).re; // [0.5]
 * ```
 */
export function pointSource(options: SourcePlacement = {}): Source {
  return placeSource("pointSource", { kind: "point" }, "simple", checkOptions("pointSource", options, placementKeys));
}
