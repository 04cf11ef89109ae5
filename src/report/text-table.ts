import { checkNumber, checkOptions } from "../errors/internal";
import { numberText } from "./markup";
import { checkTable, type Table } from "./table";
import { columnsOf, wrapText } from "./text-width";
import { largest } from "./value-axis";

/** What `textTable` takes. */
export interface TextTableOptions extends Table {
  /** Columns of the terminal, dimensionless, 20 to 1000; 100 by default. */
  readonly width?: number | undefined;
}

/** Characters between two columns. */
const GAP = 2;

/**
 * Sets a table for the terminal, of at most `width` columns: headings, a rule of dashes, and the rows, with long
 * sentences wrapped within their column. Wide characters count as two columns and combining marks as none; control
 * characters are replaced, so that a cell cannot steer the terminal. Only a table with more columns than fit at one
 * character each becomes wider.
 *
 * @param options caption, columns, rows and the width in terminal columns (dimensionless)
 * @returns lines of text without trailing spaces, each ended by a line feed
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 */
export function textTable(options: TextTableOptions): string {
  const given = checkOptions("textTable", options, ["caption", "columns", "rows", "width"]);
  const width = checkNumber("textTable", "width", given.width ?? 100, { min: 20, max: 1000, integer: true });
  const columns = checkTable("textTable", given, false);
  const headings = columns.map(({ heading }) => plain(heading));
  const rows = given.rows.map((row) => row.map((cell) => (typeof cell === "number" ? numberText(cell, "-") : plain(cell))));

  const natural = headings.map((heading, index) => {
    const cells = [heading, ...rows.map((row) => row[index]!)];
    return Math.min(
      width,
      largest(
        cells.flatMap((cell) => cell.split("\n").map(columnsOf)),
        1,
      ),
    );
  });
  const words = headings.map((heading, index) => {
    const cells = [heading, ...rows.map((row) => row[index]!)];
    return Math.min(
      24,
      largest(
        cells.flatMap((cell) => cell.split(/\s/).map(columnsOf)),
        1,
      ),
    );
  });
  const widths = fit(natural, words, width - GAP * (columns.length - 1));

  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, index) => pad(cell, widths[index]!, columns[index]!.align))
      .join(" ".repeat(GAP))
      .trimEnd();
  const block = (cells: readonly string[]): string[] => {
    const wrapped = cells.map((cell, index) => wrapText(cell, widths[index]!, columnsOf));
    const height = Math.max(...wrapped.map(({ length }) => length));
    return Array.from({ length: height }, (_, row) => line(wrapped.map((lines) => lines[row] ?? "")));
  };
  const caption = given.caption === undefined ? [] : [...wrapText(plain(given.caption), width, columnsOf), ""];
  const lines = [...caption, ...block(headings), line(widths.map((columnWidth) => "-".repeat(columnWidth))), ...rows.flatMap(block)];
  return `${lines.join("\n")}\n`;
}

/** Text that cannot steer a terminal: line breaks stay, tabs become spaces, other control characters are replaced. */
function plain(text: string): string {
  return text
    .replace(/\r\n|[\r\u2028\u2029]/g, "\n")
    .replace(/\t/g, " ")
    .replace(/(?!\n)[\p{Cc}\p{Cs}\u202A-\u202E\u2066-\u2069]/gu, "\uFFFD");
}

/** Widths of the columns: the widest give way first, down to their longest word, and below that only if they must. */
function fit(natural: readonly number[], words: readonly number[], available: number): readonly number[] {
  const total = (widths: readonly number[]): number => widths.reduce((sum, columnWidth) => sum + columnWidth, 0);
  if (total(natural) <= available) return natural;
  for (const floor of [words, words.map(() => 1)]) {
    for (let cap = Math.max(...natural); cap >= 1; cap--) {
      const widths = natural.map((columnWidth, index) => Math.min(columnWidth, Math.max(cap, floor[index]!)));
      if (total(widths) <= available) return widths;
    }
  }
  return natural.map(() => 1);
}

function pad(text: string, width: number, align: "left" | "right" | "center"): string {
  const free = Math.max(0, width - columnsOf(text));
  const before = align === "right" ? free : align === "center" ? Math.floor(free / 2) : 0;
  return " ".repeat(before) + text + " ".repeat(free - before);
}
