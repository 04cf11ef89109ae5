import type { DriverRole } from "../loudspeaker";
import type { PartJSON } from "../network";

/** A place or a point in metres: x towards the listener, y to the loudspeaker's own left, z up. */
export interface ProjectPoint {
  /** m, towards the listener. */
  readonly x: number;
  /** m, to the loudspeaker's own left. */
  readonly y: number;
  /** m, up. */
  readonly z: number;
}

/** A band of frequencies. */
export interface ProjectBand {
  /** Hz, above 0. */
  readonly from: number;
  /** Hz, above `from`. */
  readonly to: number;
}

/** An impedance curve in a file beside the project. */
export interface ImpedanceFile {
  /** Path relative to the project file's folder. */
  readonly file: string;
  /** After the frequency in Hz: |Z| in Ω and degrees, or parts in Ω. */
  readonly columns: "ohm-degrees" | "re-im";
}

/** What moves a driver's cone, in its enclosure: `re` with `bl`, `mms`, `cms` and `rms`, or with `fs`, `qms`, `qes` and one of `bl` and `mms`. */
export interface ProjectMotion {
  /** Ω: resistance of the voice coil. */
  readonly re: number;
  /** H: its inductance. */
  readonly le?: number;
  /** T·m: force factor. */
  readonly bl?: number;
  /** kg: moving mass with its air load. */
  readonly mms?: number;
  /** m/N: compliance of suspension and enclosure together. */
  readonly cms?: number;
  /** N·s/m: mechanical losses. */
  readonly rms?: number;
  /** Hz: resonance in the enclosure. */
  readonly fs?: number;
  /** Mechanical Q there, dimensionless. */
  readonly qms?: number;
  /** Electrical Q there, dimensionless. */
  readonly qes?: number;
}

/** A driver: its place and the file of its impedance, or the driver whose measurements it shares. */
export interface ProjectDriver {
  /** Also the designator of its part in the networks. */
  readonly name: string;
  /** m. */
  readonly position: ProjectPoint;
  /** The measured impedance; absent with `sameAs`. */
  readonly impedance?: ImpedanceFile;
  /** Absent with `sameAs`, where the other's holds. */
  readonly role?: DriverRole;
  /** Name of the driver whose impedance and pressures stand for this one's too. */
  readonly sameAs?: string;
  /** What moves its cone; absent: not known, or, with `sameAs`, the other's. */
  readonly motion?: ProjectMotion;
  /** What it may stand; absent likewise. */
  readonly ratings?: {
    /** W of heat, kept up for long. */
    readonly power?: number;
    /** m: the largest excursion to one side. */
    readonly excursion?: number;
  };
}

/** A part of a network with the nodes at its terminals, values in SI. A driver's impedance stands under `drivers`. */
export type ProjectPart = PartJSON<number>;

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

/** A network as it stands in a project file. */
export interface ProjectNetwork {
  /** Every part, with its nodes. */
  readonly parts: readonly ProjectPart[];
}

