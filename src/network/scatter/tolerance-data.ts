import type { LongWorkOptions } from "../../numeric";
import type { Entries } from "../entries";
import type { PartOrCouplingName } from "../names";
import type { SourceImpedance } from "../solve/source";
import type { Distribution } from "./deviations";
import type { LevelLimit } from "./level-limits";
import type { PartTolerance, ToleranceByKind } from "./toleranced-values";
import type { Yield } from "./yield";

/** What `tolerance` takes. */
export interface ToleranceOptions<T extends Entries, O extends string> extends LongWorkOptions {
  /** Nodes and parts whose level is wanted; `"impedance"`: |Z| at `in`. */
  readonly outputs: readonly O[];
  /** By part or coupling: ± relative (0.05 is ±5 %) of its main value (of a coupling its factor, of an ideal transformer its ratio), or `{ valueName: … }`, as a driver needs it. */
  readonly tolerances?: Readonly<Partial<Record<PartOrCouplingName<T>, PartTolerance>>> | undefined;
  /** For parts that `tolerances` doesn't name. With neither: ±5 % of all resistors, coils, capacitors and L-pads, an assumption. */
  readonly byKind?: ToleranceByKind | undefined;
  /** Default `"uniform"`. */
  readonly distribution?: Distribution | undefined;
  /** 1 … 1,000,000; default 1000. */
  readonly samples?: number | undefined;
  /** A whole number from 0 to 2³² − 1; default 1. */
  readonly seed?: number | undefined;
  /** %, 0 … 100; default 5, 50, 95. */
  readonly percentiles?: readonly number[] | undefined;
  /** What a sample must keep at every frequency to count for the yield. */
  readonly limits?: LevelLimit<O> | readonly LevelLimit<O>[] | undefined;
  /** Whether to look for the worst cases; default false. */
  readonly corners?: boolean | undefined;
  /** Ω, `{ resistance, inductance }`, or a `FrequencyResponse` in Ω. Default none. */
  readonly sourceImpedance?: SourceImpedance | undefined;
}

/** How one output scatters: level in dB per volt of the source, or |Z| in Ω. n numbers each. */
export interface ToleranceBand {
  /** Of all curves here: levels in dB, or |Z| in Ω. */
  readonly unit: "dB" | "Ω";
  /** With all values as drawn. */
  readonly nominal: Float64Array;
  /** One curve for each percentile asked for, in that order. */
  readonly percentiles: readonly Float64Array[];
  /** The worst that was found while every value stays within its tolerance, at each frequency by itself; every sample lies between. */
  readonly corners?: {
    /** In `unit`, one per frequency. */
    readonly lowest: Float64Array;
    /** In `unit`, one per frequency. */
    readonly highest: Float64Array;
  };
}

/** The answer of `tolerance`: plain data, safe to clone or post. */
export interface Tolerance<O extends string = string> {
  /** Hz. */
  readonly frequencies: Float64Array;
  /** How many networks were drawn. */
  readonly samples: number;
  /** What the drawing began with; the same seed gives the same networks. */
  readonly seed: number;
  /** %. */
  readonly percentiles: readonly number[];
  /** By output. */
  readonly bands: Readonly<Record<O, ToleranceBand>>;
  /** There when limits were given. */
  readonly yield?: Yield;
}
