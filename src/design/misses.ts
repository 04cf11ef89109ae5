import type { Goal } from "../assessment";
import {
  dampedAt,
  humpAllowed,
  humpOf,
  knownBand,
  lossEvenIfSilent,
  narrowDips,
  partRatings,
  sourceOf,
  sparedDb,
  woofersOf,
} from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { compile, type Entries } from "../network";
import { equivalentPeakDissipationResistance } from "../parts";
import { magnitude, type FrequencyResponse } from "../response";
import { axisLevelDb, beyondDamping, meanLevelDb, type Limits } from "./limits";

/** How far a network is beyond one limit. */
export interface Miss {
  readonly limit: string;
  /** Above 0 where the limit is broken, relative to what is allowed. */
  readonly by: number;
  readonly says: string;
}

/** What a network breaks of the limits; empty when it keeps them all. Judged by the network's own solution. With `enough` found the rest may be left out: what costs least is looked at first then. */
export function missesOf(box: Loudspeaker, goal: Goal, limits: Limits, enough = Infinity): readonly Miss[] {
  const compiled = compile<Entries>(box.network);
  const load = () => loadMisses(compiled, limits);
  const levels = () => levelMisses(box, goal, limits);
  const hump = () => humpMisses(box, goal, limits);
  const damping = () => dampingMisses(box, limits);
  const sparing = () => sparingMisses(box, compiled, limits);
  const ratings = () => ratingMisses(box, goal, limits);
  if (enough === Infinity) return [load, levels, hump, damping, sparing, ratings].flatMap((check) => check());
  const misses: Miss[] = [];
  for (const check of [load, sparing, damping, levels, hump, ratings]) {
    misses.push(...check());
    if (misses.length >= enough) break;
  }
  return misses;
}

/** The limit, where it is broken. */
function miss(limit: string, by: number, says: string): readonly Miss[] {
  return by > 1e-9 ? [{ limit, by, says }] : [];
}

function loadMisses(
  compiled: ReturnType<typeof compile<Entries>>,
  { load, smallestImpedance, smallestPeakDissipationResistance: peak }: Limits,
): readonly Miss[] {
  if (!(smallestImpedance > 0 || peak > 0)) return [];
  const { impedance } = compiled.sweep(load);
  const dips = narrowDips(compiled, impedance);
  const impedances = dips.length === 0 ? [impedance] : [impedance, compiled.sweep(dips).impedance];
  const leastOf = (of: (impedance: FrequencyResponse) => Float64Array) =>
    impedances.reduce((all, each) => of(each).reduce((a, b) => Math.min(a, b), all), Infinity);
  const least = smallestImpedance > 0 ? leastOf(magnitude) : Infinity;
  const leastPeak = peak > 0 ? leastOf(equivalentPeakDissipationResistance) : Infinity;
  return [
    ...miss(
      "smallestImpedance",
      1 - least / smallestImpedance,
      `|Z| falls to ${least.toPrecision(3)} Ω, at least ${smallestImpedance.toPrecision(3)} Ω is asked for`,
    ),
    ...miss(
      "smallestPeakDissipationResistance",
      1 - leastPeak / peak,
      `the equivalent peak dissipation resistance falls to ${leastPeak.toPrecision(3)} Ω, at least ${peak.toPrecision(3)} Ω is asked for`,
    ),
  ];
}

function levelMisses(box: Loudspeaker, goal: Goal, { leastLevelDb, leastAxisDb }: Limits): readonly Miss[] {
  const below = (level: number, least: number, where: string): readonly Miss[] =>
    level >= least
      ? []
      : miss(
          least === goal.leastLevelDb ? "leastLevelDb" : "largestLevelLossDb",
          Math.max(2e-9, Math.min(10, (least - level) / 6) || 10),
          `the mean level${where} is ${level.toFixed(2)} dB, at least ${least.toFixed(2)} dB is asked for`,
        );
  return [
    ...(leastLevelDb > -Infinity ? below(meanLevelDb(box, goal), leastLevelDb, "") : []),
    ...(leastAxisDb > -Infinity ? below(axisLevelDb(box, goal) ?? -Infinity, leastAxisDb, " on the axis") : []),
  ];
}

function humpMisses(box: Loudspeaker, goal: Goal, { outside, largestHumpDb }: Limits): readonly Miss[] {
  if (outside.rows.length === 0) return [];
  const { aboveDb, insideDb, frequency } = humpOf(box, goal, lossEvenIfSilent(box, goal), outside, largestHumpDb)!;
  return miss(
    "largestHumpDb",
    (aboveDb - humpAllowed(largestHumpDb, insideDb)) / 6,
    `outside the judged band the level lies ${aboveDb.toFixed(2)} dB above the target at ${frequency.toPrecision(3)} Hz, at most ${largestHumpDb.toFixed(2)} dB is asked for where it is no higher inside`,
  );
}

function dampingMisses(box: Loudspeaker, { damped }: Limits): readonly Miss[] {
  if (damped.length === 0) return [];
  return woofersOf(box).flatMap((branch) => {
    const { part } = branch;
    const own = damped.find((each) => each.part === part);
    if (own === undefined) return [];
    const [resistance, reactance] = sourceOf(box, branch, own.frequency);
    const beyond = beyondDamping(own, resistance, reactance);
    const seen = `${part} sees ${resistance.toPrecision(3)} Ω at ${dampedAt(box.network, part, true)?.resonance === own.frequency ? "its resonance, " : ""}${own.frequency.toPrecision(4)} Hz`;
    return [
      ...miss(
        `damping.${part}`,
        Number.isFinite(resistance) || own.largest === Infinity ? beyond.ohms : 10,
        `${seen}, at most ${own.largest.toPrecision(3)} Ω is asked for`,
      ),
      ...(own.q === undefined
        ? []
        : miss(
            `damping.${part}.q`,
            Number.isFinite(beyond.q) ? beyond.q : 10,
            `the Q of ${part} is ${own.q.behind(resistance, reactance).toPrecision(3)} behind what it sees at its resonance, at most ${own.q.largest.toPrecision(3)} is asked for`,
          )),
    ];
  });
}

function sparingMisses(
  { network, sourceImpedance }: Loudspeaker,
  compiled: ReturnType<typeof compile<Entries>>,
  { spared, drive }: Limits,
): readonly Miss[] {
  const volts = (part: string, frequencies: ArrayLike<number>) =>
    magnitude(compiled.sweep(frequencies, sourceImpedance === undefined ? {} : { sourceImpedance }).voltage(part));
  return spared.flatMap(({ part, resonance, leastDb }) => {
    const spare = sparedDb((frequencies) => volts(part, frequencies), drive, resonance, knownBand(network));
    return miss(
      `drivers.${part}`,
      (leastDb - spare) / 6,
      `${part} gets ${spare.toFixed(1)} dB less at its resonance, ${resonance.toPrecision(4)} Hz, than in its passband, at least ${leastDb.toFixed(1)} dB is asked for`,
    );
  });
}

/** Parts that have to stand more than they may at the goal's amplifier level: beyond the share of the rating to use or, of stated limits alone, beyond the whole. What has no rating isn't held to one. */
export function ratingMisses(box: Loudspeaker, goal: Goal, { rated }: Limits): readonly (Miss & { readonly part: string })[] {
  if (rated === undefined) return [];
  return partRatings(box, goal, rated.ohms).flatMap(({ name, value, rating, required, sentence }) => {
    const asked = rated.share === "allowed" ? required : value;
    return rating !== undefined && asked > rating ? [{ limit: `ratings.${name}`, part: name, by: asked / rating - 1, says: sentence }] : [];
  });
}
