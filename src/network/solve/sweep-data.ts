import type { FrequencyResponse } from "../../response";
import type { Entries, UncheckedEntries } from "../entries";
import type { NodeName, NodeOrPartName, PartName } from "../names";

/**
 * The answer to one sweep of frequencies. Every response is per volt (V rms) of the source's open-circuit voltage and
 * lies on the grid that was asked for; time convention e^(+jωt).
 */
export interface Sweep<T extends UncheckedEntries = Entries> {
  /** Hz, as asked for. */
  readonly frequencies: Float64Array;
  /** What the amplifier's terminals see: V(in)/I, Ω, without the source's own impedance. Refused where no current flows. */
  readonly impedance: FrequencyResponse;
  /** Its reciprocal, S: 0 where no current flows. */
  readonly admittance: FrequencyResponse;
  /** V(node) − V(gnd), or V(first node) − V(second node) of a part; V per V. */
  voltage(nodeOrPart: NodeOrPartName<T>): FrequencyResponse;
  /** V(a) − V(b) between any two nodes; V per V. */
  voltageBetween(a: NodeName<T> | "in" | "gnd", b: NodeName<T> | "in" | "gnd"): FrequencyResponse;
  /** Current into the part's first terminal, A per V; of a two-terminal part, the current from its first node to its second. */
  current(part: PartName<T>): FrequencyResponse;
  /** Current from the source into `in`, A per V. */
  readonly sourceCurrent: FrequencyResponse;
}
