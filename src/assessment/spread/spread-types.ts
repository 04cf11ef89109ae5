import type { Distribution, PartTolerance, ToleranceByKind, Yield } from "../../network";
import type { LongWorkOptions } from "../../numeric";
import type { Loudspeaker } from "../../loudspeaker";
import type { Resistance } from "../../quantity";
import type { Band } from "../band";
import type { Goal, GoalOptions } from "../goal-types";
import type { PairSpread } from "./pair-spread";
import type { DriverTolerance } from "./tolerances";

/** What `spread` takes. Tolerances that aren't stated are assumed; `assumed` of the answer names them. */
export interface SpreadOptions extends LongWorkOptions {
  /** The goal, or its options: Hz, m, dB, degrees; default flat on the axis. */
  readonly goal?: Goal | GoalOptions | undefined;
  /** By part: ± relative (0.05 is ±5 %) of its main value, or of each value by name, dimensionless; default what the part itself states. */
  readonly tolerances?: Readonly<Record<string, PartTolerance>> | undefined;
  /** For parts of which nothing is stated, dimensionless; default ±5 % of resistors, coils, capacitors and pads (an assumption). */
  readonly byKind?: ToleranceByKind | undefined;
  /** By driver: level in dB, resonance and Q dimensionless, delay in s; default ±1 dB, ±10 %, ±10 %, ±5 µs (an assumption; choice, no source). */
  readonly drivers?: Readonly<Record<string, DriverTolerance>> | undefined;
  /** `"exact"`: what isn't stated doesn't scatter. Default `"assumed"`. */
  readonly unstated?: "assumed" | "exact" | undefined;
  /** Parts or drivers that come from one lot: they deviate alike. */
  readonly lots?: readonly (readonly string[])[] | undefined;
  /** Parts or drivers that are matched between left and right: alike in both of a pair. */
  readonly matched?: readonly string[] | undefined;
  /** How values lie within their tolerance; default `"uniform"`. `"normal"` takes it for three standard deviations. */
  readonly distribution?: Distribution | undefined;
  /** How many loudspeakers are drawn, 2 … 1,000,000, dimensionless; default 2000. */
  readonly samples?: number | undefined;
  /** A whole number from 0 to 2³² − 1, dimensionless; default 1. */
  readonly seed?: number | undefined;
  /** %, 0 … 100; default 5, 50, 95. */
  readonly percentiles?: readonly number[] | undefined;
  /** dB of loss that a good loudspeaker may have; default 0.5 dB more than as drawn (choice, no source). */
  readonly largestLossDb?: number | undefined;
  /** `"all"`: a sample must keep every limit, whether the loudspeaker as drawn keeps it or not; default `"kept"`. */
  readonly count?: "kept" | "all" | undefined;
  /** Ω: 80 % of it is the least |Z|, unless the goal states another or only stated limits hold. */
  readonly ratedImpedance?: Resistance | undefined;
  /** The loudspeaker as found: its level may not be lost by more than the goal's `largestLevelLossDb`. Default: no such limit. */
  readonly found?: Loudspeaker | undefined;
}

/** A limit that loudspeakers keep or don't. */
export interface SpreadCriterion {
  /** `"loss"`, `"corridor"`, or the name of the goal's limit. */
  readonly name: string;
  /** Of value and limit. */
  readonly unit: "dB" | "Ω";
  /** dB or Ω. */
  readonly limit: number;
  /** dB or Ω, as drawn. */
  readonly nominal: number;
  /** Whether the loudspeaker as drawn keeps it: what it doesn't isn't counted against the others. */
  readonly kept: boolean;
  /** Part of the samples that keep it, dimensionless. */
  readonly share: number;
  /** dB or Ω: the worst sample. */
  readonly worstSample: number;
}

