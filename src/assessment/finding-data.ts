import type { Mark } from "../response";

/** What a finding comes to. */
export type Verdict = "better" | "worse" | "unchanged" | "cannot be decided from these data" | "for information";

/** What a finding is about, for grouping. */
export type Topic = "on the axis" | "crossover" | "off the axis" | "load and drive" | "bass and damping";

/** One number, before and after, with what it should be and why. */
export interface Finding {
  /** Under which heading it belongs. */
  readonly topic: Topic;
  /** Stable, kebab-case. */
  readonly code: string;
  /** What is judged, a few words. */
  readonly subject: string;
  /** The number with the network as found, in `unit`: dB, Ω, Hz, degrees, octaves or dB per octave. */
  readonly before: number;
  /** The number with the new network, in `unit`: dB, Ω, Hz, degrees, octaves or dB per octave. */
  readonly after: number;
  /** Unit of both; "" when dimensionless. */
  readonly unit: string;
  /** Decimals worth printing. */
  readonly decimals: number;
  /** Which way is better. */
  readonly better: "lower" | "higher" | "nearer to zero" | "neither";
  /** What it should be, and why. */
  readonly threshold?: {
    /** The limit, in the finding's own unit. */
    readonly value: number;
    /** On which side of it `after` should be. */
    readonly comparison: "at most" | "at least";
    /** Why, with its standing. */
    readonly reason: string;
  };
  /** Whether `after` keeps the threshold. */
  readonly kept?: boolean;
  /** In the finding's own unit: by how much the model misses what was measured with the network as found. */
  readonly residual?: number;
  /** What `after` is against `before`. */
  readonly verdict: Verdict;
  /** The verdict in one sentence. */
  readonly sentence: string;
  /** What must be known of the data in the band that it judges. */
  readonly marks: readonly Mark[];
}
