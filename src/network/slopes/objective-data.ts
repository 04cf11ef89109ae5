import type { FrequencyResponse } from "../../response";
import type { SourceImpedance } from "../solve/source";
import type { Variable } from "./variable";

/** What `sumObjective` takes. */
export interface ObjectiveOptions {
  /** Hz, > 0, strictly ascending, length n. */
  readonly frequencies: ArrayLike<number>;
  /** By part: what it adds to the sum per volt across it, e.g. the pressure of a driver in Pa/V. */
  readonly contributions: Readonly<Record<string, FrequencyResponse>>;
  /** What |sum| should be, per volt of the source: one number, n numbers, or a response whose magnitude counts; > 0. */
  readonly target: number | ArrayLike<number> | FrequencyResponse;
  /** How much each frequency counts, ≥ 0, length n; default 1/n each. */
  readonly weights?: ArrayLike<number> | undefined;
  /** Between the ideal source and `in`: Ω, or `{ resistance, inductance }`; default none. */
  readonly sourceImpedance?: Exclude<SourceImpedance, FrequencyResponse> | undefined;
  /**
   * Parts whose values vary, and couplings whose factors do; default all resistors, capacitors and coils that no coupling names. Drivers with a model, coupled coils, transformers and
   * couplings vary when they are named: a driver by all values that it has. Where a coupling or an ideal transformer varies, where an ideal transformer is in the network, and where coils are
   * coupled by more than 0.95, each evaluation solves point by point and is far slower.
   */
  readonly vary?: readonly string[] | undefined;
  /** Whether dcr, esr and dissipation factors vary as well; default false. */
  readonly parasitics?: boolean | undefined;
}

/** A loss as a function of part values, with its exact slopes. */
export interface SumObjective {
  /** What can be varied, in the order in which values and slopes stand. */
  readonly variables: readonly Variable[];
  /** The loss at the given values (SI, in the order of `variables`). */
  loss(values: ArrayLike<number>): number;
  /** The loss; its slopes ∂loss/∂value are written to `slopes`, length of `variables`. */
  lossAndSlopes(values: ArrayLike<number>, slopes: Float64Array): number;
  /**
   * The loss as a function of variable `index` alone, the others held at `values`: faster than `loss`, since nothing is
   * eliminated anew. Good to about twelve digits of the sum near `values`, fewer where the part is changed by many decades.
   */
  along(values: ArrayLike<number>, index: number): (value: number) => number;
}
