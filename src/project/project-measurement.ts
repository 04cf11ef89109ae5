import type { ProjectBand, ProjectPoint } from "./project-place";

/** One file of a pressure measurement, with the direction of its microphone. */
export interface PressureFile {
  /** Degrees, positive towards the loudspeaker's own left. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** Path relative to the project file's folder. */
  readonly file: string;
  /** s: this file's delay, in place of the measurement's `timeZero.delay`. */
  readonly delay?: number;
}

/** Measured sound pressures of a driver, or of the whole loudspeaker, at one distance. */
export interface PressureMeasurement {
  /** A driver's name; `"loudspeaker"`: the whole, through the network as found; `"twin"`: the other one of the pair, as found; `"partner"`: what plays beside it, a subwoofer or a second amplifier's channel. */
  readonly of: string;
  /** Marks a measurement of sound pressure. */
  readonly quantity: "pressure";
  /** dB re 20 µPa with or without degrees, or parts in Pa. */
  readonly columns: "db-degrees" | "db" | "re-im";
  /** `voltage` in V rms, at the driver's own terminals or at the input of the network as found (open-circuit voltage of the amplifier). */
  readonly drive: {
    /** V rms. */
    readonly voltage: number;
    /** Where it stood. */
    readonly at: "terminals" | "input";
  };
  /** m, from the rotation centre to the microphone. */
  readonly distance: number;
  /** m. */
  readonly rotationCentre: ProjectPoint;
  /** One of: `common` (whether phase counts from the instant that all measurements share), `delay` in s (it counts from an instant so much later). */
  readonly timeZero: {
    /** Whether phase counts from the instant that all measurements share. */
    readonly common?: boolean;
    /** s: how much later than that instant. */
    readonly delay?: number;
  };
  /** `length` in s; absent when the measurement was not gated. */
  readonly gate?: {
    /** s. */
    readonly length: number;
  };
  /** Hz. */
  readonly trusted: ProjectBand;
  /** Where the files were joined from a near field below and the microphone's distance above. */
  readonly nearField?: {
    /** Hz: where the one takes over from the other. */
    readonly below: number;
    /** Into which space the low part was carried: half of it (a wall), or the whole with the step of the baffle. */
    readonly space?: "half" | "full";
    /** m: the baffle whose step was counted in. */
    readonly baffle?: {
      /** m. */
      readonly width: number;
      /** m. */
      readonly height: number;
    };
  };
  /** `"none"`, or a width such as `"1/24 octave"`. */
  readonly smoothing: string;
  /** The files hold no phase: take the minimum phase, marked as a model. */
  readonly minimumPhase?: boolean;
  /** With `minimumPhase`: fall beyond the data in dB per octave, towards low and towards high frequencies. */
  readonly slopes?: {
    /** dB per octave, towards low frequencies. */
    readonly low?: number;
    /** dB per octave, towards high frequencies. */
    readonly high?: number;
  };
  /** One for each direction. */
  readonly files: readonly PressureFile[];
}

/** The measured impedance of the whole loudspeaker, through its network as found. */
export interface ImpedanceMeasurement {
  /** The whole as found, or the other one of the pair as found. */
  readonly of: "loudspeaker" | "twin";
  /** Marks a measurement of impedance. */
  readonly quantity: "impedance";
  /** After the frequency in Hz: |Z| in Ω and degrees, or parts in Ω. */
  readonly columns: "ohm-degrees" | "re-im";
  /** Hz; absent: all of it. */
  readonly trusted?: ProjectBand;
  /** `"none"`, or a width such as `"1/24 octave"`. */
  readonly smoothing?: string;
  /** One file. */
  readonly files: readonly {
    /** Path relative to the project file's folder. */
    readonly file: string;
  }[];
}

/** A measurement with the facts without which it can't be used. */
export type ProjectMeasurement = PressureMeasurement | ImpedanceMeasurement;
