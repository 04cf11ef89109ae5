import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions, show } from "../errors/internal";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { unitPhasor } from "./from-level-and-phase";
import { readTable } from "./read-table";
import { columnNames, textColumns, type TextColumns } from "./text-columns";
import { fileError, textFile } from "./text-file";

/** What was read from a text file. */
export interface ResponseText {
  /** What the text holds. */
  readonly response: FrequencyResponse;
  /** What a reader should know about the reading: a header taken, a column ignored, a decimal comma; one sentence each. */
  readonly notes: readonly string[];
}

const noPhase: Mark = /* @__PURE__ */ Object.freeze({ kind: "model", note: "No phase was measured: it stands at zero" });

/**
 * Reads a response from a text with one line for each frequency in Hz, in ascending order: frequency, then what `columns`
 * says, in dB and degrees, Ω and degrees, or the unit of the response. Further columns are ignored with a note.
 *
 * Lines that begin with one of `* # ; // % ! "` are comments, and so are lines of words above the first number. A byte-order
 * mark is dropped; lines end in LF, CR LF or CR. Every data line has the same number of columns. How numbers are written is decided
 * once for the whole file: semicolons separate columns when there are any; without commas, spaces and tabs do; commas separate when
 * there are decimal points; without points, commas between digits are decimal marks when spaces or tabs separate (`1,234 5,678` is
 * 1.234 and 5.678), and separate when a space follows each or when that gives the very columns asked for (or named in the
 * header). What is left is ambiguous and refused. Thousands separators are never read. At most 64 Mi characters, 2 000 000 lines
 * and 10 000 characters in a line.
 *
 * With `columns: "db"` the phase stands at zero and a mark of kind `"model"` says so.
 *
 * @param text the file's content
 * @param options `columns`; `file`, its name for messages; `reference`, what 0 dB is in the unit of the response, above 0,
 * default 1 (20e-6 for a pressure in Pa), for the columns in dB only
 * @returns the response, in the unit of the reference, Ω, or the file's own; and notes
 * @throws DividingNetworkError naming file and line: `empty-file`, `too-few-points`, `file-too-large`, `line-too-long`,
 * `wrong-encoding`, `ambiguous-number-format`, `too-few-columns`, `column-count`, `not-a-number`, `number-out-of-range`,
 * `frequency-not-positive`, `unsorted-frequencies`, `duplicate-frequency`, `negative-magnitude`; `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { levelDb, readResponseText } from "dividing-network";
 *
 * const { response, notes } = readResponseText("* tweeter, 1 m\n1000;85,2;-30,5\n2000;86,1;-61\n", { columns: "db-degrees" });
 * levelDb(response); // [85.2, 86.1]
 * notes; // ["the comma was read as the decimal mark"]
 * ```
 */
export function readResponseText(
  text: string,
  options: { readonly columns: TextColumns; readonly file?: string | undefined; readonly reference?: number | undefined },
): ResponseText {
  const caller = "readResponseText";
  const { columns, file: name, reference } = checkOptions(caller, options, ["columns", "file", "reference"]);
  checkOneOf(caller, "columns", columns, textColumns);
  const inDb = columns === "db" || columns === "db-degrees";
  if (reference !== undefined && !inDb) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "reference" must be left out unless the columns are in dB, got ${show(reference)} with "${columns}"`,
    );
  }
  const unit = checkNumber(caller, "reference", reference ?? 1, { above: 0 });
  const file = textFile(caller, text, name);
  const table = readTable(file, columnNames[columns]);
  const n = table.lines.length;
  const [frequencies, re, im] = [Float64Array.from(table.columns[0]!), new Float64Array(n), new Float64Array(n)];
  const [, first, second] = table.columns as [number[], number[], number[]?];
  for (let i = 0; i < n; i++) {
    const value = first[i]!;
    if (columns === "re-im") {
      re[i] = value;
      im[i] = second![i]!;
      continue;
    }
    const size = inDb ? unit * 10 ** (value / 20) : value;
    if (!inDb && value < 0) {
      throw fileError(
        file,
        "negative-magnitude",
        table.lines[i],
        `the magnitude of an impedance must be at least 0 Ω, got ${value}`,
        'Check that the second column holds ohms; decibels are read with columns: "db-degrees"',
      );
    }
    if (inDb && !(size > 0 && size < Infinity)) {
      throw fileError(
        file,
        "number-out-of-range",
        table.lines[i],
        `a level must be within what a number can hold, got ${value} dB`,
        "Check that the second column holds decibels",
      );
    }
    const [c, s] = unitPhasor(second === undefined ? 0 : second[i]!);
    re[i] = size * c;
    im[i] = size * s;
  }
  const response = freezeResponse(frequencies, re, im, columns === "db" ? [noPhase] : []);
  const notes = columns === "re-im" ? table.notes : [...table.notes, ...phaseNotes(second)];
  return Object.freeze({ response, notes: Object.freeze([...notes]) });
}

/** A phase that fills ±π but not more is likely to be in radians. */
function phaseNotes(phases: readonly number[] = []): string[] {
  const widest = phases.reduce((most, phase) => Math.max(most, Math.abs(phase)), 0);
  return widest > 2.5 && widest < 3.1416 ? ["no phase is beyond 3.1416: if the file holds radians, convert them to degrees first"] : [];
}
