/**
 * Equally spaced samples over time. Sample n stands at startTime + n / sampleRate. A single sample of 1 is the impulse whose
 * frequency response is 1: samples have the unit of the frequency response. Never write to the array.
 */
export interface ImpulseResponse {
  /** One for each sampling instant, in the response's own unit. */
  readonly samples: Float64Array;
  /** Hz */
  readonly sampleRate: number;
  /** s, of the first sample */
  readonly startTime: number;
}
