import { show } from "../errors/internal";
import { fileError, textLines, type TextFile } from "./text-file";
import { defaultOptions, readOptionLine, resistance, type TouchstoneOptions } from "./touchstone-options";

/** A one-port file taken apart: what its head says, and its lines of network data. */
export interface TouchstoneLines {
  readonly version: "1.1" | "2.0";
  readonly options: TouchstoneOptions;
  readonly data: readonly { readonly words: readonly string[]; readonly line: number }[];
  readonly notes: readonly string[];
}

/** What is gathered on the way through a file. */
interface Head {
  version?: string;
  options?: TouchstoneOptions;
  ports?: number;
  frequencies?: number;
  reference?: number;
  /** Words are awaited on the next line, since a keyword's argument may stand there. */
  awaiting: boolean;
  inInformation: boolean;
  inData: boolean;
  ended: boolean;
}

/** Reads the comments, option line and keywords of a file and hands out its data lines. */
export function touchstoneLines(file: TextFile): TouchstoneLines {
  const head: Head = { awaiting: false, inInformation: false, inData: false, ended: false };
  const data: { words: string[]; line: number }[] = [];
  const notes: string[] = [];
  let number = 0;
  for (const raw of textLines(file.text)) {
    number++;
    const line = raw.split("!", 1)[0]!.trim();
    if (line === "") continue;
    if (head.ended) {
      notes.push(`what follows [End] was ignored, from line ${number}`);
      break;
    }
    if (head.inInformation) head.inInformation = !/^\[end information\]/i.test(line);
    else if (line.startsWith("[")) readKeyword(file, head, line, number, data.length);
    else if (head.awaiting) readReference(file, head, line, number);
    else if (line.startsWith("#")) {
      if (head.options !== undefined) notes.push(`the option line on line ${number} was ignored, since the first one counts`);
      else if (data.length > 0)
        throw fileError(
          file,
          "invalid-option-line",
          number,
          "the option line must stand above the data, got it below",
          "Move it to the top",
        );
      else head.options = readOptionLine(file, line, number);
    } else {
      if (head.version !== undefined && !head.inData)
        throw fileError(
          file,
          "missing-keyword",
          number,
          `data must stand below [Network Data], got ${show(line)}`,
          "Begin comments with !",
        );
      data.push({ words: line.split(/\s+/), line: number });
    }
  }
  const last = number === 0 ? undefined : number;
  if (data.length === 0)
    throw fileError(
      file,
      "empty-file",
      last,
      `a file must have lines of data (frequency and two numbers), got none in ${number} lines`,
      "Export the curve again",
    );
  if (head.options === undefined) notes.push("there is no option line: # GHz S MA R 50 was assumed");
  const options = head.options ?? defaultOptions;
  if (head.version === undefined) return { version: "1.1", options, data, notes };
  checkComplete(file, head, data.length, last);
  return { version: "2.0", options: { ...options, resistance: head.reference ?? options.resistance }, data, notes };
}

function readKeyword(file: TextFile, head: Head, line: string, number: number, rows: number): void {
  const [, name = "", argument = ""] = /^\[([^\]]*)\]\s*(.*)$/.exec(line) ?? [];
  const keyword = name.trim().toLowerCase().replaceAll(/\s+/g, " ");
  const wrong = (message: string, hint: string): Error => fileError(file, "invalid-keyword", number, message, hint);
  if (keyword === "version") {
    if (head.version !== undefined || head.options !== undefined || rows > 0)
      throw wrong("[Version] must stand once and first, got it later", "Move it to the top");
    if (argument !== "2.0")
      throw wrong(
        `[Version] must be 2.0, got ${argument === "" ? "nothing" : show(argument)}`,
        "Export as version 2.0, or as 1.1 without keywords",
      );
    head.version = argument;
    return;
  }
  if (head.version === undefined)
    throw wrong(
      `a keyword must stand below [Version] 2.0, got ${show(line)}`,
      "Add [Version] 2.0 as the first line, or leave out the keywords",
    );
  switch (keyword) {
    case "number of ports":
      head.ports = wholeNumber(file, keyword, argument, number);
      if (head.ports !== 1)
        throw fileError(
          file,
          "not-a-one-port",
          number,
          `[Number of Ports] must be 1, got ${head.ports}`,
          "Export the impedance as a one-port",
        );
      return;
    case "number of frequencies":
      head.frequencies = wholeNumber(file, keyword, argument, number);
      return;
    case "reference":
      if (argument === "") head.awaiting = true;
      else readReference(file, head, argument, number);
      return;
    case "matrix format":
      return;
    case "begin information":
      head.inInformation = true;
      return;
    case "network data":
      head.inData = true;
      return;
    case "end":
      head.ended = true;
      return;
    default:
      throw wrong(
        `a keyword must be one that a one-port uses ([Number of Ports], [Number of Frequencies], [Reference], [Network Data], [End]), got ${show(line)}`,
        "Export the impedance alone as a one-port",
      );
  }
}

function readReference(file: TextFile, head: Head, words: string, number: number): void {
  head.awaiting = false;
  if (/\s/.test(words))
    throw fileError(
      file,
      "invalid-reference",
      number,
      `[Reference] must hold one resistance for the one port, got ${show(words)}`,
      "Leave one number",
    );
  head.reference = resistance(file, words, number);
}

function wholeNumber(file: TextFile, keyword: string, argument: string, number: number): number {
  if (/^\d{1,9}$/.test(argument) && Number(argument) > 0) return Number(argument);
  throw fileError(
    file,
    "invalid-keyword",
    number,
    `[${keyword}] must be a whole number above 0, got ${argument === "" ? "nothing" : show(argument)}`,
    "Correct the line",
  );
}

function checkComplete(file: TextFile, head: Head, rows: number, last: number | undefined): void {
  const missing =
    head.ports === undefined
      ? "[Number of Ports]"
      : head.frequencies === undefined
        ? "[Number of Frequencies]"
        : !head.ended
          ? "[End]"
          : head.options === undefined
            ? "the option line"
            : undefined;
  if (missing !== undefined)
    throw fileError(
      file,
      "missing-keyword",
      last,
      `a version 2.0 file must have ${missing}, got none`,
      "The file may be cut off: export it again",
    );
  if (rows !== head.frequencies)
    throw fileError(
      file,
      "frequency-count",
      last,
      `there must be as many lines of data as [Number of Frequencies] says, ${head.frequencies}, got ${rows}`,
      "The file may be cut off: export it again",
    );
}
