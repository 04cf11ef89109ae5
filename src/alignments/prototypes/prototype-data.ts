import type { TransferFunction } from "../../response";

/** The families of prototypes; `"all-pole"` is one given by its poles or its polynomial. */
export type Family = "butterworth" | "linkwitz-riley" | "bessel" | "chebyshev" | "legendre-papoulis" | "critically-damped" | "all-pole";

/** A low-pass function at ω = 1 rad/s without zeros, 1 (0 dB) at zero frequency unless its `corner` says otherwise. */
export interface Prototype extends TransferFunction {
  /** By whose name the function goes. */
  readonly family: Family;
  /** Number of poles. */
  readonly order: number;
  /** What happens at ω = 1 rad/s, in words. */
  readonly corner: string;
}
