import { DividingNetworkError } from "../errors";
import { checkNumber, show, type NumberRange } from "../errors/internal";
import { quantityOrThrow } from "./quantity-or-throw";
import { unitEntry, type Unit } from "./units";

/**
 * Checks one argument that is a quantity, a number in SI or text with its unit, and gives it in SI (°C for a temperature).
 * Without a lower bound in `range`, quantities that cannot be negative must be at least 0.
 *
 * @param caller name of the public function, for the message
 * @param argument name of the argument, for the message
 * @param value what was given
 * @param unit SI symbol of the quantity's unit
 * @param range bounds in that unit
 * @returns the value in that unit
 * @throws DividingNetworkError `invalid-quantity` for text that is no such quantity, `invalid-argument` otherwise
 */
export function inSi(caller: string, argument: string, value: unknown, unit: Unit, range: NumberRange = {}): number {
  const entry = unitEntry(caller, unit);
  const bounded = range.min !== undefined || range.above !== undefined;
  const bounds = { ...(bounded || entry.signed ? {} : { min: 0 }), ...range, unit };
  if (typeof value === "number") return checkNumber(caller, argument, value, bounds);
  if (typeof value === "string")
    return checkNumber(caller, argument, quantityOrThrow(caller, argument, value, unit, entry.signed || mayBeNegative(range)), bounds);
  throw new DividingNetworkError(
    "invalid-argument",
    `${caller}: "${argument}" must be a number in ${unit} or text with its unit, such as "${entry.example}", got ${show(value)}`,
  );
}

/** Whether the caller's own lower bound lets a value below zero pass, as for a mutual inductance. */
function mayBeNegative(range: NumberRange): boolean {
  return (range.min ?? range.above ?? 0) < 0;
}
