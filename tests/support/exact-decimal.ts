import { Decimal } from "decimal.js";

/** Numbers of 50 digits. */
export const Precise = Decimal.clone({ precision: 50 });

/** A double as the number it is: `new Decimal(value)` takes the shortest digits that name it, which are half a unit of its last place off. */
export function exactly(value: number): Decimal {
  let [whole, halvings] = [value, 0];
  for (; !Number.isInteger(whole); halvings++) whole *= 2;
  return new Precise(BigInt(whole).toString()).div(new Precise(2).pow(halvings));
}
