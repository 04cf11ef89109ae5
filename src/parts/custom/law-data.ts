/**
 * The law of a two-terminal branch as plain data: a leaf is one element of the circuit's theory with its value under a name of its own, and laws stand in series and in parallel. It is
 * made by `resistive`, `inductive`, `capacitive`, `fractional`, `inSeries` and `inParallel`, goes through JSON as it is, and has exact slopes by every value.
 */
export type LawData =
  | {
      /** Z = R, Z = jωL or Y = jωC. */
      readonly law: "resistance" | "inductance" | "capacitance";
      /** Under which the value is found in a part: `"coreLoss"`. */
      readonly name: string;
      /** Ω, H or F. */
      readonly value: number;
    }
  | {
      /** Z = K·(jω)ⁿ. */
      readonly law: "fractional";
      /** Under which the values are found in a part: this name with `K` and with `N`; `""`: `k` and `n`. */
      readonly name: string;
      /** K in Ω·sⁿ. */
      readonly k: number;
      /** The exponent, dimensionless, 0 < n ≤ 1. */
      readonly n: number;
    }
  | {
      /** One after the other, or beside each other. */
      readonly law: "series" | "parallel";
      /** At least one. */
      readonly of: readonly LawData[];
    };
