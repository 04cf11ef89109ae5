import { hertz } from "../quantity/internal";
import type { Load } from "./load";
import type { Quality } from "./quality";
import type { Ratings } from "./ratings";

/** What could do harm: one of them, and the network isn't fit to be connected. */
export interface Danger {
  /** Stable, kebab-case. */
  readonly code: "load" | "peak-dissipation" | "unprotected-driver" | "part-rating" | "driver-rating";
  /** In words. */
  readonly sentence: string;
  /** Ω, dB, W, V, A or m, as found. */
  readonly value: number;
  /** Ω or dB: what it must be at least. W, V, A or m: what it may be at most, the whole rating. */
  readonly limit: number;
  /** Of `value` and `limit`. */
  readonly unit: "Ω" | "dB" | "W" | "V" | "A" | "m";
}

/** A driver whose voltage at its resonance is not even this much below its passband's has no protection. */
const UNPROTECTED_DB = 3;

/** The dangers of one network. */
export function dangersOf(quality: Quality, load: Load, ratings: Ratings): readonly Danger[] {
  const dangers: Danger[] = [];
  const { minimum, limit, peakDissipation, peakDissipationLimit } = quality.load;
  if (limit !== undefined && minimum < limit) {
    dangers.push({
      code: "load",
      value: minimum,
      limit,
      unit: "Ω",
      sentence: `The load falls to ${minimum.toFixed(2)} Ω at ${hertz(load.minimumFrequency)}, and the amplifier bears ${limit.toFixed(2)} Ω at least`,
    });
  }
  if (peakDissipationLimit !== undefined && peakDissipation < peakDissipationLimit) {
    dangers.push({
      code: "peak-dissipation",
      value: peakDissipation,
      limit: peakDissipationLimit,
      unit: "Ω",
      sentence: `The amplifier's peak dissipation is that of ${peakDissipation.toFixed(2)} Ω, and it bears that of ${peakDissipationLimit.toFixed(2)} Ω at least`,
    });
  }
  for (const { driver, resonance, belowDb, limitDb } of quality.spared) {
    const limit = Math.min(UNPROTECTED_DB, limitDb);
    if (belowDb === undefined || resonance === undefined || belowDb >= limit) continue;
    dangers.push({
      code: "unprotected-driver",
      value: belowDb,
      limit,
      unit: "dB",
      sentence: `The ${driver} is not protected: at its resonance, ${hertz(resonance)}, it gets ${belowDb < 0 ? `${(-belowDb).toFixed(1)} dB more than` : `only ${belowDb.toFixed(1)} dB less than`} in its passband, where its excursion is the limit`,
    });
  }
  for (const { code, value, rating, unit, state, sentence } of ratings.checks) {
    if (state === "beyond its rating" && rating !== undefined) dangers.push({ code, value, limit: rating, unit, sentence });
  }
  return Object.freeze(dangers.map((danger) => Object.freeze(danger)));
}