/** What one thing that scatters does to the sound. */
export interface SpreadContribution {
  /** Parts or drivers that deviate alike. */
  readonly of: readonly string[];
  /** `"capacitance"`, `"inductance"`, … of a part; `"levelDb"`, `"resonance"`, `"q"`, `"delay"` of a driver. */
  readonly quantity: string;
  /** ± in `unit`: dB, s, or relative (dimensionless). */
  readonly tolerance: number;
  /** `""`: relative. */
  readonly unit: "" | "dB" | "s";
  /** Whether the tolerance was assumed. */
  readonly assumed: boolean;
  /** dB: standard deviation that it alone gives the levels, root mean square over places and band, to first order; what a free level takes up is left out. */
  readonly effectDb: number;
  /** Part of the whole variance, dimensionless: how much would go if this were exact. */
  readonly share: number;
  /** dB of loss for a deviation by the whole tolerance upwards, to first order. */
  readonly lossSlopeDb: number;
  /** dB: root mean square by which left and right would still differ if this alone were matched between them, to first order. */
  readonly pairIfMatchedDb: number;
  /** Part of the samples that would be good if this were exact, dimensionless; absent where the share is small. */
  readonly yieldIfExact?: number;
}

/** The worst combination for one criterion. */
export interface SpreadCorner {
  /** Which. */
  readonly name: string;
  /** dB or Ω. */
  readonly value: number;
  /** dB or Ω. */
  readonly limit: number;
  /** Of value and limit. */
  readonly unit: "dB" | "Ω";
  /** Whether all corners of the tolerances were looked at, or this is the worst that a search found. */
  readonly searched: "all corners" | "best found";
  /** −1: at the low end of its tolerance, 1: at the high end, dimensionless; in the order in which they were drawn. */
  readonly ends: readonly {
    /** Parts or drivers. */
    readonly of: readonly string[];
    /** As in the ranking. */
    readonly quantity: string;
    /** −1 or 1. */
    readonly end: -1 | 1;
  }[];
}

/** How the level at one place scatters: dB re 20 µPa for 2.83 V, not smoothed. */
export interface SpreadBand {
  /** Degrees. */
  readonly azimuth: number;
  /** Degrees. */
  readonly elevation: number;
  /** Hz: of these curves; fewer than the others' where less was measured here. */
  readonly frequencies: Float64Array;
  /** dB, as drawn, at each frequency. */
  readonly nominal: Float64Array;
  /** dB: one curve for each percentile asked for; good to 0.01 dB from 30 dB below to 12 dB above the nominal level. */
  readonly percentiles: readonly Float64Array[];
}

/** The answer of `spread`: plain data. */
export interface Spread {
  /** How many loudspeakers were drawn. */
  readonly samples: number;
  /** What the drawing began with. */
  readonly seed: number;
  /** How values lay within their tolerance. */
  readonly distribution: Distribution;
  /** Hz: what was judged. */
  readonly band: Band;
  /** m. */
  readonly distance: number;
  /** The share of samples that keep every limit that the loudspeaker as drawn keeps, with its 95 % interval. */
  readonly yield: Yield;
  /** Every limit by itself. */
  readonly criteria: readonly SpreadCriterion[];
  /** dB from the goal. */
  readonly lossDb: {
    /** dB, as drawn. */
    readonly nominal: number;
    /** dB, of each percentile. */
    readonly percentiles: readonly number[];
  };
  /** To first order, without drawing. */
  readonly firstOrder: {
    /** dB: standard deviation of the levels, root mean square over places and band. */
    readonly effectDb: number;
    /** dB: root of the mean squared loss to be expected. */
    readonly lossDb: number;
    /** Part that keeps the limit of loss, dimensionless, if the loss were normal. */
    readonly yield: number;
    /** dB: root mean square by which left and right differ. */
    readonly pairDb: number;
  };
  /** What scatters, most effect first. */
  readonly ranking: readonly SpreadContribution[];
  /** Left against right at the place on the axis, or the goal's first. */
  readonly pair: PairSpread;
  /** The same with what `matched` names alike in both; there when it names anything. */
  readonly matchedPair?: PairSpread;
  /** The worst combination for each criterion. */
  readonly worst: readonly SpreadCorner[];
  /** Hz, of `pair.curveDb`: what some place of the goal covers. */
  readonly frequencies: Float64Array;
  /** %. */
  readonly percentiles: readonly number[];
  /** For plots: at each place of the goal. */
  readonly bands: readonly SpreadBand[];
  /** What was assumed, in words. */
  readonly assumed: readonly string[];
  /** The answer in words. */
  readonly sentences: readonly string[];
}
