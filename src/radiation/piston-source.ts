import { checkNumber, checkOptions } from "../errors/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { placementKeys, placeSource, type Mounting, type Source, type SourcePlacement } from "./source";

/** Options of `pistonSource`. */
export interface PistonOptions extends SourcePlacement {
  /** m. */
  readonly radius: Length;
  /** m, for an annulus; default 0. */
  readonly innerRadius?: Length | undefined;
  /** Default `"baffle"`. */
  readonly mounting?: Mounting | undefined;
}

/**
 * A flat circular piston (or annulus) that moves as one, whose field at unit drive tends to
 * $\frac{2J_1(ka\sin\theta)}{ka\sin\theta}\,e^{-jkr}/r$, 1/m, far away. Near by it is summed without approximation, as an integral around
 * its edge that equals the one over its surface.
 *
 * @param options radius in m (required), inner radius in m, mounting (`"baffle"`: silent behind its plane), and the placement:
 *   position in m (x towards the listener, y to the loudspeaker's own left, z up), rotation in degrees, polarity, delay in s, gain in dB
 * @returns a source, plain data; lengths in m
 * @throws DividingNetworkError when an option is missing, unknown or out of range
 * @example
 * ```ts
 * import { pistonSource, pressureAt } from "dividing-network/radiation";
 *
 * // On the axis the static limit is 2 / (√(x² + a²) + x).
 * pressureAt([pistonSource({ radius: "75 mm" })], [0], { points: [[0.1, 0, 0]] }).re; // [8.888889]
 * ```
 */
export function pistonSource(options: PistonOptions): Source {
  const given = checkOptions("pistonSource", options, [...placementKeys, "radius", "innerRadius", "mounting"]);
  const radius = inSi("pistonSource", "radius", given.radius, "m", { above: 0 });
  const innerRadius = inSi("pistonSource", "innerRadius", given.innerRadius ?? 0, "m", { min: 0 });
  checkNumber("pistonSource", "innerRadius", innerRadius, { below: radius, unit: "m" });
  return placeSource("pistonSource", { kind: "disc", radius, innerRadius }, given.mounting ?? "baffle", given);
}
