import type { FrequencyResponse } from "../../response";
import type { Entries } from "../entries";
import type { NodeName, PartName, PartOrCouplingName } from "../names";
import type { SourceImpedance } from "../solve/source";
import type { Variable } from "./variable";

/** What `sensitivities` takes. */
export interface SensitivityOptions<T extends Entries> {
  /** Nodes and parts whose voltage is differentiated. */
  readonly outputs: readonly (NodeName<T> | PartName<T>)[];
  /**
   * Parts by whose values, and couplings by whose factors; default all parts that have values. With an ideal transformer in the network, or coils coupled by
   * more than 0.95, it is done point by point and far slower.
   */
  readonly vary?: readonly PartOrCouplingName<T>[] | undefined;
  /** Whether dcr, esr and dissipation factors count as well; default true. */
  readonly parasitics?: boolean | undefined;
  /** Between the ideal source and `in`: Ω, or `{ resistance, inductance }`; default none. */
  readonly sourceImpedance?: Exclude<SourceImpedance, FrequencyResponse> | undefined;
}

/** Exact derivatives on a grid, per SI unit of the value (per Ω, per H, per F). */
export interface Sensitivities {
  /** Hz. */
  readonly frequencies: Float64Array;
  /** The values by which it can be differentiated. */
  readonly variables: readonly Variable[];
  /** ∂V/∂value of an output, V per V of the source, per SI unit. The parameter defaults to the part's first. */
  voltage(output: string, part: string, parameter?: string): FrequencyResponse;
  /** ∂(20 lg |V|)/∂value, dB per SI unit. */
  levelDb(output: string, part: string, parameter?: string): Float64Array;
  /** ∂(arg V)/∂value, degrees per SI unit. */
  phaseDegrees(output: string, part: string, parameter?: string): Float64Array;
  /** ∂Z/∂value of the input impedance (without the source's own), Ω per SI unit. */
  impedance(part: string, parameter?: string): FrequencyResponse;
  /** ∂|Z|/∂value, Ω per SI unit. */
  impedanceMagnitude(part: string, parameter?: string): Float64Array;
}
