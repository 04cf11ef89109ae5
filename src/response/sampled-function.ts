import type { Mark } from "./mark";

/**
 * A sampled complex function of frequency: three arrays of one length, frequencies in Hz strictly ascending and ≥ 0,
 * time convention e^(+jωt). The unit of `re` and `im` is the context's: Ω for an impedance, Pa for a pressure,
 * V per V for a transfer function. The arrays are shared among responses: never write to them.
 */
export interface FrequencyResponse {
  /** Hz, strictly ascending. */
  readonly frequencies: Float64Array;
  /** Real parts, one per frequency, in the response's own unit: Ω, V/V, Pa. */
  readonly re: Float64Array;
  /** Imaginary parts, one per frequency, in the same unit. */
  readonly im: Float64Array;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[] | undefined;
}
