import type { PressureFile } from "./project-measurement";
import type { Project } from "./project-types";

/** What a measurement can be of beside a driver: the whole as found, the other one of the pair as found, what plays beside it. */
export const WHOLES = ["loudspeaker", "twin", "partner"] as const;

/** Whether a measurement is of a driver. */
export function isDriver(of: string): boolean {
  return !(WHOLES as readonly string[]).includes(of);
}

/**
 * Whether a file must reach over the goal's band: on the axis, and where the goal states frequencies and names the direction. Elsewhere a narrower file is judged over what it has. The other
 * one of a pair is compared over what both have.
 */
export function neededOverBand(
  { goal }: Project,
  of: string,
  { azimuth, elevation }: Pick<PressureFile, "azimuth" | "elevation">,
): boolean {
  if (of === "twin") return false;
  const same = (a = 0, b: number) => Math.abs(a - b) < 0.01;
  return (
    (same(0, azimuth) && same(0, elevation))
    || (goal?.frequencies !== undefined
      && (goal.places ?? []).some((place) => same(place.azimuth, azimuth) && same(place.elevation, elevation)))
  );
}
