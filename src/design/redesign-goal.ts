import { goalOf, anchoredGrid, knownBand, RATED_SHARE } from "../assessment/internal";
import type { Goal } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { compile, type Entries } from "../network";
import { magnitude } from "../response";
import type { Group } from "./topologies";

/** The goal with a load to keep where nothing is said of it: the loudspeaker's as given or, where that is less, 80 % of the least that a group of drivers has by itself. */
export function withLoad(box: Loudspeaker, groups: readonly Group[], goal: Goal, ratedImpedance: unknown): Goal {
  if (goal.limits === "stated" || ratedImpedance !== undefined || goal.amplifier.smallestImpedance !== undefined) return goal;
  const own = magnitude(compile<Entries>(box.network).sweep(anchoredGrid(knownBand(box.network), 48)).impedance);
  const least = own.reduce((a, b) => Math.min(a, b), groups.reduce((a, { load }) => Math.min(a, RATED_SHARE * load), Infinity));
  return least > 0 ? goalOf({ ...goal, amplifier: { ...goal.amplifier, smallestImpedance: least * (1 - 1e-9) } }) : goal;
}

/** Hz: the goal's band, as far as everything was measured. */
export function reached({ drivers }: Loudspeaker, { band }: Goal): { readonly from: number; readonly to: number } {
  const all = drivers.flatMap(({ pressures }) => pressures.map(({ response }) => response.frequencies));
  return { from: Math.max(band.from, ...all.map((own) => own.find((frequency) => frequency > 0) ?? Infinity)), to: Math.min(band.to, ...all.map((own) => own[own.length - 1]!)) };
}
