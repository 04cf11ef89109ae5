import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { gaussLegendre } from "../numeric";
import type { GivenPoint, Point } from "../physics";
import { cosDegrees, pointInSi, sinDegrees } from "../physics/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { frequencyResponse } from "../response";
import { sumAt, summationKeys, type SummationOptions } from "./pressure-at";
import { freezeField } from "./pressure-field";
import type { Source } from "./source";
import { zonalWeights } from "./zonal-weights";
import type { SphereMap } from "./field-data";

/** Options of `sphereMap`. */
export interface SphereMapOptions extends SummationOptions {
  /** Degrees between rings and between the places of a ring, a divisor of 180; default 10. */
  readonly stepDegrees?: number | undefined;
  /**
   * `"zonal"`: equal steps with exact zonal areas. `"gauss"`: as many rings, at Gauss–Legendre places of cos θ for the front and the rear
   * half, for smooth patterns. Default `"zonal"`.
   */
  readonly quadrature?: "zonal" | "gauss" | undefined;
  /** m; default 2. */
  readonly distance?: Length | undefined;
  /** The centre that directions and distance count from, m; default the origin of the coordinates. */
  readonly centre?: GivenPoint | undefined;
}

/**
 * The field of sources on a whole sphere, over direction and frequency: rings around the reference axis x. In 1/m per unit drive, in Pa
 * when the drives are pressures at 1 m or the sources measured.
 *
 * @param sources at least one
 * @param frequencies Hz, ascending
 * @param options step in degrees, quadrature, distance in m, centre in m (x towards the listener, y to the loudspeaker's own left, z up),
 *   and how to sum
 * @returns the map, directions × frequencies, with the weight of each direction
 * @throws DividingNetworkError as `pressureAt` does
 * @example
 * ```ts
 * import { pointSource, sphereMap } from "dividing-network/radiation";
 *
 * sphereMap([pointSource()], [1000]).directions.length; // 614
 * ```
 */
export function sphereMap(sources: readonly Source[], frequencies: ArrayLike<number>, options: SphereMapOptions = {}): SphereMap {
  const caller = "sphereMap";
  const given = checkOptions(caller, options, ["stepDegrees", "quadrature", "distance", "centre", ...summationKeys]);
  const step = checkNumber(caller, "stepDegrees", given.stepDegrees ?? 10, { min: 0.5, max: 90, unit: "degrees" });
  checkNumber(caller, "180 / stepDegrees", 180 / step, { integer: true });
  const distance = inSi(caller, "distance", given.distance ?? 2, "m", { above: 0 });
  const [cx, cy, cz] = pointInSi(caller, "centre", given.centre ?? [0, 0, 0]);
  const gauss = checkOneOf(caller, "quadrature", given.quadrature ?? "zonal", ["zonal", "gauss"]) === "gauss";
  const count = 180 / step + 1;
  // Front and rear half get a rule each, so that the edge of a baffle's silence does no harm.
  const rule = gaussLegendre(Math.ceil(count / 2));
  const rings = gauss
    ? [1, -1].flatMap((side) =>
        Array.from(rule.nodes, (node, i) => {
          const size = (1 - node) / 2;
          return { cos: side * size, sin: Math.sqrt(1 - size * size), weight: rule.weights[i]! / 4 };
        }),
      )
    : Array.from(zonalWeights(Float64Array.from({ length: count }, (_, i) => i * step)), (weight, i) => ({
        cos: cosDegrees(i * step),
        sin: sinDegrees(i * step),
        weight,
      }));
  const directions: { readonly azimuth: number; readonly elevation: number }[] = [];
  const points: Point[] = [];
  const weights: number[] = [];
  for (const { cos, sin, weight } of rings) {
    const around = sin === 0 ? 1 : 360 / step;
    for (let j = 0; j < around; j++) {
      const [y, z] = [sin * cosDegrees(j * step), sin * sinDegrees(j * step)];
      points.push([cx + distance * cos, cy + distance * y, cz + distance * z]);
      const elevation = (Math.asin(Math.max(-1, Math.min(1, z))) * 180) / Math.PI;
      directions.push(Object.freeze({ azimuth: (Math.atan2(y, cos) * 180) / Math.PI, elevation }));
      weights.push(weight / around);
    }
  }
  points.push([cx + distance, cy, cz]);
  const field = sumAt(caller, sources, frequencies, points, given);
  const size = directions.length * field.frequencies.length;
  const quadrature = gauss
    ? `Gauss–Legendre in the cosine of the angle off the axis for the front and the rear half, ${rings.length} rings of ${360 / step} equal steps`
    : `exact zonal areas of rings every ${step}° off the axis, equal shares of ${360 / step} places on each`;
  return freezeField(
    {
      directions: Object.freeze(directions),
      weights: Float64Array.from(weights),
      quadrature,
      distance,
      frequencies: field.frequencies,
      re: field.re.slice(0, size),
      im: field.im.slice(0, size),
      axis: frequencyResponse(field.frequencies, field.re.slice(size), field.im.slice(size), field.marks),
      errorEstimate: field.errorEstimate,
    },
    field.marks ?? [],
  );
}
