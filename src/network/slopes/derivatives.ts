import type { ComplexArrays } from "../../numeric";
import type { Circuit } from "../circuit";
import type { OutputPair } from "../solve/program-values";
import type { Place } from "../place";

/** What a network's derivatives are taken of. */
export interface DerivativesAsked {
  readonly caller: string;
  /** With the source's impedance as a branch, whose voltages are asked. */
  readonly circuit: Circuit;
  /** Without it, whose impedance is asked. */
  readonly bare: Circuit;
  /** Hz. */
  readonly grid: Float64Array;
  readonly pairs: readonly OutputPair[];
}

/** Voltages, admittance and their derivatives by places, each computed when it is first asked for. */
export interface Derivatives {
  /** V by pair. */
  voltage(pair: number): ComplexArrays;
  /** ∂V of a pair by the value at a place. */
  slope(pair: number, place: Place): ComplexArrays;
  /** S, at the input. */
  admittance(): ComplexArrays;
  /** ∂Z of the input by the value at a place. */
  impedanceSlope(place: Place): ComplexArrays;
}
