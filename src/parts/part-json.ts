import type { CustomBranch } from "./custom/custom-part";

/**
 * A part as JSON holds it, with the nodes at its terminals. `Q` is a quantity: text with its unit as it is written, a number in SI
 * or such text as it may be read, and after reading a number in SI (Ω, H, F, Hz). A value of 0 that may be left out is left out.
 */
export type PartJSON<Q = number | string> =
  | {
      /** Designator. */
      readonly name: string;
      /** Marks a resistor. */
      readonly kind: "resistor";
      /** Ω. */
      readonly resistance: Q;
      /** W: rating. */
      readonly power?: Q;
      /** ± relative, dimensionless, or text in percent. */
      readonly tolerance?: Q;
      /** First and second node. */
      readonly nodes: readonly string[];
    }
  | {
      /** Designator. */
      readonly name: string;
      /** Marks a coil. */
      readonly kind: "inductor";
      /** H. */
      readonly inductance: Q;
      /** Ω: direct-current resistance. */
      readonly dcr?: Q;
      /** A: rating, peak. */
      readonly current?: Q;
      /** ± relative, dimensionless, or text in percent. */
      readonly tolerance?: Q;
      /** First and second node, the dot being the first. */
      readonly nodes: readonly string[];
    }
  | {
      /** Designator. */
      readonly name: string;
      /** Marks a capacitor. */
      readonly kind: "capacitor";
      /** F. */
      readonly capacitance: Q;
      /** Ω: equivalent series resistance. */
      readonly esr?: Q;
      /** tan δ, dimensionless. */
      readonly dissipationFactor?: number;
      /** V: rating, peak. */
      readonly voltage?: Q;
      /** ± relative, dimensionless, or text in percent. */
      readonly tolerance?: Q;
      /** First and second node. */
      readonly nodes: readonly string[];
    }
  | {
      /** Designator. */
      readonly name: string;
      /** Marks an L-pad. */
      readonly kind: "l-pad";
      /** dB, positive. */
      readonly attenuationDb: number;
      /** Ω: what it is made for. */
      readonly load: Q;
      /** W: rating. */
      readonly power?: Q;
      /** Input, output and common node. */
      readonly nodes: readonly string[];
    }
  | DriverJSON<Q>
  | {
      /** Designator. */
      readonly name: string;
      /** Marks a part of one's own. */
      readonly kind: "custom";
      /** What it is, in words. */
      readonly title: string;
      /** How many terminals it has, a count: 2, 3 or 4. */
      readonly terminals: 2 | 3 | 4;
      /** What lies between them, values in SI. */
      readonly branches: readonly CustomBranch[];
      /** A node for each terminal. */
      readonly nodes: readonly string[];
    }
  | {
      /** Designator. */
      readonly name: string;
      /** Marks a coupling. */
      readonly kind: "coupling";
      /** Coupling factor, dimensionless. */
      readonly k: number;
      /** Designators of the two coils. */
      readonly coils: readonly string[];
    }
  | {
      /** Designator. */
      readonly name: string;
      /** Marks a transformer. */
      readonly kind: "transformer";
      /** Primary to secondary turns, dimensionless; then no windings are given. */
      readonly ratio?: number;
      /** H. */
      readonly primaryInductance?: Q;
      /** H. */
      readonly secondaryInductance?: Q;
      /** Coupling factor, dimensionless. */
      readonly k?: number;
      /** Ω. */
      readonly primaryResistance?: Q;
      /** Ω. */
      readonly secondaryResistance?: Q;
      /** Primary dot and end, secondary dot and end. */
      readonly nodes: readonly string[];
    };

/** A driver as JSON holds it: by its parameters (Ω, H, Ω·sⁿ, Hz; Q and n dimensionless), or by the name of its measured impedance. */
export interface DriverJSON<Q = number | string> {
  /** Designator. */
  readonly name: string;
  /** Marks a driver. */
  readonly kind: "driver";
  /** The name under which its measured impedance is found; then nothing else is given. */
  readonly response?: string;
  /** Ω: direct-current resistance. */
  readonly re?: Q;
  /** H: voice coil. */
  readonly le?: Q;
  /** Ω: across the second inductance. */
  readonly re2?: Q;
  /** H: the second inductance. */
  readonly le2?: Q;
  /** Ω·sⁿ: K of the lossy coil K(jω)ⁿ. */
  readonly k?: number;
  /** Exponent of the lossy coil, dimensionless. */
  readonly n?: number;
  /** Hz: resonance. */
  readonly fs?: Q;
  /** Mechanical Q, dimensionless. */
  readonly qms?: number;
  /** Electrical Q, dimensionless. */
  readonly qes?: number;
  /** + and −. */
  readonly nodes: readonly string[];
}
