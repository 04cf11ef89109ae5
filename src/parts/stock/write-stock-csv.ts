import { DividingNetworkError } from "../../errors";
import { checkOneOf, checkOptions } from "../../errors/internal";
import { csvCell } from "./csv-line";
import { COLUMNS } from "./read-stock-csv";
import { writeStockLine } from "./read-stock-line";
import { checkStock } from "./stock";
import type { Stock } from "./stock-part";

/** How `writeStockCsv` writes. */
export interface WriteStockOptions {
  /** Between columns; default a comma, or a semicolon where the decimal mark is a comma. */
  readonly separator?: "," | ";" | "\t" | undefined;
  /** Decimal mark; default a point. */
  readonly decimal?: "." | "," | undefined;
}

/**
 * Writes a stock as a table that `readStockCsv` reads back to the last bit and that a spreadsheet opens: a line with the names of all columns, then one line for each
 * part. What isn't known is an empty cell.
 *
 * @param drawer from `stock` or `readStockCsv`
 * @param options `separator` and `decimal`
 * @returns the text, with quantities and their units; lines end in LF
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { stock, writeStockCsv } from "dividing-network/parts";
 *
 * const drawer = stock([{ kind: "capacitor", value: "6.8 µF", name: "box 1", price: 3.2 }]);
 * writeStockCsv(drawer, { decimal: "," }).split("\n")[1]; // "box 1;capacitor;6,8 µF;;;;;;;;3,2;"
 * ```
 */
export function writeStockCsv(drawer: Stock, options: WriteStockOptions = {}): string {
  const caller = "writeStockCsv";
  const { parts } = checkStock(caller, "drawer", drawer);
  const { decimal = ".", separator = decimal === "," ? ";" : "," } = checkOptions(caller, options, ["separator", "decimal"]);
  checkOneOf(caller, "decimal", decimal, [".", ","]);
  checkOneOf(caller, "separator", separator, [",", ";", "\t"]);
  if (decimal === "," && separator === ",")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "separator" must differ from "decimal", got "," for both`,
      'Separate with ";" or a tab',
    );
  const rows = parts.map((part) => {
    const line = writeStockLine(part) as unknown as Readonly<Record<string, string | number | undefined>>;
    return Object.values(COLUMNS).map((key) => {
      const text = line[key] === undefined ? "" : String(line[key]);
      return csvCell(key === "name" || decimal === "." ? text : text.replace(".", ","), separator);
    });
  });
  return [Object.keys(COLUMNS), ...rows].map((row) => `${row.join(separator)}\n`).join("");
}
