import type { Prediction } from "../loudspeaker";
import type { Mark } from "../response";
import type { Band } from "./band";
import type { BassDamping } from "./bass";
import type { Cause } from "./cause";
import type { Danger } from "./dangers";
import type { Goal } from "./goal-types";
import type { Handover } from "./handover";
import type { Intention } from "./intention";
import type { Load } from "./load";
import type { OffAxisChange, SideDifference } from "./off-axis";
import type { Quality } from "./quality";
import type { Ratings } from "./ratings";
import type { RisingBranch } from "./rising-branches";
import type { SensitivityLevels } from "./sensitivity-levels";
import type { Smoothness } from "./smoothness";

/** The numbers by which one loudspeaker is judged. */
export interface Assessment {
  /** Of a network whose names the types no longer know: assessments of different networks are compared. */
  readonly prediction: Prediction;
  /** Ω. */
  readonly ratedImpedance: number;
  /** What it was judged by. */
  readonly goal: Goal;
  /** By the goal: what the verdict rests on. */
  readonly quality: Quality;
  /** What could do harm. */
  readonly dangers: readonly Danger[];
  /** What parts and drivers have to stand at the amplifier's level, against what they are rated for; and what can't be checked. */
  readonly ratings: Ratings;
  /** m. */
  readonly distance: number;
  /** Hz: where smoothness was judged. */
  readonly band: Band;
  /** Hz: where sensitivity was averaged. */
  readonly sensitivityBand: Band;
  /** dB re 20 µPa on the axis at `distance`. */
  readonly sensitivity: SensitivityLevels;
  /** How even the response on the axis is, dB and dB per octave. */
  readonly smoothness: Smoothness;
  /** Each pair of neighbouring branches, from low to high, and each other pair that is heard together: within 10 dB of the sum where both are equally loud, or meant by the goal. */
  readonly handovers: readonly (Handover & {
    /** Part of the lower branch. */
    readonly lower: string;
    /** Part of the upper branch. */
    readonly upper: string;
    /** What the goal says of this pair. */
    readonly meant?: Intention;
  })[];
  /** Why each side of the goal that isn't kept isn't: on the axis stretch by stretch, off it the worst place of each plane, whose current makes the load, what the network gives a driver at its resonance. They explain, and do not vote. */
  readonly causes: readonly Cause[];
  /** Branches whose voltage rises above the source's, and what resonates there. */
  readonly rising: readonly RisingBranch[];
  /** How the network damps each woofer at its resonance: Ω, Q and dB. */
  readonly bass: readonly BassDamping[];
  /** Limits that the goal states and that can't be held against anything known here, in words, each with why: neither kept nor broken. */
  readonly limitsNotChecked: readonly string[];
  /** dB: how the level off the axis differs from that on it, direction by direction. */
  readonly offAxis: readonly OffAxisChange[];
  /** dB: how left and right differ, angle by angle. */
  readonly sides: readonly SideDifference[];
  /** The impedance that the amplifier sees, Ω and degrees. */
  readonly load: Load;
  /** How the response on the axis changes with distance: against each other measured distance, dB standard deviation of the level difference. */
  readonly distances: readonly {
    /** m: the other distance. */
    readonly distance: number;
    /** dB: standard deviation of the level difference. */
    readonly spreadDb: number;
  }[];
  /** What must be known of the data behind all this. */
  readonly marks: readonly Mark[];
}
