/** ± how much of a driver scatters from one to the next. What isn't named is assumed; 0 is exact. */
export interface DriverTolerance {
  /** ± dB of its sound pressure per volt. */
  readonly levelDb?: number | undefined;
  /** ± relative to its resonance, dimensionless. */
  readonly resonance?: number | undefined;
  /** ± relative to its Q (mechanical and electrical alike), dimensionless. */
  readonly q?: number | undefined;
  /** ± s of its delay: where its acoustic centre lies, 2.9 µs a millimetre. */
  readonly delay?: number | undefined;
}

/** What of a driver may scatter. */
export const DRIVER_QUANTITIES = ["levelDb", "resonance", "q", "delay"] as const;
export type DriverQuantity = (typeof DRIVER_QUANTITIES)[number];

/** ± of every driver of which nothing else is said: an assumption (choice, no source), not a property of any driver. */
export const ASSUMED_DRIVER: Readonly<Record<DriverQuantity, number>> = /* @__PURE__ */ Object.freeze({
  levelDb: 1,
  resonance: 0.1,
  q: 0.1,
  delay: 5e-6,
});
