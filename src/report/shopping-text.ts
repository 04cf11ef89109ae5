import type { Comparison } from "../assessment";
import type { Stock } from "../parts";
import { requiredText } from "./parts-list";
import { shoppingList } from "./page/shopping-list";
import { textTable } from "./text-table";

/** The shopping list for the terminal, a line a part; empty where nothing is needed. */
export function shoppingText(comparison: Comparison, stock: Stock | undefined, width: number): string {
  const { lines, rated, price, priced } = shoppingList(comparison, stock);
  if (lines.length === 0) return "";
  const table = textTable({
    columns: [
      { label: "To buy" },
      { label: "Where" },
      { label: "Pair", align: "right" },
      { label: "Tolerance" },
      { label: "Must keep" },
      ...(rated ? [{ label: "Rated at least" }] : []),
      ...(stock === undefined ? [] : [{ label: "From the stock, each" }, { label: "Price", align: "right" as const }]),
    ],
    rows: lines.map(({ part, designators, quantity, reuse, tolerance, keep, required, taken = "", price: cost }) => [
      reuse === undefined ? part : `${part}: reuse ${reuse.join(", ")}`,
      designators.join(", "),
      2 * quantity,
      tolerance,
      keep.join(", "),
      ...(rated ? [requiredText(required)] : []),
      ...(stock === undefined ? [] : [taken, cost === undefined ? "" : cost.toFixed(2)]),
    ]),
    width,
  });
  return stock === undefined
    ? table
    : `${table}Together ${price.toFixed(2)} for a pair${priced ? "" : ", without what isn't in stock or has no price"}.\n`;
}
