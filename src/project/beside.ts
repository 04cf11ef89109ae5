import type { GoalOptions } from "../assessment";
import { distanceOf, goalOf } from "../assessment/internal";
import { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import { DRIVE_VOLTAGE } from "../physics";
import { formatQuantity } from "../quantity";
import { scaleResponse } from "../response";
import type { LoadedProject, MeasuredLoudspeakerPressure } from "./loaded-project";
import type { Project } from "./project-types";

/** The goal with what was measured of a partner, Pa for 2.83 V, at the distance at which the loudspeaker is judged. */
export function goalWith({ goal = {} }: Project, found: Loudspeaker, partner: readonly MeasuredLoudspeakerPressure[]): GoalOptions {
  if (partner.length === 0) return Object.freeze({ ...goal });
  const distance = distanceOf("readProject", found, goalOf(goal));
  const here = partner.filter((pressure) => Math.abs(pressure.distance - distance) < 1e-3);
  if (here.length === 0) {
    const metres = (length: number) => formatQuantity(length, "m");
    throw new DividingNetworkError(
      "missing-measurement",
      `readProject: the partner must be measured where the loudspeaker is judged, at ${metres(distance)}, got ${[...new Set(partner.map((pressure) => metres(pressure.distance)))].join(", ")}`,
      "Measure it there too, or state goal.distance",
    );
  }
  const pressures = here.map(({ azimuth, elevation, response, voltage }) =>
    Object.freeze({ azimuth, elevation, response: scaleResponse(response, DRIVE_VOLTAGE / voltage) }),
  );
  return Object.freeze({ ...goal, partner: Object.freeze({ pressures: Object.freeze(pressures) }) });
}

/** The loudspeaker and its twin as left and right, where both were measured. */
export function pairOf(
  { pair = {} }: Project,
  whole: LoadedProject["measured"],
  twin: LoadedProject["measured"],
): Pick<LoadedProject, "pair"> {
  if (twin.pressures.length === 0 && twin.impedance === undefined) return {};
  const { measured = "left", mirrored = false } = pair;
  return { pair: Object.freeze(measured === "left" ? { left: whole, right: twin, mirrored } : { left: twin, right: whole, mirrored }) };
}
