import type { Fault } from "./faults";

/** A fault with what fits best: what may be wrong. */
export interface SuspectedFault {
  /** Designators, or the name of one driver among several on one part; the two nodes `in` and `gnd` where something lies across the input that isn't drawn. */
  readonly parts: readonly string[];
  /** `open` and `short` circuit, the latter also of the input by what isn't drawn; another `value`; `loss`: ohms in series; `reversed` polarity, coupling or pad; two parts `exchanged`; a wire `moved` to another node; `impedances exchanged`, of two drivers whose files were taken for each other's; `drive`, of drivers that were measured at another level than stated; `unknown`, of no part, where no single fault comes nearer to what was measured than the drawing. */
  readonly fault: Fault;
  /** What fits best, SI: of a `value` the part's own (Ω, H, F), of a `loss` the ohms in series, of a `short` across the input its ohms; of a `drive` the dB by which it plays louder in the whole than its own measurement and the stated voltages say. */
  readonly value?: number;
  /** What `value` is measured in. */
  readonly unit?: "Ω" | "H" | "F" | "dB";
  /** F: of a capacitor's `loss`, the capacitance that fits beside the ohms; one that dries out loses both ways. */
  readonly capacitance?: number;
  /** Node at which the moved wire ends. */
  readonly to?: string;
}
