import type { WholeMeasurement } from "../assessment";
import type { FrequencyResponse } from "../response";

/** What `identify` takes. */
export interface IdentifyOptions {
  /** Ω at the network's input, without the source's own, drivers connected. */
  readonly impedance?: FrequencyResponse | undefined;
  /** V across parts, or from nodes to `gnd`, per volt at `in`, by name; dimensionless. */
  readonly transfers?: Readonly<Record<string, FrequencyResponse>> | undefined;
  /** Of the whole loudspeaker, where each driver was measured, too: Pa at places in m and degrees, with the source's V. Needs a loudspeaker. */
  readonly pressures?: readonly WholeMeasurement[] | undefined;
  /** `"common"` (default): the whole's phase counts from the drivers' common time zero; `"unknown"`: levels alone are fitted. */
  readonly pressurePhase?: "common" | "unknown" | undefined;
  /** How often the network may be solved, once for each frequency and set of values, dimensionless; default 2 million (some seconds; half a minute where coils are coupled), or 200 for each frequency measured, where that is more. What is found by then is given, and `doubts` says so. */
  readonly mostSolves?: number | undefined;
  /** Designators of what has an unknown value: resistors, coils and capacitors, couplings (their factor) and ideal transformers (their ratio). Default all resistors, capacitors and uncoupled coils above 0. */
  readonly vary?: readonly string[] | undefined;
  /** Whether the losses of these parts (dcr, esr, dissipation factor) are unknown too, where they are drawn above 0; default false. */
  readonly parasitics?: boolean | undefined;
  /**
   * Standard deviation of each real and imaginary part of ln Z, of ln(V/V) and of ln p, so part of the value and radians; dimensionless. Default: from
   * what the fit leaves, equal for all.
   */
  readonly repeatability?:
    | {
        /** Part of |Z|, dimensionless. */
        readonly impedance?: number | undefined;
        /** Part of |V/V|, dimensionless. */
        readonly transfer?: number | undefined;
        /** Part of |p|, dimensionless. */
        readonly pressure?: number | undefined;
      }
    | undefined;
}
