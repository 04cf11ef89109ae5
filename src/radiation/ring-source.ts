import { checkOptions } from "../errors/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { placementKeys, placeSource, type Mounting, type Source, type SourcePlacement } from "./source";

/** Options of `ringSource`. */
export interface RingOptions extends SourcePlacement {
  /** m. */
  readonly radius: Length;
  /** Default `"simple"`. */
  readonly mounting?: Mounting | undefined;
}

/**
 * A thin ring that sounds as one, whose field at unit drive tends to $J_0(ka\sin\theta)\,e^{-jkr}/r$, 1/m, far away.
 *
 * @param options radius in m (required), mounting, and the placement: position in m (x towards the listener, y to the loudspeaker's
 *   own left, z up), rotation in degrees, polarity, delay in s, gain in dB
 * @returns a source, plain data; lengths in m
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { pressureAt, ringSource } from "dividing-network/radiation";
 *
 * pressureAt([ringSource({ radius: 0.3 })], [0], { points: [[0.4, 0, 0]] }).re; // [2]
 * ```
 */
export function ringSource(options: RingOptions): Source {
  const given = checkOptions("ringSource", options, [...placementKeys, "radius", "mounting"]);
  const radius = inSi("ringSource", "radius", given.radius, "m", { above: 0 });
  return placeSource("ringSource", { kind: "ring", radius }, given.mounting ?? "simple", given);
}
