/** A driver by its parameters. SI; a value of 0 leaves its term out. */
export interface DriverModel {
  /** Ω: direct-current resistance. */
  readonly re: number;
  /** H: voice coil; 0 for none. */
  readonly le: number;
  /** Ω: across `le2`; 0 for none. */
  readonly re2: number;
  /** H: second inductance; 0 for none. */
  readonly le2: number;
  /** Ω·sⁿ: K of a coil K(jω)ⁿ; 0 for none. */
  readonly k: number;
  /** Exponent of that coil, dimensionless. */
  readonly n: number;
  /** Hz: resonance. */
  readonly fs: number;
  /** Mechanical Q at fs, dimensionless. */
  readonly qms: number;
  /** Electrical Q at fs, dimensionless. */
  readonly qes: number;
}
