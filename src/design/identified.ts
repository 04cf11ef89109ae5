import type { Network } from "../network";
import type { AlikeValues } from "./alike-directions";

/** A value that was found. */
export interface IdentifiedValue {
  /** Its designator. */
  readonly part: string;
  /** `resistance`, `inductance`, `capacitance`, `k`, `ratio`, `dcr`, `esr`, `dissipationFactor`. */
  readonly parameter: string;
  /** SI: Ω, H, F, or dimensionless. */
  readonly value: number;
  /** Standard error, in the same unit; undefined where the data do not determine the value. */
  readonly standardError: number | undefined;
}

/** A network's values from its measurements. */
export interface Identified {
  /** With the values found, SI. */
  readonly network: Network;
  /** In the order of `vary`, else of the network; SI. */
  readonly values: readonly IdentifiedValue[];
  /** Root mean square of what is left of ln Z, ln(V/V) and ln p: part of the value and radians, dimensionless. */
  readonly misfit: number;
  /** Of neighbouring deviations, −1 … 1, dimensionless: near 0 for independent scatter; near 1 where the drawing isn't what was measured, or the measurement was smoothed. */
  readonly correlation: number;
  /** Groups of values that the data can't tell apart, or don't see. Empty when all are determined. */
  readonly alike: readonly AlikeValues[];
  /** Other sets of values (SI, in the order of `values`) that fit as well. */
  readonly alternatives: readonly Float64Array[];
  /** How often the network was solved, once for each frequency and set of values, dimensionless. */
  readonly solves: number;
  /** Why the values may be further off than their standard errors say, in words: what is left isn't what chance leaves. Empty where it is. */
  readonly doubts: readonly string[];
}
