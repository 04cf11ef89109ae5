import type { Assessment } from "./assessment-data";
import type { Cause } from "./cause";
import type { Finding } from "./finding-data";
import type { ModelCheck } from "./model-check";
import type { Judgement } from "./judgement";
import type { Band } from "./band";
import type { Suspect } from "./suspects/groups";
import type { Mark } from "../response";

/** Before against after. */
export interface Comparison {
  /** The loudspeaker with the network as found. */
  readonly before: Assessment;
  /** The loudspeaker with the new network. */
  readonly after: Assessment;
  /** What was measured of the whole, against the model; absent when nothing was. */
  readonly model?: ModelCheck;
  /** Hz: the crossover of the loudspeaker after; absent when it has a single branch. */
  readonly crossover?: number;
  /** Rows of numbers, before and after: they explain, and do not vote. */
  readonly findings: readonly Finding[];
  /** What it comes to. */
  readonly verdict: Judgement;
  /** What takes the level, in dB, where the new network is quieter than the goal allows; absent where it isn't. */
  readonly levelLoss?: Cause;
}

/** How left and right differ at one place: left less right, of third-octave power levels for equal voltages. */
export interface PairDifference {
  /** m. */
  readonly distance: number;
  /** Degrees, of the left one. */
  readonly azimuth: number;
  /** Degrees. */
  readonly elevation: number;
  /** Hz: what both cover; without what is coarse in either, unless a band was asked for or nothing else is left. */
  readonly band: Band;
  /** What must be known of the data in that band. */
  readonly marks: readonly Mark[];
  /** dB: mean over log frequency, the balance between the two. */
  readonly meanDb: number;
  /** dB: root mean square about that mean, the difference in colour. */
  readonly spreadDb: number;
  /** dB: the largest difference, with its sign. */
  readonly worstDb: number;
  /** Hz, where it is. */
  readonly worstFrequency: number;
}

/** Left against right of a pair, as found. */
export interface PairComparison {
  /** Each place at which both were measured. */
  readonly places: readonly PairDifference[];
  /** How the impedances differ; absent where not both were measured. */
  readonly impedance?: {
    /** Root mean square of the difference's magnitude over the mean magnitude, dimensionless; at most 2. */
    readonly part: number;
    /** The largest such part, dimensionless. */
    readonly worst: number;
    /** Hz, where it is. */
    readonly worstFrequency: number;
  };
  /** Whether both differ by no more than repeated measurements of one may: root mean square by `repeatability`, the largest level by three times that. */
  readonly alike: boolean;
  /** What may be wrong in each, by the drawing of one; empty where nothing is, or no drawing was given. */
  readonly suspects: {
    /** In the left one. */
    readonly left: readonly Suspect[];
    /** In the right one. */
    readonly right: readonly Suspect[];
  };
  /** In words. */
  readonly sentence: string;
}
