import type { Issue } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
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

/** A measured file that was read. */
export interface LoadedFile {
  /** Relative to the project file's folder. */
  readonly path: string;
  /** Where the project names it. */
  readonly where: string;
  /** What it is of: a driver's name, or `"loudspeaker"`. */
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

/** A project with its measured files: the loudspeaker with the network as found and with the one proposed. */
export interface LoadedProject {
  /** The project file as read. */
  readonly project: Project;
  /** With the network as found. */
  readonly found: Loudspeaker;
  /** With the proposed network. */
  readonly proposed: Loudspeaker;
  /** The whole loudspeaker as found; `impedance` in Ω. */
  readonly measured: {
    /** Pa, place by place. */
    readonly pressures: readonly MeasuredLoudspeakerPressure[];
    /** Ω at its terminals; absent when it wasn't measured. */
    readonly impedance?: FrequencyResponse;
  };
  /** Every file that was read. */
  readonly files: readonly LoadedFile[];
  /** What a reader should know: defaults taken, how files were read, what can't be done with these data. */
  readonly notes: readonly Issue[];
}
