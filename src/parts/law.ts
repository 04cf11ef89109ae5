import type { NumberRange } from "../errors/internal";
import type { Unit } from "../quantity";

/**
 * The admittance of a two-terminal branch as a function of frequency: all that the solver needs to know of a part.
 * A law is stateless; the part's numbers travel beside it as `values`, in the order of `parameters`, so that one
 * compiled network serves many sets of values.
 */
export interface Law {
  /** For messages. */
  readonly name: string;
  /** Names of the values, in order; SI. */
  readonly parameters: readonly string[];
  /** What each value is measured in and may be, in the same order. A value of 0 where 0 is out of range isn't there. */
  readonly limits: readonly ValueLimit[];
  /** Which of the solver's built-in fills evaluates this law; absent: `bind` is used. */
  readonly kernel?: "resistance" | "coil" | "capacitor";
  /** Never a short or a gap, whatever its values: it needn't be asked at frequencies that it may not reach. */
  readonly finite?: true;
  /**
   * Prepares the law for a grid of frequencies (Hz) and returns its evaluator. The place where a measured law is
   * interpolated, once a grid; throws when the grid leaves the measured band.
   */
  bind(frequencies: Float64Array): Evaluator;
  /**
   * The same admittance as a quotient that stays finite where Y or Z does not: a·V = b·I. Writes a and b into
   * `out` as [Re a, Im a, Re b, Im b]; exact at 0 Hz.
   */
  ratio(values: ArrayLike<number>, offset: number, frequency: number, out: Float64Array): void;
  /** The law as a circuit, its pieces in series; absent: nobody can draw it. */
  circuit?(values: readonly number[]): readonly CircuitPiece[];
}

/** A piece of a circuit: elements side by side, chains side by side, or what no finite circuit has and one of such sections comes near to. */
export type CircuitPiece =
  | {
      /** Ω. */
      readonly r?: number;
      /** H. */
      readonly l?: number;
      /** F. */
      readonly c?: number;
    }
  | { readonly beside: readonly (readonly CircuitPiece[])[] }
  | {
      readonly near: "coil" | "capacitor" | "driver";
      readonly law: Law;
      readonly values: readonly number[];
      /** What is approximated, in words. */
      readonly what: string;
      /** What to describe instead. */
      readonly otherwise: string;
      /** Hz: where alone it is known. */
      readonly band?: readonly [from: number, to: number];
    };

/** The unit of a value (absent: dimensionless) and its range in it. */
export interface ValueLimit {
  readonly unit?: Unit;
  readonly range: NumberRange;
}

/** Evaluates a law on the grid to which it was bound. */
export interface Evaluator {
  /** Writes Y (S) of the points start … start + count − 1 to re[at …] and im[at …]. */
  admittance(values: ArrayLike<number>, offset: number, start: number, count: number, re: Float64Array, im: Float64Array, at: number): void;
  /** Writes ∂Y/∂values[index] of the same points. */
  derivative(
    values: ArrayLike<number>,
    offset: number,
    index: number,
    start: number,
    count: number,
    re: Float64Array,
    im: Float64Array,
    at: number,
  ): void;
}

/** A two-terminal piece of a part, between two of the part's terminals (numbered from 0). */
export interface PartBranch {
  readonly from: number;
  readonly to: number;
  readonly law: Law;
  readonly values: readonly number[];
}

/** A magnetic coupling between two coil branches of one part, by their index in `branches`. */
export interface WindingCoupling {
  readonly first: number;
  readonly second: number;
  /** Coupling factor, −1 … 1; dots at the branches' `from`. */
  readonly k: number;
}

/** An ideal transformer between terminal pairs: V(primary) = ratio · V(secondary), no power lost. */
export interface IdealTransformer {
  readonly primary: readonly [from: number, to: number];
  readonly secondary: readonly [from: number, to: number];
  readonly ratio: number;
}

/** A part as the solver sees it. */
export interface Expansion {
  /** How many terminals the part has. */
  readonly terminals: number;
  readonly branches: readonly PartBranch[];
  readonly couplings?: readonly WindingCoupling[];
  readonly transformers?: readonly IdealTransformer[];
}
