import { DividingNetworkError, type Issue } from "../../errors";
import { checkOptions, errorFromIssues, show } from "../../errors/internal";
import { fileError, textFile, textLines, type TextFile } from "../../response/internal";
import { csvCells } from "./csv-line";
import { readStockLine } from "./read-stock-line";
import { MOST_LINES, stockOf } from "./stock";
import type { Stock, StockPart } from "./stock-part";

/** Columns, as they are written in the header, and the property that each gives. */
export const COLUMNS = {
  name: "name",
  kind: "kind",
  value: "value",
  tolerance: "tolerance",
  dcr: "dcr",
  esr: "esr",
  "dissipation factor": "dissipationFactor",
  power: "power",
  voltage: "voltage",
  current: "current",
  price: "price",
  count: "count",
} as const;
/** Cells that are numbers without a unit. */
const NUMBERS: readonly string[] = ["dissipationFactor", "price", "count"];
/** Cells that may have a decimal comma. */
const DECIMALS: readonly string[] = ["value", "tolerance", "dcr", "esr", "dissipationFactor", "power", "voltage", "current", "price"];
/** What an error lists at most. */
const MOST_ISSUES = 20;

/** What was decided for the whole file. */
interface Layout {
  readonly separator: string;
  /** Of each column; absent for one that is left out. */
  readonly keys: readonly (string | undefined)[];
}

/**
 * Reads a stock from a table as spreadsheets export it: one line for each part, a first line with the names of the columns: `name`, `kind`, `value`, `tolerance`,
 * `dcr`, `esr`, `dissipation factor`, `power`, `voltage`, `current`, `price`, `count`, in any order. `kind` (`resistor`, `inductor`, `capacitor`) and `value` must be there; an
 * empty cell is something that isn't known. Quantities have their unit in the cell: `6.8 µF`, `250 V`, `5 %`. Prices and counts are numbers.
 *
 * Columns are separated by commas, semicolons or tabs: whichever stands in the first line. With semicolons or tabs the decimal mark may be a comma, in the whole file. Cells may
 * stand in quotation marks. Lines that begin with `#` and empty lines are comments, and a column whose name begins with `#` is left out. Nothing else is: a column that isn't known, or a cell that
 * can't be read, is an error, which lists all such lines.
 *
 * @param text the file's content; quantities with units
 * @param options `file`, its name for messages
 * @returns the stock, in SI; counts and prices dimensionless
 * @throws DividingNetworkError `invalid-stock`, whose `issues` name each line that can't be read; `unknown-column`, `missing-column`, `duplicate-column`, `empty-file`, `too-many-parts`,
 *   and what every text may be refused for: `file-too-large`, `line-too-long`, `wrong-encoding`, `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { readStockCsv } from "dividing-network/parts";
 *
 * const drawer = readStockCsv("name;kind;value;dcr;price;count\nbox 1;capacitor;6,8 µF;;3,20;4\nbox 2;inductor;0,47 mH;0,24 Ω;5,10;2\n");
 * drawer.parts[1]!.part; // { kind: "inductor", inductance: 0.00047, dcr: 0.24 }
 * drawer.parts[0]!.price; // 3.2
 * ```
 */