/** A project file after checking: plain frozen data, all quantities in SI. */
export interface Project {
  /** Of the file's format. */
  readonly version: 1;
  /** What the loudspeaker is called. */
  readonly name: string;
  /** What it is, in a sentence or two. */
  readonly description?: string;
  /** Ω. */
  readonly ratedImpedance: number;
  /** `temperature` in °C, relative `humidity` in % (absent: dry), `pressure` in Pa (absent: 101 325); absent: dry air at 20 °C. */
  readonly air?: {
    /** °C. */
    readonly temperature: number;
    /** % relative; absent: dry. */
    readonly humidity?: number;
    /** Pa; absent: 101 325. */
    readonly pressure?: number;
  };
  /** Ω and H: what stands between the ideal source and the loudspeaker's terminals. */
  readonly amplifier: {
    /** Ω: of the amplifier. */
    readonly outputResistance: number;
    /** Ω: both ways. */
    readonly cableResistance: number;
    /** H: of the cable. */
    readonly cableInductance: number;
  };
  /** Each driver, with its place and impedance. */
  readonly drivers: readonly ProjectDriver[];
  /** What was measured, and how. */
  readonly measurements: readonly ProjectMeasurement[];
  /** The networks that are compared. */
  readonly networks: {
    /** The network as found. */
    readonly found: ProjectNetwork;
    /** The network proposed. */
    readonly proposed: ProjectNetwork;
    /** A third one, in a column of its own: another proposal, say. */
    readonly alternative?: ProjectNetwork & {
      /** What the column is called. */
      readonly name: string;
    };
  };
  /** How the loudspeaker and its twin make a pair; with measurements of the twin alone. */
  readonly pair?: {
    /** Which of the two the project's drivers and networks are of; absent: the left one. */
    readonly measured?: "left" | "right";
    /** Whether they are built as mirror images; absent: no. */
    readonly mirrored?: boolean;
  };
  /** What the loudspeaker is meant to do: see `goal`; Hz, m, dB, degrees, Ω. `{ band }` alone is enough. */
  readonly goal?: ProjectGoal;
  /** What of drivers and parts scatters, beside the tolerances that parts state: see `spread`; dB, relative, s. */
  readonly spread?: ProjectSpread;
  /** The file of the parts that can be had: a table, or JSON where its name ends in `.json`. */
  readonly stock?: string;
  /** Windings of coils of the proposed network, and their board, m: the build sheet then says where each of them stands. */
  readonly coils?: ProjectCoils;
}

/** Coils that are placed by computation. */
export interface ProjectCoils {
  /** m. */
  readonly board: {
    /** m. */
    readonly width: number;
    /** m. */
    readonly depth: number;
  };
  /** By designator: turns, and lengths in m. */
  readonly windings: Readonly<
    Record<
      string,
      {
        /** A count, need not be whole. */
        readonly turns: number;
        /** m, from the axis to the middle of the section. */
        readonly meanRadius: number;
        /** m, along the axis. */
        readonly length: number;
        /** m, from the innermost to the outermost turn. */
        readonly depth: number;
      }
    >
  >;
}

