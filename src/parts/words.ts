import { percent } from "../quantity/internal";
import { formatQuantity } from "../quantity";

/** How close a part is, where that is stated. */
export function within(tolerance: number | undefined): string {
  return tolerance === undefined ? "" : `±${percent(tolerance)}`;
}

/** What a part is rated for, where that is stated. */
export function rated(value: number | undefined, unit: "W" | "V" | "A"): string {
  return value === undefined ? "" : `rated ${formatQuantity(value, unit)}`;
}

/** What a part must keep, one after the other; empty texts are left out. */
export function listed(...texts: readonly string[]): string {
  return texts.filter((text) => text !== "").join(", ");
}
