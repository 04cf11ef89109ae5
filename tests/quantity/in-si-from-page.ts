import { parseQuantity, type Unit } from "dividing-network/quantity";

/** SI units in which a page writes numbers with a prefix. */
const prefixed: readonly Unit[] = ["Ω", "H", "F", "Hz", "m", "s", "V", "A", "W", "kg", "Pa", "m²", "m³"];

/** A printed number in SI: a unit without a prefix of its own is taken as it is. */
export function inSiFromPage(digits: string, unit: string): number {
  for (const base of prefixed) {
    try {
      return unit === "" ? Number(digits) : parseQuantity(`${digits.replace("-", "")} ${unit}`, base) * (digits.startsWith("-") ? -1 : 1);
    } catch {
      // Another unit.
    }
  }
  return Number(digits);
}
