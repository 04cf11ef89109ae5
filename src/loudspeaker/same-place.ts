import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import type { Place } from "./loudspeaker-data";

/**
 * Whether two places are the same, to 1 mm and 0.01°. An azimuth of 180° is one of −180°.
 *
 * @param a distance in m, azimuth and elevation in degrees
 * @param b distance in m, azimuth and elevation in degrees
 * @returns true or false, dimensionless
 */
export function samePlace(a: Place, b: Place): boolean {
  for (const place of [a, b])
    if (!isPlace(place))
      throw new DividingNetworkError(
        "invalid-argument",
        `samePlace: a place must be { distance, azimuth, elevation } in m and degrees, got ${show(place)}`,
      );
  return near(a, b);
}

/** Whether a value is a place, its numbers finite. */
export function isPlace(value: unknown): value is Place {
  const { distance, azimuth, elevation } = (typeof value === "object" && value !== null ? value : {}) as { [K in keyof Place]?: unknown };
  return Number.isFinite(distance) && Number.isFinite(azimuth) && Number.isFinite(elevation);
}

function near(a: Place, b: Place): boolean {
  return Math.abs(a.distance - b.distance) < 1e-3 && sameDirection(a, b);
}

/** Whether two directions are the same, to 0.01°. */
export function sameDirection(a: Pick<Place, "azimuth" | "elevation">, b: Pick<Place, "azimuth" | "elevation">): boolean {
  const turn = Math.abs(a.azimuth - b.azimuth) % 360;
  return Math.min(turn, 360 - turn) < 0.01 && Math.abs(a.elevation - b.elevation) < 0.01;
}
