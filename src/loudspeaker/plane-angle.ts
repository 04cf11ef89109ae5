import { DividingNetworkError } from "../errors";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import type { Place } from "./loudspeaker-data";

/** Of a full circle through the axis: azimuths at the axis's height, or elevations straight ahead and on over the top. */
export type Plane = "horizontal" | "vertical";

/**
 * The angle of a place in a plane through the axis, degrees: the azimuth, or the elevation, which beyond ±90° goes on over the top to the
 * back (a place at azimuth 180° and elevation 60° stands at 120°).
 *
 * @param place azimuth and elevation in degrees
 * @param plane which plane
 * @returns degrees, −180 to 180; `undefined` when the place lies more than 0.01° off the plane
 */
export function planeAngle({ azimuth, elevation }: Place, plane: Plane): number | undefined {
  const same = (a: number, b: number): boolean => Math.abs(a - b) < 0.01;
  if (plane === "horizontal") return same(elevation, 0) ? azimuth : undefined;
  if (same(Math.abs(elevation), 90) || same(azimuth, 0)) return elevation;
  if (!same(Math.abs(azimuth), 180)) return undefined;
  return elevation >= 0 ? 180 - elevation : -180 - elevation;
}

/**
 * The distance that was asked for, m; when none was, the one distance that all places share.
 *
 * @param caller name of the public function, for messages
 * @param places what there is
 * @param distance m, or nothing
 * @returns m
 * @throws DividingNetworkError `not-measured` when no place is at that distance; `invalid-argument` when there are several and none was named
 */
export function oneDistance(caller: string, places: readonly Place[], distance: Length | undefined): number {
  const known = places
    .map((place) => place.distance)
    .filter((value, i, all) => all.findIndex((earlier) => Math.abs(earlier - value) < 1e-3) === i);
  if (known.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: there must be at least one place, got none`,
      "Predict at places that were measured",
    );
  const text = known.map((value) => `${value} m`).join(", ");
  if (distance === undefined) {
    if (known.length === 1) return known[0]!;
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "distance" must say which of ${text} is meant, got undefined`,
      "One map holds one distance",
    );
  }
  const wanted = inSi(caller, "distance", distance, "m", { above: 0 });
  const found = known.find((value) => Math.abs(value - wanted) < 1e-3);
  if (found === undefined)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: nothing was measured at ${wanted} m, but at ${text}`,
      "Name one of those, or use sourcesOf for a model of what lies between",
    );
  return found;
}
