import type { Working } from "../../quantity";
import type { Ladder } from "../ladders/ladder-data";

import type { Prototype } from "../prototypes/prototype-data";

/** A two-way crossover of parallel-connected ladders. */
export interface Crossover {
  /** What both ways are made of, at ω = 1 rad/s. */
  readonly prototype: Prototype;
  /** Hz */
  readonly frequency: number;
  /** The low-pass way, into its load. */
  readonly lowPass: Ladder;
  /** The high-pass way, into its load. */
  readonly highPass: Ladder;
  /** How the high-pass driver is connected for a flat sum of flat, coincident drivers. */
  readonly polarity: Polarity;
  /** Whether the other polarity sums to about the same level, the ways being near ±90° apart: so for odd orders. */
  readonly eitherPolarity: boolean;
  /** Towards which way's driver the lobe of drivers one above the other tilts at the crossover: towards the one whose phase lags. */
  readonly lobeTilt: "none" | "towards the low-pass driver" | "towards the high-pass driver";
  /** How the parts came about: those of the low-pass, then those of the high-pass; then the polarity and its reason. */
  readonly working: Working;
}

/** How a driver is connected: + to the network's output, or − to it. */
export type Polarity = "same" | "reversed";
