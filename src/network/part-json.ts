import type { ResponseJSON } from "../response";

/**
 * A part as JSON holds it, with the nodes at its terminals. `Q` is a quantity: text with its unit as it is written, a number in SI
 * or such text as it may be read, and after reading a number in SI (Ω, H, F, Hz). A value of 0 that may be left out is left out.
 */
export type PartJSON<Q = number | string> =
  | { readonly name: string; readonly kind: "resistor"; readonly resistance: Q; readonly nodes: readonly string[] }
  | { readonly name: string; readonly kind: "inductor"; readonly inductance: Q; readonly dcr?: Q; readonly nodes: readonly string[] }
  | { readonly name: string; readonly kind: "capacitor"; readonly capacitance: Q; readonly esr?: Q; readonly dissipationFactor?: number; readonly nodes: readonly string[] }
  | { readonly name: string; readonly kind: "l-pad"; readonly attenuationDb: number; readonly load: Q; readonly nodes: readonly string[] }
  | DriverJSON<Q>
  | { readonly name: string; readonly kind: "coupling"; readonly k: number; readonly coils: readonly string[] }
  | {
      readonly name: string;
      readonly kind: "transformer";
      readonly ratio?: number;
      readonly primaryInductance?: Q;
      readonly secondaryInductance?: Q;
      readonly k?: number;
      readonly primaryResistance?: Q;
      readonly secondaryResistance?: Q;
      readonly nodes: readonly string[];
    };

/** A driver as JSON holds it: by its parameters (Ω, H, Ω·sⁿ, Hz; Q and n dimensionless), or by the name of its measured impedance. */
export interface DriverJSON<Q = number | string> {
  readonly name: string;
  readonly kind: "driver";
  /** The name under which its measured impedance is found; then nothing else is given. */
  readonly response?: string;
  readonly re?: Q;
  readonly le?: Q;
  readonly re2?: Q;
  readonly le2?: Q;
  readonly k?: number;
  readonly n?: number;
  readonly fs?: Q;
  readonly qms?: number;
  readonly qes?: number;
  readonly nodes: readonly string[];
}

/** A network as JSON holds it. The parts are a list, so that a name given twice is seen. Quantities in SI, or with their unit. */
export interface NetworkJSON<Q = number | string> {
  readonly parts: readonly PartJSON<Q>[];
  /** Measured impedances (Ω over Hz) that parts name; absent when there are none. */
  readonly responses?: Readonly<Record<string, ResponseJSON>>;
}
