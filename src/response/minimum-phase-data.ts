import type { FrequencyResponse } from "./sampled-function";

/** A minimum-phase response with what it rests on. */
export interface MinimumPhaseResult {
  /** The same magnitude, with the minimum phase. */
  readonly response: FrequencyResponse;
  /** Degrees, one per frequency: estimate of the phase's error. */
  readonly errorDegrees: Float64Array;
  /** dB per octave: the falls assumed beyond the two ends. */
  readonly lowSlope: number;
  /** dB per octave: the fall assumed towards high frequencies. */
  readonly highSlope: number;
  /** Length of the Fourier transform that the data asked for. */
  readonly points: number;
}
