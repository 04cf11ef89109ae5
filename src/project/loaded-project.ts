import type { GoalOptions, PairHalf } from "../assessment";
import type { RobustOptions } from "../design";
import type { Issue } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import type { Stock } from "../parts";
import type { Point } from "../physics";
import type { FrequencyResponse } from "../response";
import type { Project } from "./project-types";

/** What was measured of the whole loudspeaker, as found, at one place. */
export interface MeasuredLoudspeakerPressure {
  /** m, from the rotation centre to the microphone. */
  readonly distance: number;
  /** Degrees, positive towards the loudspeaker's own left. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** m. */
  readonly rotationCentre: Point;
  /** Pa, for `voltage`. */
  readonly response: FrequencyResponse;
  /** V rms, the amplifier's open-circuit voltage. */
  readonly voltage: number;
  /** Whether its phase counts from the instant that all measurements share. */
  readonly timed: boolean;
  /** The file's path. */
  readonly label: string;
}

/** The delay of one driver against the others at one place, fitted to the whole as measured there. */
export interface FittedTimeZero {
  /** Whose phase was shifted. */
  readonly driver: string;
  /** m. */
  readonly distance: number;
  /** Degrees, positive towards the loudspeaker's own left. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** s: how much later it arrives than its own phase says. */
  readonly delay: number;
  /** s: one standard deviation, from the misfit. */
  readonly delayUncertainty: number;
  /** m: the part of it that was fitted, beyond the bulk delays of both. */
  readonly offset: number;
  /** m: one standard deviation. */
  readonly offsetUncertainty: number;
  /** What is left, root mean square, as a part of the louder branch; dimensionless. */
  readonly misfit: number;
  /** The next best answer. */
  readonly runnerUp?: {
    /** m of path against the answer. */
    readonly offset: number;
    /** Against the drawing. */
    readonly polarity: "same" | "reversed";
    /** How many times more it leaves, dimensionless. Below 1 it fits better than what is drawn. */
    readonly misfitRatio: number;
  };
}

/** A measured file that was read. */
export interface LoadedFile {
  /** Relative to the project file's folder. */
  readonly path: string;
  /** Where the project names it. */
  readonly where: string;
  /** What it is of: a driver's name, `"loudspeaker"`, `"twin"` or `"partner"`. */
  readonly of: string;
  /** What it holds. */
  readonly quantity: "pressure" | "impedance";
  /** How many points it holds. */
  readonly points: number;
  /** Hz, the lowest frequency in it. */
  readonly from: number;
  /** Hz, the highest frequency in it. */
  readonly to: number;
}

/** A project with its measured files: the loudspeaker with the network as found, with the one proposed, and with a third where there is one. */
export interface LoadedProject {
  /** The project file as read. */
  readonly project: Project;
  /** With the network as found. */
  readonly found: Loudspeaker;
  /** With the proposed network. */
  readonly proposed: Loudspeaker;
  /** With a third network and its name; absent where the project has none. */
  readonly alternative?: {
    /** What its column is called. */
    readonly name: string;
    /** With that network. */
    readonly loudspeaker: Loudspeaker;
  };
  /** The whole loudspeaker as found; `impedance` in Ω. Without the pressures to which a time zero was fitted: they can't check the model any more. */
  readonly measured: {
    /** Pa, place by place. */
    readonly pressures: readonly MeasuredLoudspeakerPressure[];
    /** Ω at its terminals; absent when it wasn't measured. */
    readonly impedance?: FrequencyResponse;
  };
  /** The project's goal, with the pressures of a partner that was measured, Pa for 2.83 V: for `assess`, `lossOf` and the searches. */
  readonly goal: GoalOptions;
  /** The parts that can be had, SI; absent where the project names no stock. */
  readonly stock?: Stock;
  /** For `redesign`: what parts and drivers deviate by, from `spread` and `redesign` of the project, dB, relative, s. Lots hold drivers alone, since a designed network's parts have other names. */
  readonly robust: RobustOptions;
  /** Left and right as found, for `comparePair`; absent where the other one wasn't measured. */
  readonly pair?: {
    /** Pa and Ω of the left one. */
    readonly left: PairHalf;
    /** Pa and Ω of the right one. */
    readonly right: PairHalf;
    /** Whether they are built as mirror images. */
    readonly mirrored: boolean;
  };
  /** Delays that were fitted, since no common time zero was measured. */
  readonly timeZeros: readonly FittedTimeZero[];
  /** Every file that was read. */
  readonly files: readonly LoadedFile[];
  /** What a reader should know: defaults taken, how files were read, what can't be done with these data. */
  readonly notes: readonly Issue[];
}
