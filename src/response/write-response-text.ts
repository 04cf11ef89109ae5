import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions, show } from "../errors/internal";
import { checkResponse } from "./check-response";
import type { FrequencyResponse } from "./sampled-function";
import type { Mark } from "./mark";
import { levelDb, magnitude } from "./level";
import { phaseDegrees } from "./phase";
import { columnNames, textColumns, type TextColumns } from "./text-columns";

/** How `writeResponseText` writes. */
export interface WriteTextOptions {
  /** What stands after the frequency. */
  readonly columns: TextColumns;
  /** Between columns, default a tab. */
  readonly separator?: "\t" | " " | "," | ";" | undefined;
  /** Decimal mark, default a point. */
  readonly decimal?: "." | "," | undefined;
  /** What 0 dB is in the unit of the response, default 1; for the columns in dB only. */
  readonly reference?: number | undefined;
  /** Lines of comment above the heading, each of at most 1000 characters. */
  readonly comment?: string | undefined;
}

/**
 * Writes a response as text that `readResponseText` reads: comment lines that begin with `#` (the comment, the marks, a heading
 * with the units), then one line for each frequency in Hz.
 *
 * Numbers have the fewest digits that give the same number again, so that `re-im` comes back bit for bit; levels and phases
 * do too, and the values made from them agree to about 1e-14. With `"db"` the phase is left out.
 *
 * @param response frequencies above 0 Hz
 * @param options `columns`, `separator`, `decimal`, `reference`, `comment`: see `WriteTextOptions`
 * @returns the text, lines ending in LF
 * @throws DividingNetworkError `frequency-not-positive`, `zero-level` for a zero in columns of dB (use `re-im`),
 * `invalid-response`, `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { frequencyResponse, writeResponseText } from "dividing-network";
 *
 * const response = frequencyResponse([100, 1000], [8, 6.5], [0, 2.5]);
 * writeResponseText(response, { columns: "re-im", separator: ";", decimal: "," }).split("\n")[2]; // "1000;6,5;2,5"
 * ```
 */
export function writeResponseText(response: FrequencyResponse, options: WriteTextOptions): string {
  const caller = "writeResponseText";
  const { frequencies, re, im, marks = [] } = checkResponse(caller, "response", response);
  const given = checkOptions(caller, options, ["columns", "separator", "decimal", "reference", "comment"]);
  const { columns, separator = "\t", decimal = ".", reference, comment = "" } = given;
  checkOneOf(caller, "columns", columns, textColumns);
  checkOneOf(caller, "separator", separator, ["\t", " ", ",", ";"]);
  checkOneOf(caller, "decimal", decimal, [".", ","]);
  if (decimal === "," && separator === ",") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "separator" must differ from "decimal", got "," for both`,
      'Separate with ";" or a tab',
    );
  }
  const commentLines = checkedComment(caller, comment);
  const inDb = columns === "db" || columns === "db-degrees";
  if (reference !== undefined && !inDb) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "reference" must be left out unless the columns are in dB, got ${show(reference)} with "${columns}"`,
    );
  }
  const values =
    columns === "re-im"
      ? [re, im]
      : [
          inDb ? levelDb(response, reference === undefined ? {} : { reference }) : magnitude(response),
          ...(columns === "db" ? [] : [phaseDegrees(response)]),
        ];
  const lines = [...commentLines, ...marks.map(markLine), columnNames[columns].join(separator)].map((line) => `# ${line}`.trimEnd());
  for (let i = 0; i < frequencies.length; i++) {
    if (!(frequencies[i]! > 0)) {
      throw new DividingNetworkError(
        "frequency-not-positive",
        `${caller}: frequencies must be above 0 Hz in a text file, got ${frequencies[i]} Hz`,
        "Leave that point out",
      );
    }
    if (inDb && values[0]![i] === -Infinity) {
      throw new DividingNetworkError(
        "zero-level",
        `${caller}: the response must not be zero where it is written in dB, got 0 at ${frequencies[i]} Hz`,
        'Write columns: "re-im", or leave that point out',
      );
    }
    lines.push([frequencies, ...values].map((column) => shortest(column[i]!, decimal)).join(separator));
  }
  return `${lines.join("\n")}\n`;
}

/** The lines of a comment, each short enough to be read again. */
export function checkedComment(caller: string, comment: unknown): string[] {
  const lines = typeof comment === "string" ? comment.split(/\r\n|\n|\r/) : undefined;
  if (lines === undefined || lines.some((line) => line.length > 1000 || line.includes("\0"))) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "comment" must be text with lines of at most 1000 characters, got ${show(comment)}`,
    );
  }
  return comment === "" ? [] : lines;
}

/** One line that says what a mark says. */
export function markLine({ kind, from, to, note }: Mark): string {
  const band = `${from === undefined ? "the lowest frequency" : `${from} Hz`} to ${to === undefined ? "the highest" : `${to} Hz`}`;
  return `${kind}, ${band}: ${note}`.replaceAll(/[\r\n\0]/g, " ").slice(0, 1000);
}

/** The fewest digits that read back as the same number, the sign of a zero included. */
export function shortest(value: number, decimal: "." | "," = "."): string {
  const text = Object.is(value, -0) ? "-0" : String(value);
  return decimal === "," ? text.replace(".", ",") : text;
}
