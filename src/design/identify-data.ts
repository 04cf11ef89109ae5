/** What one driver gives where the whole was measured, Pa per volt at its part. */
export interface Heard {
  readonly part: string;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** One measured curve, at the frequencies at which the model can be computed. */
export interface Observation {
  readonly kind: "impedance" | "transfer" | "pressure";
  /** Of which voltage; undefined: the input impedance, or a pressure. */
  readonly output: string | undefined;
  /** Of a pressure: by driver. */
  readonly heard?: readonly Heard[];
  /** Whether its phase says nothing. */
  readonly levelsAlone?: boolean;
  readonly frequencies: Float64Array;
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** How many residuals a curve gives: real and imaginary part of a logarithm at each frequency, or its real part alone. */
export const numbersOf = ({ frequencies, levelsAlone }: Observation): number => (levelsAlone === true ? 1 : 2) * frequencies.length;
