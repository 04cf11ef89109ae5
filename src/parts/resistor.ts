import type { Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import { resistanceLaw } from "./basic-laws";
import type { Expansion } from "./law";

/** A resistance between two nodes. */
export interface Resistor {
  /** Marks a resistor. */
  readonly kind: "resistor";
  /** Ω, ≥ 0. */
  readonly resistance: number;
}

/**
 * A resistor; also a wire, a connector or a length of cable, of which 0 Ω is a legal value.
 *
 * @param resistance Ω as a number, or text with its unit: `"4.7 Ω"`, `"4R7"`; 0 Ω or more
 * @returns the part, resistance in Ω
 * @throws DividingNetworkError `invalid-argument` or `invalid-quantity`
 * @example
 * ```ts
 * import { resistor } from "dividing-network";
 *
 * resistor("4R7").resistance; // 4.7
 * ```
 */
export function resistor(resistance: Resistance): Resistor {
  return Object.freeze({ kind: "resistor", resistance: inSi("resistor", "resistance", resistance, "Ω", { min: 0 }) });
}

export function expandResistor(part: Resistor): Expansion {
  return { terminals: 2, branches: [{ from: 0, to: 1, law: resistanceLaw, values: [part.resistance] }] };
}
