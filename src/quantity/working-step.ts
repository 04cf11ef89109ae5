/** One step of a calculation, with everything a reader needs to repeat it by hand. */
export interface WorkingStep {
  /** What the step finds: `"C"`, `"k"`. */
  readonly symbol: string;
  /** The formula's right-hand side in plain text: `"Le / Re²"`. */
  readonly formula: string;
  /** The whole equation in TeX: `"C = \\frac{L_e}{R_e^2}"`. */
  readonly tex: string;
  /** The numbers put in, SI, in the order in which the formula names them. */
  readonly inputs: readonly {
    /** As the formula names it. */
    readonly symbol: string;
    /** SI. */
    readonly value: number;
    /** `""` when dimensionless. */
    readonly unit: string;
  }[];
  /** The result, SI. */
  readonly value: number;
  /** Unit of the result; `""` when dimensionless. */
  readonly unit: string;
  /** Key or words that name where the formula comes from. */
  readonly source: string;
  /** Significant digits in which the inputs are printed, dimensionless: with so many the formula gives the result as it is printed. */
  readonly digits: number;
  /** Significant digits in which the result is printed, dimensionless: 4, or as many as a later step takes in. */
  readonly resultDigits: number;
  /** What follows from the result, or what the formula leaves unsaid; absent when there is nothing. */
  readonly note?: string | undefined;
}

/** The ordered steps of a calculation; the last step's value is the calculation's answer. */
export type Working = readonly WorkingStep[];
