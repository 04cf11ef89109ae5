/** How many samples keep within the limits, and how sure that is. */
export interface Yield {
  /** How many samples kept all limits. */
  readonly passed: number;
  /** How many were drawn. */
  readonly samples: number;
  /** passed/samples, dimensionless. */
  readonly share: number;
  /** The interval that holds the true share with the stated confidence, for sampling error alone; dimensionless. */
  readonly interval: readonly [low: number, high: number];
  /** 0.95. */
  readonly confidence: number;
}

/** The normal distribution's two-sided 95 % point. */
const Z = 1.959963984540054;

/** The share of samples that passed with its score interval after Wilson (1927), cited from memory. */
export function yieldOf(passed: number, samples: number): Yield {
  const share = passed / samples;
  const spread = (Z * Z) / samples;
  const middle = (share + spread / 2) / (1 + spread);
  const half = Math.sqrt(spread * (share * (1 - share) + spread / 4)) / (1 + spread);
  const interval = Object.freeze([passed === 0 ? 0 : middle - half, passed === samples ? 1 : middle + half] as const);
  return Object.freeze({ passed, samples, share, interval, confidence: 0.95 });
}
