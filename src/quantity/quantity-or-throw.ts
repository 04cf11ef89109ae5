import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { quantityHint } from "./quantity-hint";
import { readQuantity } from "./read-quantity";
import { unitEntry, type Unit } from "./units";

/** Reads the text, or throws with the way to write it; `negative` says whether a value below zero may pass. */
export function quantityOrThrow(caller: string, argument: string, text: string, unit: Unit, negative: boolean): number {
  const entry = unitEntry(caller, unit);
  const value = readQuantity(text, entry);
  if (value !== undefined && (negative || value >= 0)) return value;
  const sign = value === undefined ? "" : ", not negative,";
  throw new DividingNetworkError(
    "invalid-quantity",
    `${caller}: "${argument}" must be ${entry.name}${sign} with its unit, such as "${entry.example}", got ${show(text)}`,
    quantityHint(text, entry),
  );
}