/** The goal as a project file states it; everything but what is wanted may be left out. */
export interface ProjectGoal {
  /** Hz. */
  readonly band?: ProjectBand;
  /** Hz. */
  readonly frequencies?: readonly number[];
  /** m. */
  readonly distance?: number;
  /** dB re 20 µPa at 1 kHz. */
  readonly levelDb?: number;
  /** dB per octave. */
  readonly slopeDbPerOctave?: number;
  /** dB. */
  readonly corridorDb?: number;
  /** Degrees, weights, dB. */
  readonly places?: readonly {
    /** Degrees, positive towards the loudspeaker's own left. */
    readonly azimuth?: number;
    /** Degrees, positive up. */
    readonly elevation?: number;
    /** Dimensionless. */
    readonly weight?: number;
    /** dB re 20 µPa at 1 kHz. */
    readonly levelDb?: number;
    /** dB per octave. */
    readonly slopeDbPerOctave?: number;
  }[];
  /** dB. */
  readonly largestLevelLossDb?: number;
  /** dB re 20 µPa. */
  readonly leastLevelDb?: number;
  /** dB above the target, outside the judged band. */
  readonly largestHumpDb?: number;
  /** Ω. */
  readonly amplifier?: {
    /** Ω: the least |Z|. */
    readonly smallestImpedance?: number;
    /** Ω: the least resistance that dissipates as much at its peak. */
    readonly smallestPeakDissipationResistance?: number;
    /** V rms of its largest sine; or `power`. */
    readonly voltage?: number;
    /** W of its largest sine into the rated impedance; or `voltage`. */
    readonly power?: number;
    /** What it plays: by name, or levels in dB over Hz. */
    readonly spectrum?:
      | "sine"
      | "pink"
      | "programme"
      | {
          /** Hz. */
          readonly frequencies: readonly number[];
          /** dB. */
          readonly levelDb: readonly number[];
        };
    /** The signal's peak over its rms, dimensionless. */
    readonly crestFactor?: number;
  };
  /** Which share of a part's rating may be used, dimensionless. */
  readonly derating?: {
    /** Of watts. */
    readonly power?: number;
    /** Of volts. */
    readonly voltage?: number;
    /** Of amperes. */
    readonly current?: number;
  };
  /** On top of level and slope: Hz and dB. */
  readonly curve?: {
    /** Hz. */
    readonly frequencies: readonly number[];
    /** dB. */
    readonly levelDb: readonly number[];
  };
  /** What pairs of branches are meant to do. */
  readonly intentions?: readonly {
    /** Part of the lower branch. */
    readonly lower: string;
    /** Part of the upper branch. */
    readonly upper: string;
    /** Acoustic order of both slopes, dimensionless. */
    readonly order: number;
    /** Acoustic family of both slopes. */
    readonly family?: "butterworth" | "linkwitz-riley" | "bessel" | "chebyshev" | "legendre-papoulis" | "critically-damped";
    /** dB: of a Chebyshev pair. */
    readonly rippleDb?: number;
    /** Of a Bessel or critically damped pair: what its corner means. */
    readonly normalization?: "delay" | "half-power" | "asymptote";
    /** Hz: where their levels are to be equal. */
    readonly frequency?: number;
  }[];
  /** dB, by driver. */
  readonly drivers?: Readonly<Record<string, number | "not spared">>;
  /** What plays beside, a subwoofer or a second amplifier: the high-pass that the target then carries; or measure it, `of: "partner"`. */
  readonly partner?: {
    /** By its name. */
    readonly highPass: {
      /** By whose name it goes. */
      readonly family: "butterworth" | "linkwitz-riley" | "bessel" | "chebyshev" | "legendre-papoulis" | "critically-damped";
      /** Dimensionless. */
      readonly order: number;
      /** dB: of a Chebyshev one. */
      readonly rippleDb?: number;
      /** Of a Bessel or critically damped one: what its corner means. */
      readonly normalization?: "delay" | "half-power" | "asymptote";
      /** Hz: its corner. */
      readonly frequency: number;
    };
  };
  /** What a woofer's damping may come to. */
  readonly damping?: {
    /** Q of a woofer at its resonance, dimensionless. */
    readonly largestQ?: number;
    /** Ω that it may see instead of an ideal source. */
    readonly largestSourceResistance?: number;
  };
  /** Whether limits that aren't stated hold. */
  readonly limits?: "default" | "stated";
}

/** What scatters, as a project file states it: options of `spread`. Tolerances of single parts stand with the parts. */
export interface ProjectSpread {
  /** By driver. */
  readonly drivers?: Readonly<
    Record<
      string,
      {
        /** ± dB. */
        readonly levelDb?: number;
        /** ± relative, dimensionless. */
        readonly resonance?: number;
        /** ± relative, dimensionless. */
        readonly q?: number;
        /** ± s. */
        readonly delay?: number;
      }
    >
  >;
  /** ± relative of all parts of a kind that state nothing, dimensionless. */
  readonly byKind?: {
    /** Dimensionless. */
    readonly resistor?: number;
    /** Dimensionless. */
    readonly inductor?: number;
    /** Dimensionless. */
    readonly capacitor?: number;
    /** Dimensionless. */
    readonly "l-pad"?: number;
    /** Dimensionless. */
    readonly transformer?: number;
  };
  /** Whether what isn't stated is assumed or exact. */
  readonly unstated?: "assumed" | "exact";
  /** Parts or drivers of one lot. */
  readonly lots?: readonly (readonly string[])[];
  /** Parts or drivers that are alike in left and right. */
  readonly matched?: readonly string[];
  /** How values lie within their tolerance. */
  readonly distribution?: "uniform" | "triangular" | "normal";
  /** How many loudspeakers are drawn, dimensionless. */
  readonly samples?: number;
  /** What the drawing begins with, dimensionless. */
  readonly seed?: number;
  /** dB. */
  readonly largestLossDb?: number;
}
