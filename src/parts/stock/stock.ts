import { DividingNetworkError } from "../../errors";
import { checkList, isProven, proved, show } from "../../errors/internal";
import { readStockLine, writeStockLine } from "./read-stock-line";
import type { BoughtPart, Stock, StockLine, StockPart } from "./stock-part";

/** No stock has more lines. */
export const MOST_LINES = 20_000;

/**
 * The parts that can be had: a drawer, a shop's list, or both. Each line says what a part is and what is known of it; quantities are numbers in SI or text
 * with their unit. A line without a count can be had as often as it is wanted. What a line doesn't say stays unknown: it isn't guessed.
 *
 * A part made with `resistor`, `inductor` or `capacitor` is a line as well, and so is a line of another stock: `stock([...a.parts, ...b.parts])`. The lines
 * may come from JSON: `stockToJSON` is the way back.
 *
 * @param lines kind and value of each, with losses (Ω; dissipation factor dimensionless), tolerance (dimensionless), ratings (W, V, A), price and count (dimensionless)
 * @returns the stock, in SI
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity` or `unknown-option`, naming the line by its index; `too-many-parts` beyond 20,000 lines
 * @example
 * ```ts
 * import { stock } from "dividing-network/parts";
 *
 * const drawer = stock([
 *   { kind: "capacitor", value: "6.8 µF", dissipationFactor: 0.002, tolerance: "5 %", voltage: "250 V", price: 3.2, count: 4, name: "film, box 2" },
 *   { kind: "inductor", value: "0.47 mH", dcr: "0.24 Ω", count: 2 },
 *   { kind: "resistor", value: "4R7", power: "10 W" },
 * ]);
 * drawer.parts[0]!.part; // { kind: "capacitor", dissipationFactor: 0.002 }
 * drawer.parts[2]!.name; // "Resistor 4.7 Ω, rated 10 W"
 * ```
 */
export function stock(lines: readonly (StockLine | StockPart | BoughtPart)[]): Stock {
  const caller = "stock";
  const list = checkList<unknown>(caller, "lines", lines, "lines of a stock");
  if (list.length > MOST_LINES)
    throw new DividingNetworkError(
      "too-many-parts",
      `${caller}: "lines" must have at most ${MOST_LINES} lines, got ${list.length}`,
      "Leave out what no network needs",
    );
  return stockOf(list.map((line, index) => readStockLine(caller, `lines[${index}]`, asLine(line))));
}

/**
 * A stock as plain JSON, an array of lines with their quantities as text: what `stock` reads back to the last bit.
 *
 * @param drawer from `stock` or `readStockCsv`
 * @returns lines with units in their text; prices and counts dimensionless
 * @throws DividingNetworkError `invalid-argument` for what is no stock
 * @example
 * ```ts
 * import { stock, stockToJSON } from "dividing-network/parts";
 *
 * stockToJSON(stock([{ kind: "resistor", value: 4.7, tolerance: 0.05 }])); // [{ name: "Resistor 4.7 Ω, ±5 %", kind: "resistor", value: "4.7 Ω", tolerance: "5 %" }]
 * ```
 */
export function stockToJSON(drawer: Stock): readonly StockLine[] {
  return Object.freeze(checkStock("stockToJSON", "drawer", drawer).parts.map(writeStockLine));
}

/** The lines of a stock, checked by whoever read them. */
export function stockOf(parts: readonly StockPart[]): Stock {
  return proved("stock", Object.freeze({ parts: Object.freeze([...parts]) }));
}

/** A stock, or the lines of one, as an argument; what was checked before isn't checked again. */
export function checkStock(caller: string, argument: string, value: unknown): Stock {
  if (isProven("stock", value)) return value as Stock;
  const list: unknown = Array.isArray(value)
    ? value
    : typeof value === "object" && value !== null && "parts" in value
      ? value.parts
      : undefined;
  if (!Array.isArray(list))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a stock or an array of its lines, got ${show(value)}`,
      'Call stock([{ kind: "capacitor", value: "6.8 µF" }, …]) or readStockCsv',
    );
  if (list.length > MOST_LINES)
    throw new DividingNetworkError(
      "too-many-parts",
      `${caller}: "${argument}" must have at most ${MOST_LINES} lines, got ${list.length}`,
      "Leave out what no network needs",
    );
  return stockOf(Array.from(list as readonly unknown[], (line, index) => readStockLine(caller, `${argument}[${index}]`, asLine(line))));
}

/** A part and a line that was read, as lines; a line stays one. */
function asLine(line: unknown): unknown {
  if (typeof line !== "object" || line === null || Array.isArray(line) || isProven("line of a stock", line)) return line;
  if (!("kind" in line) && "part" in line) {
    const { part, lossKnown, ...facts } = line as Partial<StockPart>;
    return typeof part === "object" && part !== null ? { ...facts, ...lineOf(part, lossKnown === true) } : line;
  }
  return "value" in line ? line : lineOf(line as BoughtPart, false);
}

const VALUES = [
  ["resistor", "resistance"],
  ["inductor", "inductance"],
  ["capacitor", "capacitance"],
] as const;

/** The part's own key for its value becomes `value`. A loss of 0 is none that anyone stated, unless the line says so. */
function lineOf(part: BoughtPart, known: boolean): object {
  const key = VALUES.find(([kind]) => kind === part.kind)?.[1];
  if (key === undefined) return part;
  const { [key as string]: value, ...rest } = part as unknown as Record<string, unknown>;
  if (value === undefined) return part;
  const zero =
    part.kind === "capacitor" && known && rest["dissipationFactor"] === 0
      ? ["dissipationFactor"]
      : ["dcr", "esr", "dissipationFactor"].filter((loss) => rest[loss] === 0 && !(known && loss === "dcr"));
  return { ...Object.fromEntries(Object.entries(rest).filter(([name]) => !zero.includes(name))), value };
}