export function readStockCsv(text: string, options: { readonly file?: string | undefined } = {}): Stock {
  const caller = "readStockCsv";
  const file = textFile(caller, text, checkOptions(caller, options, ["file"]).file);
  let [layout, number]: [Layout | undefined, number] = [undefined, 0];
  const parts: StockPart[] = [];
  const issues: Issue[] = [];
  const commas: Commas = {};
  for (const line of textLines(file.text)) {
    number++;
    if (/^\s*(?:#.*)?$/.test(line)) continue;
    if (layout === undefined) {
      layout = layoutOf(file, line, number);
      continue;
    }
    if (parts.length >= MOST_LINES)
      throw fileError(
        file,
        "too-many-parts",
        number,
        `a stock must have at most ${MOST_LINES} lines, got more`,
        "Leave out what no network needs",
      );
    try {
      parts.push(partOf(caller, layout, line, number, commas));
    } catch (error) {
      issues.push(issueOf(error, caller, file, number));
      if (issues.length >= MOST_ISSUES) break;
    }
  }
  if (layout === undefined)
    throw fileError(
      file,
      "empty-file",
      undefined,
      "a stock must have a first line with the names of its columns, got none",
      "Begin with: kind,value",
    );
  if (issues.length > 0) throw errorFromIssues("invalid-stock", issues.length < MOST_ISSUES ? caller : `${caller}: at least`, issues);
  return stockOf(parts);
}

/** What is wrong with a line, as one of several things. */
function issueOf(error: unknown, caller: string, { name }: TextFile, line: number): Issue {
  if (!(error instanceof DividingNetworkError)) throw error;
  const { code, message, hint } = error;
  const sentence = message.slice(`${caller}: `.length, hint === "" ? undefined : -`. ${hint}`.length);
  return {
    code,
    message: name === undefined ? `line ${line}: ${sentence}` : sentence,
    hint,
    line,
    ...(name === undefined ? {} : { file: name }),
  };
}

function layoutOf(file: TextFile, line: string, number: number): Layout {
  const separator = [";", "\t"].find((mark) => line.includes(mark)) ?? ",";
  const cells = csvCells(line, separator);
  if (typeof cells === "string") throw fileError(file, "invalid-stock", number, quoteSays(cells, line), quoteHint);
  const known = Object.keys(COLUMNS)
    .map((name) => `"${name}"`)
    .join(", ");
  const keys = cells.map((cell, column) => {
    if (cell.startsWith("#")) return undefined;
    const name = cell.toLowerCase().replace(/[\s_-]+/g, " ");
    if (!Object.hasOwn(COLUMNS, name)) {
      throw fileError(
        file,
        "unknown-column",
        number,
        `column ${column + 1} of the first line must be named one of ${known}, got ${cell === "" ? "nothing" : show(cell)}`,
        "Begin a column's name with # to leave the column out",
      );
    }
    return COLUMNS[name as keyof typeof COLUMNS];
  });
  for (const [name, key] of Object.entries(COLUMNS)) {
    const count = keys.filter((each) => each === key).length;
    if (count > 1)
      throw fileError(file, "duplicate-column", number, `a column must stand once, got "${name}" ${count} times`, "Remove one of them");
    if (count === 0 && (key === "kind" || key === "value"))
      throw fileError(
        file,
        "missing-column",
        number,
        `the first line must name a column "${name}", got ${show(line)}`,
        "Write the names of the columns above the parts, as in: name,kind,value,price,count",
      );
  }
  return { separator, keys };
}

/** On which lines the first decimal point and the first decimal comma stand. */
interface Commas {
  point?: number;
  comma?: number;
}

function partOf(caller: string, { separator, keys }: Layout, line: string, number: number, commas: Commas): StockPart {
  const refuse = (code: string, message: string, hint: string) => new DividingNetworkError(code, `${caller}: ${message}`, hint);
  const cells = csvCells(line, separator);
  if (typeof cells === "string") throw refuse("invalid-stock", quoteSays(cells, line), quoteHint);
  if (cells.length !== keys.length) {
    throw refuse(
      "column-count",
      `must have as many cells as the first line, ${keys.length}, got ${cells.length} in ${show(line)}`,
      separator === ","
        ? "With decimal commas, separate columns by semicolons; put a name that has a comma in quotation marks"
        : "Leave cells empty that aren't known, but keep the separators",
    );
  }
  const given: Record<string, unknown> = {};
  cells.forEach((cell, column) => {
    const key = keys[column];
    if (key === undefined || cell === "") return;
    const decimal = DECIMALS.includes(key) ? pointed(refuse, key, cell, separator, number, commas) : cell;
    given[key] =
      NUMBERS.includes(key) || (key !== "name" && key !== "kind" && bare.test(decimal) && unitless(key, cells[keys.indexOf("kind")]!))
        ? numberOf(refuse, key, decimal)
        : decimal;
  });
  return readStockLine(caller, "", given);
}

const bare = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,4})?$/;

/** Whether a number without a unit can only mean one thing: ohms, watts, volts, amperes, a relative tolerance below 1. */
function unitless(key: string, kind: string): boolean {
  return key !== "value" || kind === "resistor";
}

/** The cell with a decimal point. A file has one decimal mark. */
function pointed(
  refuse: (code: string, message: string, hint: string) => DividingNetworkError,
  key: string,
  cell: string,
  separator: string,
  number: number,
  commas: Commas,
): string {
  const comma = /\d,\d|^,\d/.test(cell);
  if (comma && separator === ",")
    throw refuse(
      "ambiguous-number-format",
      `"${key}" must have a decimal point in a file whose columns are separated by commas, got ${show(cell)}`,
      "Write a decimal point, or separate the columns by semicolons",
    );
  if (comma && /\d\.\d|,.*,/.test(cell))
    throw refuse(
      "ambiguous-number-format",
      `"${key}" must be written without thousands separators, got ${show(cell)}`,
      "Write 1200, not 1.200,00",
    );
  if (comma) commas.comma ??= number;
  else if (/\d\.\d/.test(cell)) commas.point ??= number;
  if (commas.comma !== undefined && commas.point !== undefined) {
    throw refuse(
      "ambiguous-number-format",
      `"${key}" must have the decimal mark of the lines before it, got ${show(cell)}, where line ${comma ? commas.point : commas.comma} has a ${comma ? "point" : "comma"}`,
      "Write one decimal mark in the whole file",
    );
  }
  return comma ? cell.replace(",", ".") : cell;
}

function numberOf(refuse: (code: string, message: string, hint: string) => DividingNetworkError, key: string, cell: string): number {
  const number = bare.test(cell) ? Number(cell) : NaN;
  if (Number.isFinite(number)) return number;
  throw refuse(
    "not-a-number",
    `"${key}" must be a number without a unit, got ${show(cell)}`,
    key === "price" ? "Leave the currency out: all prices have the same" : "Leave the cell empty where it isn't known",
  );
}

const quoteHint = "Put a cell in quotation marks as a whole, and double those inside it; a cell can't go on on the next line";

function quoteSays(wrong: "open" | "stray", line: string): string {
  return wrong === "open"
    ? `a quotation mark must be closed on the line on which it is opened, got ${show(line)}`
    : `a quotation mark must stand at the beginning and the end of a cell, got ${show(line)}`;
}
