import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions, show } from "../errors/internal";
import { checkArray } from "./curve-checks";
import { checkText, isMarkup, type Content } from "./markup";

/** One column of a table. */
export interface Column {
  readonly label: string;
  /** By default numbers stand at the right and everything else at the left. */
  readonly align?: "left" | "right" | "center" | undefined;
  /** Unit of all values of the column; it goes into the heading. */
  readonly unit?: string | undefined;
}

/** A table for a page or the terminal; a cell is text, a number, or (on a page) markup made by the builders. */
export interface Table<Cell = string | number> {
  /** Says what the table shows. */
  readonly caption?: string | undefined;
  readonly columns: readonly Column[];
  /** Each as long as `columns`. */
  readonly rows: readonly (readonly Cell[])[];
}

/** A column with nothing left out. */
export interface CheckedColumn {
  readonly heading: string;
  readonly align: "left" | "right" | "center";
}

/** Checks a table and settles how its columns are set. */
export function checkTable(caller: string, table: Table<Content>, allowMarkup: boolean): readonly CheckedColumn[] {
  if (table.caption !== undefined) checkText(caller, "caption", table.caption);
  const columns = checkArray(caller, "columns", table.columns);
  if (columns.length === 0)
    throw new DividingNetworkError("invalid-argument", `${caller}: "columns" must have at least one column, got none`);
  for (const [index, row] of checkArray(caller, "rows", table.rows).entries()) {
    if (checkArray(caller, `rows[${index}]`, row).length !== columns.length) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "rows[${index}]" must have ${columns.length} cells, one a column, got ${row.length}`,
      );
    }
    for (const [place, cell] of row.entries()) {
      const good = typeof cell === "string" || (typeof cell === "number" && !Number.isNaN(cell)) || (allowMarkup && isMarkup(cell));
      if (!good)
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}: "rows[${index}][${place}]" must be text${allowMarkup ? ", a number or markup made by the builders" : " or a number"}, got ${show(cell)}`,
        );
    }
  }
  return columns.map((given, index) => {
    const column = checkOptions(caller, given, ["label", "align", "unit"]);
    const label = checkText(caller, `columns[${index}].label`, column.label);
    const unit = column.unit === undefined ? "" : checkText(caller, `columns[${index}].unit`, column.unit);
    const numeric = table.rows.length > 0 && table.rows.every((row) => typeof row[index] === "number");
    const align =
      column.align === undefined
        ? numeric
          ? "right"
          : "left"
        : checkOneOf(caller, `columns[${index}].align`, column.align, ["left", "right", "center"]);
    return { heading: unit === "" ? label : `${label} (${unit})`, align };
  });
}
