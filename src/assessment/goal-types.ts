import type { Length, Resistance, FrequencyBand } from "../quantity";
import type { Band } from "./band";
import type { Derating, GoalAmplifier, GoalAmplifierOptions } from "./goal-amplifier";
import type { Intention, IntentionOptions } from "./intention";
import type { Partner, PartnerOptions } from "./partner";

/** A place at which the sound is to reach its target. */
export interface GoalPlace {
  /** Degrees, positive towards the loudspeaker's own left. */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
  /** How much it counts, dimensionless, above 0. */
  readonly weight: number;
  /** dB re 20 µPa at 1 kHz of this place's own target; absent: the goal's. */
  readonly levelDb?: number;
  /** dB per octave of this place's own target; absent: the goal's. */
  readonly slopeDbPerOctave?: number;
}

/** What a loudspeaker is meant to do: the one measure of verdict, fit and search. */
export interface Goal {
  /** Hz: what is judged. */
  readonly band: Band;
  /** Whether the band was asked for; otherwise it may be cut to what was measured. */
  readonly bandStated: boolean;
  /** Hz: where stated, the loss is a mean over these, with plain levels. */
  readonly frequencies?: Float64Array;
  /** m; absent: the nearest at which the axis was measured; without any, the nearest at which all of the goal's places were. */
  readonly distance?: number;
  /** dB re 20 µPa at 1 kHz, for 2.83 V at the distance; absent: free. */
  readonly levelDb?: number;
  /** dB per octave, 0 unless stated. */
  readonly slopeDbPerOctave: number;
  /** A curve on top of level and slope: Hz and dB. */
  readonly curve?: {
    /** Hz. */
    readonly frequencies: Float64Array;
    /** dB. */
    readonly levelDb: Float64Array;
  };
  /** dB to either side of the target, for third-octave levels. Default 3 dB: what data sheets usually state (common practice, no source). */
  readonly corridorDb: number;
  /** Where the sound is to reach its target. */
  readonly places: readonly GoalPlace[];
  /** dB that a new network may lose against the one found. Default 3 dB (choice, no source): a free level buys flatness with loudness. */
  readonly largestLevelLossDb: number;
  /** dB re 20 µPa: the least mean level; absent: none. */
  readonly leastLevelDb?: number;
  /**
   * dB above the target that the level may reach outside the judged band, as far as data are trusted, by powers over a third of an octave. Default 3 dB (choice, no source): what the
   * corridor allows inside, so that no hump is bought below the band for flatness within it.
   */
  readonly largestHumpDb: number;
  /** What the amplifier bears (Ω), and the level at which ratings are checked (V or W). By default it bears 80 % of the rated impedance, the rule of IEC 60268-5 as remembered, not verified. */
  readonly amplifier: GoalAmplifier;
  /** Which share of a part's rating may be used, by watts, volts and amperes; dimensionless. Beyond the whole rating is a danger, beyond this share a limit not kept. */
  readonly derating: Derating;
  /**
   * By driver: dB by which its voltage at its own resonance is to lie below its passband's; `"not spared"` where that is nobody's matter.
   * A tweeter's default is 12 dB: second order an octave above its resonance (common practice, no source).
   */
  readonly drivers: Readonly<Record<string, number | "not spared">>;
  /** How a woofer's resonance is to be damped; limits hold only where stated, since no rule is known that fits every loudspeaker. They explain, and do not vote. */
  readonly damping: {
    /** Q of a woofer at its resonance, dimensionless. */
    readonly largestQ?: number;
    /** Ω that it may see instead of an ideal source: network, cable and amplifier. */
    readonly largestSourceResistance?: number;
  };
  /** What is heard beside the network. */
  readonly partner?: Partner;
  /** What pairs of branches are meant to do. */
  readonly intentions: readonly Intention[];
  /** `"stated"`: only the limits that were stated hold. */
  readonly limits: "default" | "stated";
  /** Which limits were stated, by name. */
  readonly stated: readonly string[];
}

/** What `goal` takes; everything has a default. */
export interface GoalOptions {
  /** Hz; default 300 Hz to 10 kHz, cut to what was measured. */
  readonly band?: FrequencyBand | undefined;
  /** Hz, strictly ascending: the loss is then a mean over these, each counting the same, with plain levels. */
  readonly frequencies?: ArrayLike<number> | undefined;
  /** m; default the nearest at which the axis was measured; without any, the nearest at which all of the goal's places were. */
  readonly distance?: Length | undefined;
  /** dB re 20 µPa at 1 kHz for 2.83 V; default free. */
  readonly levelDb?: number | undefined;
  /** dB per octave; default 0. */
  readonly slopeDbPerOctave?: number | undefined;
  /** dB on top of level and slope, over Hz. */
  readonly curve?:
    | {
        /** Hz. */
        readonly frequencies: ArrayLike<number>;
        /** dB. */
        readonly levelDb: ArrayLike<number>;
      }
    | undefined;
  /** dB to either side; default 3 dB. */
  readonly corridorDb?: number | undefined;
  /** Degrees and weights; default the axis alone. */
  readonly places?:
    | readonly {
        /** Degrees, positive towards the loudspeaker's own left; default 0°. */
        readonly azimuth?: number | undefined;
        /** Degrees, positive up; default 0°. */
        readonly elevation?: number | undefined;
        /** How much it counts, dimensionless; default 1. */
        readonly weight?: number | undefined;
        /** dB re 20 µPa. */
        readonly levelDb?: number | undefined;
        /** dB per octave of this place's own target. */
        readonly slopeDbPerOctave?: number | undefined;
      }[]
    | undefined;
  /** dB against the network found; default 3 dB. */
  readonly largestLevelLossDb?: number | undefined;
  /** dB re 20 µPa, mean over the band; default none. */
  readonly leastLevelDb?: number | undefined;
  /** dB above the target, outside the judged band as far as data are trusted; default 3 dB. */
  readonly largestHumpDb?: number | undefined;
  /** Ω; default 80 % of the rated impedance, and no limit of peak dissipation. V or W of its largest sine, and what it plays: default not stated, and then no rating is checked. */
  readonly amplifier?: GoalAmplifierOptions | undefined;
  /** Which share of a part's rating may be used, dimensionless; default 0.5 of watts, 0.8 of volts and amperes. */
  readonly derating?:
    | {
        /** Of watts of resistors and L-pads, dimensionless; default 0.5. */
        readonly power?: number | undefined;
        /** Of volts of capacitors, dimensionless; default 0.8. */
        readonly voltage?: number | undefined;
        /** Of amperes of coils, dimensionless; default 0.8. */
        readonly current?: number | undefined;
      }
    | undefined;
  /** dB at the driver's resonance below its passband, by driver's name; default 12 dB for tweeters. */
  readonly drivers?: Readonly<Record<string, number | "not spared">> | undefined;
  /** Dimensionless and Ω: what a woofer's Q, and the source resistance that it sees, may come to; default no limits. */
  readonly damping?:
    | {
        /** Q of a woofer at its resonance, dimensionless. */
        readonly largestQ?: number | undefined;
        /** Ω that it may see instead of an ideal source. */
        readonly largestSourceResistance?: Resistance | undefined;
      }
    | undefined;
  /** What plays beside: pressures in Pa for 2.83 V, or the high-pass that the target then carries. */
  readonly partner?: PartnerOptions | undefined;
  /** Per pair of branches, what is meant; default nothing. */
  readonly intentions?: readonly IntentionOptions[] | undefined;
  /** Whether limits that aren't stated hold; default `"default"`. */
  readonly limits?: "default" | "stated" | undefined;
}
