import type { ProjectBand } from "./project-place";

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
