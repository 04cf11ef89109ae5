import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { quantityOrThrow } from "./quantity-or-throw";
import { unitEntry, type Unit } from "./units";

/**
 * Reads a quantity that is known only at run time, such as a cell of a table or a field of a form, and gives it in SI
 * (°C for a temperature). The text is a number, at most one space, and the unit with or without a prefix; `µ` may be
 * either Unicode letter or `u`, and `Ω` either one or `ohm`. A resistance may also be a marking after IEC 60062 (`"4R7"`).
 * Everything else is refused with the way to write it: a decimal comma, a missing unit, `MF` or `mfd`, `khz`, a hexadecimal
 * number, a negative resistance, inductance, capacitance, frequency, mass, area or volume, and what follows the unit.
 *
 * @param text at most 64 characters
 * @param unit SI symbol of the quantity's unit, such as `"H"`
 * @returns the value in that unit
 * @throws DividingNetworkError `invalid-quantity` when the text is no such quantity, `invalid-argument` when an argument is of the wrong kind
 * @example
 * ```ts
 * import { parseQuantity } from "dividing-network/quantity";
 *
 * parseQuantity("0.47 mH", "H"); // 0.00047
 * parseQuantity("6.8uF", "F"); // 0.0000068
 * parseQuantity("4R7", "Ω"); // 4.7
 * ```
 */
export function parseQuantity(text: string, unit: Unit): number {
  const entry = unitEntry("parseQuantity", unit);
  if (typeof text !== "string") {
    throw new DividingNetworkError(
      "invalid-argument",
      `parseQuantity: "text" must be a string such as "${entry.example}", got ${show(text)}`,
      typeof text === "number" ? `A number counts as a value in ${unit} and needs no reading` : "",
    );
  }
  return quantityOrThrow("parseQuantity", "text", text, unit, entry.signed);
}
