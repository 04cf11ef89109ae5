import { sameDirection } from "../loudspeaker/internal";
import { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import { addResponses, frequencyResponse, resample, type FrequencyResponse } from "../response";
import type { Goal, GoalPlace } from "./goal-types";

type Direction = Pick<GoalPlace, "azimuth" | "elevation">;

/** m: the goal's, or the nearest at which every driver was measured on the axis; of a goal without the axis that was measured nowhere on it, the nearest at which every driver was measured at all of its places. */
export function distanceOf(caller: string, { drivers }: Loudspeaker, goal: Goal): number {
  if (goal.distance !== undefined) return goal.distance;
  /** Distances at which every driver was measured in all of some directions. */
  const common = (directions: readonly Direction[]): readonly number[] => {
    const each = drivers.flatMap(({ pressures }) =>
      directions.map((direction) => pressures.filter((one) => sameDirection(one, direction)).map(({ distance }) => distance)),
    );
    return each[0]!.filter((distance) => each.every((others) => others.some((other) => Math.abs(other - distance) < 1e-3)));
  };
  const axis = { azimuth: 0, elevation: 0 };
  const found = common([axis]);
  const known = found.length > 0 || goal.places.some((place) => sameDirection(place, axis)) ? found : common(goal.places);
  if (known.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: no distance has a measurement of every driver on the axis (azimuth 0°, elevation 0°)`,
      "Measure each driver alone on the axis. A search can do without, where the goal's places are only those where each was measured at one distance",
    );
  return Math.min(...known);
}

/** The sum with what a partner outside the network adds. */
export function withPartner({ partner }: Goal, { azimuth, elevation }: Direction, sum: FrequencyResponse): FrequencyResponse {
  if (partner === undefined || !("pressures" in partner)) return sum;
  const found = partner.pressures.find((pressure) => sameDirection(pressure, { azimuth, elevation }));
  if (found === undefined)
    throw new DividingNetworkError(
      "not-measured",
      `goal: the partner's pressure at azimuth ${azimuth}°, elevation ${elevation}° must be known, since the goal names this place`,
      "Give it under partner.pressures",
    );
  return addResponses(sum, resample(found.response, sum.frequencies));
}

/** The same over the part of the sum's frequencies that the partner covers: a subwoofer may be measured over less. */
export function heardWithPartner(goal: Goal, place: Direction, sum: FrequencyResponse): FrequencyResponse {
  const { partner } = goal;
  const found =
    partner === undefined || !("pressures" in partner) ? undefined : partner.pressures.find((pressure) => sameDirection(pressure, place));
  if (found === undefined) return withPartner(goal, place, sum);
  const { frequencies } = found.response;
  const [low, high] = [frequencies[0]!, frequencies[frequencies.length - 1]!];
  const from = sum.frequencies.findIndex((frequency) => frequency >= low);
  let to = sum.frequencies.length;
  while (to > 0 && sum.frequencies[to - 1]! > high) to--;
  if (from < 0 || to - from < 2)
    throw new DividingNetworkError(
      "outside-band",
      `goal: the partner's pressure at azimuth ${place.azimuth}°, elevation ${place.elevation}° must share the loudspeaker's frequencies, got ${low} Hz to ${high} Hz`,
      "Measure both over the goal's band",
    );
  return withPartner(
    goal,
    place,
    from === 0 && to === sum.frequencies.length
      ? sum
      : frequencyResponse(sum.frequencies.subarray(from, to), sum.re.subarray(from, to), sum.im.subarray(from, to), sum.marks),
  );
}
