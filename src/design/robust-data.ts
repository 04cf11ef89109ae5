import type { DriverTolerance } from "../assessment";
import type { Distribution, ToleranceByKind } from "../network";

/** What a search is to be robust against, and by what it then chooses. Tolerances are as `spread` takes them: what isn't stated is assumed. */
export interface RobustOptions {
  /** `"loss"` (default): the loss to be expected, root of the mean squared loss of the loudspeakers drawn. `"yield"`: the share of them that keep every limit, then the loss to be expected. */
  readonly by?: "loss" | "yield" | undefined;
  /** dB of loss that a good loudspeaker may have; must be stated for `"yield"`. */
  readonly largestLossDb?: number | undefined;
  /** ± relative of parts that state no tolerance themselves, dimensionless; default ±5 % (an assumption). */
  readonly byKind?: ToleranceByKind | undefined;
  /** By driver: level in dB, resonance and Q dimensionless, delay in s; default ±1 dB, ±10 %, ±10 %, ±5 µs (an assumption; choice, no source). */
  readonly drivers?: Readonly<Record<string, DriverTolerance>> | undefined;
  /** `"exact"`: what isn't stated doesn't scatter. Default `"assumed"`. */
  readonly unstated?: "assumed" | "exact" | undefined;
  /** Parts of one kind, or drivers, that come from one lot and deviate alike, by name; default none. `redesign` takes drivers alone, since its parts have no names before. */
  readonly lots?: readonly (readonly string[])[] | undefined;
  /** How values lie within their tolerance; default `"uniform"`. */
  readonly distribution?: Distribution | undefined;
  /** How many loudspeakers are drawn of every network that is held against others, 2 … 4096, dimensionless; default 64. Every second is the mirror image of the one before. */
  readonly samples?: number | undefined;
  /** A whole number from 0 to 2³² − 1, dimensionless; default 1. */
  readonly seed?: number | undefined;
}

/** What the loudspeakers came to that were drawn of one network. */
export interface Robustness {
  /** dB: root of their mean squared loss. */
  readonly expectedLossDb: number;
  /** Part of them that keep every limit and a loss of `largestLossDb`, dimensionless; absent where that isn't stated. */
  readonly yield?: number | undefined;
  /** How many were drawn, dimensionless. */
  readonly samples: number;
  /** The same in words. */
  readonly says: string;
}
