import type { PartJSON } from "../../parts/internal";
import type { ResponseJSON } from "../../response";

/** A network as JSON holds it. The parts are a list, so that a name given twice is seen. Quantities in SI, or with their unit. */
export interface NetworkJSON<Q = number | string> {
  /** Every part, in the network's order. */
  readonly parts: readonly PartJSON<Q>[];
  /** Measured impedances (Ω over Hz) that parts name; absent when there are none. */
  readonly responses?: Readonly<Record<string, ResponseJSON>>;
}
