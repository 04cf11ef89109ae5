import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** The largest text that is read: characters, lines, and characters in one line. */
const largest = { characters: 64 * 1024 * 1024, lines: 2_000_000, line: 10_000 } as const;

/** A text that is being read, with what an error message needs to say where. */
export interface TextFile {
  readonly caller: string;
  readonly text: string;
  readonly name: string | undefined;
}

/** Checks a text before anything in it is read: type, size, number and length of lines, encoding. The byte-order mark is dropped. */
export function textFile(caller: string, text: unknown, name: unknown): TextFile {
  if (name !== undefined && typeof name !== "string") {
    throw new DividingNetworkError("invalid-argument", `${caller}: "file" must be the file's name, for messages, got ${show(name)}`);
  }
  if (typeof text !== "string") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "text" must be the file's content as a string, got ${show(text)}`,
      "Decode the bytes first, as UTF-8 for instance",
    );
  }
  const file: TextFile = { caller, name, text: text.charCodeAt(0) === 0xfeff ? text.slice(1) : text };
  if (text.length > largest.characters) {
    throw fileError(
      file,
      "file-too-large",
      undefined,
      `a text must have at most ${largest.characters} characters (64 Mi), got ${text.length}`,
      "Export fewer points: some thousands describe any response",
    );
  }
  let number = 0;
  for (const [start, end] of lineEnds(file.text)) {
    number++;
    if (number > largest.lines) {
      throw fileError(
        file,
        "file-too-large",
        undefined,
        `a text must have at most ${largest.lines} lines, got more`,
        "Export fewer points: some thousands describe any response",
      );
    }
    if (end - start > largest.line) {
      throw fileError(
        file,
        "line-too-long",
        number,
        `a line must have at most ${largest.line} characters, got ${end - start}`,
        "Export one line for each frequency",
      );
    }
  }
  const nul = file.text.indexOf("\0");
  if (nul >= 0) {
    const line = file.text.slice(0, nul).split(/\r\n|\n|\r/).length;
    throw fileError(
      file,
      "wrong-encoding",
      line,
      "a text must hold no NUL characters, got one",
      "The file is binary, or UTF-16 that was decoded as something else: decode it as UTF-16",
    );
  }
  return file;
}

/** The lines of a text, whether they end in LF, CR LF or CR alone. */
export function* textLines(text: string): Generator<string> {
  for (const [start, end] of lineEnds(text)) yield text.slice(start, end);
}

function* lineEnds(text: string): Generator<readonly [start: number, end: number]> {
  let [feed, back] = [text.indexOf("\n"), text.indexOf("\r")];
  for (let start = 0; start < text.length;) {
    const end = Math.min(feed < 0 ? text.length : feed, back < 0 ? text.length : back);
    yield [start, end];
    start = end + (end === back && feed === back + 1 ? 2 : 1);
    if (feed >= 0 && feed < start) feed = text.indexOf("\n", start);
    if (back >= 0 && back < start) back = text.indexOf("\r", start);
  }
}

/** An error at a place in a text: `caller: file:line: message. hint`, with the place in `issues` too. */
export function fileError(file: TextFile, code: string, line: number | undefined, message: string, hint: string): DividingNetworkError {
  const named = file.name !== undefined && file.name !== "";
  const shown = named ? show(file.name).slice(1, -1) : "";
  const place = line === undefined ? (named ? `${shown}: ` : "") : named ? `${shown}:${line}: ` : `line ${line}: `;
  const issue = { code, message, hint, ...(named ? { file: file.name } : {}), ...(line === undefined ? {} : { line }) };
  return new DividingNetworkError(code, `${file.caller}: ${place}${message}`, hint, [issue]);
}
