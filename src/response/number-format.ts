import { fileError, type TextFile } from "./text-file";

/** How the numbers of a file are written and kept apart; a space stands for any run of spaces and tabs. */
export interface NumberFormat {
  readonly separator: " " | "," | ";";
  readonly decimal: "." | ",";
}

/** What the data lines of a file contain, gathered line by line. */
export interface Survey {
  semicolon: boolean;
  point: boolean;
  /** A comma with something on both sides: `20,5`. */
  tightComma: boolean;
  /** A comma next to a space, another comma or the end of the line: `20, 5`. */
  looseComma: boolean;
  /** Space between two words without a comma or semicolon: `20 5`. */
  gap: boolean;
  /** A tight comma that could group thousands: `1,234.5`. */
  grouped: boolean;
  /** Line, counted from 1, that first showed a comma. */
  commaLine: number;
}

/** An empty survey. */
export function newSurvey(): Survey {
  return { semicolon: false, point: false, tightComma: false, looseComma: false, gap: false, grouped: false, commaLine: 0 };
}

/** Adds one trimmed data line to a survey. */
export function surveyLine(survey: Survey, line: string, number: number): void {
  survey.semicolon ||= line.includes(";");
  survey.point ||= line.includes(".");
  survey.gap ||= /[^\s,;]\s+[^\s,;]/.test(line);
  if (!line.includes(",")) return;
  survey.tightComma ||= /[^\s,;],[^\s,;]/.test(line);
  survey.looseComma ||= /(?:^|[\s,;]),|,(?:$|[\s,;])/.test(line);
  survey.grouped ||= /(?:^|[\s,;+\-\u2212])\d{1,3},\d{3}(?!\d)/.test(line);
  survey.commaLine ||= number;
}

/**
 * Decides how the numbers of a file are written, by one rule for the whole file: semicolons separate when there are any;
 * without commas, space separates; commas separate when there are decimal points; without points, commas next to numbers are
 * decimal marks when space separates, and separate when followed by space or when that gives the columns asked for (or as many as
 * the header names). Everything else is refused. Thousands separators are never read.
 *
 * @param columns how many columns are needed
 * @param fields how many commas plus one the first data line has
 * @param headings how many commas plus one the line above the data has
 */
export function numberFormat(file: TextFile, survey: Survey, columns: number, fields: number, headings: number): NumberFormat {
  const { semicolon, point, tightComma, looseComma, gap, grouped, commaLine } = survey;
  const comma = tightComma || looseComma;
  const refuse = (found: string): Error =>
    fileError(
      file,
      "ambiguous-number-format",
      commaLine,
      `numbers must be written in one way, with a point or a comma as the decimal mark and no thousands separators, got ${found}`,
      "Export with decimal points and columns separated by tabs or semicolons",
    );
  if (semicolon) {
    if (comma && point) throw refuse("both commas and points between semicolons");
    return { separator: ";", decimal: comma ? "," : "." };
  }
  if (!comma) return { separator: " ", decimal: "." };
  if (point) {
    if (gap) throw refuse("commas, points and spaces all between digits");
    if (grouped && looseComma && tightComma) throw refuse("commas both with and without a space after them, beside points");
    return { separator: ",", decimal: "." };
  }
  if (gap && !looseComma) return { separator: " ", decimal: "," };
  if (gap) throw refuse("commas followed by space beside numbers separated by space alone");
  if (!tightComma) return { separator: ",", decimal: "." };
  if (looseComma) throw refuse("commas both with and without a space after them");
  if (fields === columns || fields === headings) return { separator: ",", decimal: "." };
  throw refuse(`whole numbers between commas, ${fields} on a line where ${columns} columns are needed, which could be decimal commas`);
}

/** The words of a trimmed line; one separator at its end is not followed by a word. */
export function splitLine(line: string, separator: NumberFormat["separator"]): string[] {
  if (separator === " ") return line.split(/\s+/);
  const words = line.split(separator).map((word) => word.trim());
  if (words.length > 1 && words.at(-1) === "") words.pop();
  return words;
}
