import type { Limits } from "./limits";
import type { Miss } from "./misses";

/** dB of a miss in levels: misses count sixths of a decibel's sixfold, see `misses`. */
const DB = 6;
/** How much further than a miss a limit moves. */
const BEYOND = 1.05;
/** Relative: what a limit moves by at least. */
const LEAST = 1e-6;

/** Limits that a fit is held to instead, so that what it misses of the true ones, between the points at which it looks at them, is made up for. */
export function tightened(limits: Limits, misses: readonly Miss[]): Limits {
  const by = (name: string) => misses.reduce((most, miss) => (miss.limit === name ? Math.max(most, BEYOND * miss.by + LEAST) : most), 0);
  const level = Math.max(by("leastLevelDb"), by("largestLevelLossDb")) * DB;
  return {
    ...limits,
    smallestImpedance: limits.smallestImpedance * (1 + by("smallestImpedance")),
    smallestPeakDissipationResistance: limits.smallestPeakDissipationResistance * (1 + by("smallestPeakDissipationResistance")),
    leastLevelDb: limits.leastLevelDb + level,
    leastAxisDb: limits.leastAxisDb + level,
    largestHumpDb: limits.largestHumpDb - DB * by("largestHumpDb"),
    spared: limits.spared.map((one) => ({ ...one, leastDb: one.leastDb + DB * by(`drivers.${one.part}`) })),
    damped: limits.damped.map((one) => ({
      ...one,
      largest: one.largest === Infinity ? Infinity : Math.max(0, one.largest - (one.largest + 1) * by(`damping.${one.part}`)),
      ...(one.q === undefined ? {} : { q: { ...one.q, largest: one.q.largest / (1 + by(`damping.${one.part}.q`)) } }),
    })),
  };
}
