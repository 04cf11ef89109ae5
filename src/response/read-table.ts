import { show } from "../errors/internal";
import { newSurvey, numberFormat, splitLine, surveyLine, type NumberFormat } from "./number-format";
import { fileError, textLines, type TextFile } from "./text-file";
import { startsLikeNumber, textNumber } from "./text-number";

/** The numbers of a text file, column by column, frequencies first. */
export interface Table {
  readonly columns: readonly (readonly number[])[];
  /** The line that each number stands on, counted from 1. */
  readonly lines: readonly number[];
  readonly notes: readonly string[];
}

/** What the first look at a file found. */
interface Layout {
  readonly format: NumberFormat;
  /** Columns on every data line. */
  readonly columns: number;
  /** Names of the columns, when the line above the data has as many words. */
  readonly names: readonly string[];
  readonly notes: readonly string[];
}

/** Reads the columns asked for, named for messages, from a text of data lines, comments and headers. */
export function readTable(file: TextFile, wanted: readonly string[]): Table {
  const layout = findLayout(file, wanted);
  const columns = wanted.map((): number[] => []);
  const lines: number[] = [];
  let number = 0;
  for (const raw of textLines(file.text)) {
    number++;
    const line = raw.trim();
    if (line === "" || isComment(line)) continue;
    if (lines.length === 0 && !startsLikeNumber(line)) continue;
    readRow(file, layout, wanted, line, number).forEach((value, c) => columns[c]!.push(value));
    lines.push(number);
  }
  checkOrder(file, columns[0]!, lines);
  if (lines.length < 2) {
    throw fileError(
      file,
      "too-few-points",
      lines[0],
      `a response must have at least 2 points, got ${lines.length}`,
      "Export the whole curve",
    );
  }
  return { columns, lines, notes: layout.notes };
}

/** The marks that begin a comment; a quotation mark begins a heading in words. */
function isComment(line: string): boolean {
  return /^(?:[*#;%!]|\/\/|"(?!\s*[+\-\u2212]?[.,]?\d))/.test(line);
}

function findLayout(file: TextFile, wanted: readonly string[]): Layout {
  const survey = newSurvey();
  const notes: string[] = [];
  let [number, first, above] = [0, "", ""];
  for (const raw of textLines(file.text)) {
    number++;
    const line = raw.trim();
    if (line === "") continue;
    if (line.startsWith('"') && !isComment(line)) {
      throw fileError(
        file,
        "not-a-number",
        number,
        `numbers must stand without quotation marks, got ${show(line)}`,
        "Export without quotation marks, or remove them",
      );
    }
    if (startsLikeNumber(line)) {
      first ||= line;
      surveyLine(survey, line, number);
    } else if (first === "") {
      above = line.replace(/^(?:[*#;%!"]|\/\/)+\s*/, "");
      if (isComment(line)) continue;
      if (looksLikeData(line)) {
        throw fileError(
          file,
          "not-a-number",
          number,
          `a line of numbers must begin with a frequency in Hz, got ${show(line)}`,
          "Begin comment lines with # or *",
        );
      }
      if (notes.length < 20) notes.push(`line ${number} was taken as a header: ${show(line)}`);
    }
  }
  if (first === "") {
    throw fileError(
      file,
      "empty-file",
      number === 0 ? undefined : number,
      `a text must have lines of numbers (${wanted.join(", ")}), got none in ${number} lines`,
      "Export the curve again as text",
    );
  }
  const format = numberFormat(file, survey, wanted.length, first.split(",").length, above.split(",").length);
  const columns = splitLine(first, format.separator).length;
  const headings = above.includes("\t") ? above.split(/\t+/) : splitLine(above, format.separator);
  const names = headings.length === columns ? headings.map((heading) => heading.replaceAll('"', "")) : [];
  if (format.decimal === ",") notes.push("the comma was read as the decimal mark");
  for (let c = wanted.length; c < columns && c < wanted.length + 20; c++) {
    notes.push(`column ${c + 1}${names[c] === undefined ? "" : ` (${show(names[c])})`} was ignored`);
  }
  return { format, columns, names, notes };
}

/** Whether a line that does not begin with a number goes on with at least two: a broken data line rather than a header. */
function looksLikeData(line: string): boolean {
  const rest = line.split(/[\s;]+|,\s+/).slice(1);
  return rest.length >= 2 && rest.every((word) => textNumber(word.replace(",", "."), ".") !== undefined);
}

function readRow(file: TextFile, layout: Layout, wanted: readonly string[], line: string, number: number): number[] {
  const { format, columns, names } = layout;
  const words = splitLine(line, format.separator);
  if (words.length < wanted.length) {
    const hint = wanted.length === 3 ? 'Without a measured phase, read with columns: "db"' : "Export frequency and level";
    throw fileError(
      file,
      "too-few-columns",
      number,
      `a line must have ${wanted.length} columns (${wanted.join(", ")}), got ${words.length} in ${show(line)}`,
      hint,
    );
  }
  const values = wanted.map((name, c) => {
    const word = words[c]!;
    const value = textNumber(word, format.decimal);
    const where = `column ${c + 1}${names[c] === undefined ? "" : ` (${show(names[c])})`}`;
    if (value === undefined) {
      throw fileError(
        file,
        "not-a-number",
        number,
        `${where}, ${name}, must be a finite number, got ${word === "" ? "nothing" : show(word)}`,
        "Leave such lines out, units too; begin comment lines with # or *",
      );
    }
    if (!Number.isFinite(value)) {
      throw fileError(
        file,
        "number-out-of-range",
        number,
        `${where}, ${name}, must be within what a number can hold, got ${show(word)}`,
        "Correct or leave out that line",
      );
    }
    return value;
  });
  if (words.length !== columns) {
    throw fileError(
      file,
      "column-count",
      number,
      `every line must have as many columns as the first line of numbers, ${columns}, got ${words.length} in ${show(line)}`,
      "Fill or remove the columns that are not on every line; write numbers without thousands separators",
    );
  }
  if (!(values[0]! > 0)) {
    throw fileError(
      file,
      "frequency-not-positive",
      number,
      `a frequency must be above 0 Hz, got ${show(words[0])}`,
      "Leave out lines at 0 Hz and below",
    );
  }
  return values;
}

function checkOrder(file: TextFile, frequencies: readonly number[], lines: readonly number[]): void {
  const at = frequencies.findIndex((f, i) => i > 0 && !(f > frequencies[i - 1]!));
  if (at < 0) return;
  const [f, last] = [frequencies[at]!, frequencies[at - 1]!];
  if (f === last) {
    throw fileError(
      file,
      "duplicate-frequency",
      lines[at],
      `each frequency must stand once, got ${f} Hz here and on line ${lines[at - 1]}`,
      "Leave out one of the two lines",
    );
  }
  const falling = frequencies.every((each, i) => i === 0 || each < frequencies[i - 1]!);
  throw fileError(
    file,
    "unsorted-frequencies",
    lines[at],
    `frequencies must ascend, got ${f} Hz after ${last} Hz${falling ? ", and so on in descending order to the end" : ""}`,
    falling ? "Reverse the order of the lines" : "Sort the lines by frequency; two sweeps in one file are two files",
  );
}
