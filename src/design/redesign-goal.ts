import { DividingNetworkError } from "../errors";
import { sameDirection } from "../loudspeaker/internal";
import { anchoredGrid, goalOf, RATED_SHARE } from "../assessment/internal";
import type { Goal } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import type { Resistance } from "../quantity";
import { hertz } from "../quantity/internal";
import type { Group } from "./driver-groups";

/** Points per octave on which networks are searched where the goal states no frequencies. */
const PER_OCTAVE = 6;

/** The goal with a load to keep where nothing is said of it: 80 % of the least that a group of drivers has by itself. */
export function withLoad(groups: readonly Group[], goal: Goal, ratedImpedance: unknown): Goal {
  if (goal.limits === "stated" || ratedImpedance !== undefined || goal.amplifier.smallestImpedance !== undefined) return goal;
  const smallestImpedance = groups.reduce((least, { load }) => Math.min(least, RATED_SHARE * load), Infinity);
  return smallestImpedance > 0 ? goalOf({ ...goal, amplifier: { ...goal.amplifier, smallestImpedance } }) : goal;
}

/** Ω by which networks are assessed where none are told: those whose share is the load that the goal keeps, else the least that a group of drivers has by itself. */
export function ratedFor(groups: readonly Group[], { amplifier }: Goal, ratedImpedance: Resistance | undefined): Resistance {
  if (ratedImpedance !== undefined) return ratedImpedance;
  const { smallestImpedance } = amplifier;
  return smallestImpedance === undefined
    ? groups.reduce((least, { load }) => Math.min(least, load), Infinity)
    : smallestImpedance / RATED_SHARE;
}

/** Hz: the goal's band, as far as all of its places were measured. */
export function reached({ drivers }: Loudspeaker, { band, places }: Goal): { readonly from: number; readonly to: number } {
  const named = (pressure: { readonly azimuth: number; readonly elevation: number }) =>
    places.some((place) => sameDirection(place, pressure));
  const all = drivers.flatMap(({ pressures }) => pressures.filter(named).map(({ response }) => response.frequencies));
  return {
    from: Math.max(band.from, ...all.map((own) => own.find((frequency) => frequency > 0) ?? Infinity)),
    to: Math.min(band.to, ...all.map((own) => own[own.length - 1]!)),
  };
}

/** Hz: where networks are compared first, where the goal states no frequencies. */
export function searchedAt(caller: string, box: Loudspeaker, goal: Goal): Float64Array {
  const { from, to } = reached(box, goal);
  const grid = anchoredGrid({ from, to }, PER_OCTAVE);
  if (grid.length > 2) return grid;
  throw new DividingNetworkError(
    "outside-band",
    `${caller}: "goal.band", ${hertz(goal.band.from)} to ${hertz(goal.band.to)}, must share half an octave with what every driver was measured over`,
    "State a band within the measurements, or measure a wider one",
  );
}
