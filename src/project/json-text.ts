import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** A step into JSON: a key of an object or an index of an array. */
export type JsonPath = readonly (string | number)[];

const deepest = 60;

interface Scan {
  readonly text: string;
  readonly file: string;
  at: number;
}

/**
 * Reads JSON strictly, so that every mistake has a line and a column: unlike `JSON.parse` it refuses a key that stands twice in one
 * object and numbers beyond what a double holds, and `__proto__` is a key like any other.
 */
export function readJson(text: string, file: string): unknown {
  const scan: Scan = { text, file, at: text.charCodeAt(0) === 0xfeff ? 1 : 0 };
  const result = value(scan, 0);
  skip(scan);
  if (scan.at < text.length) throw wrong(scan, "the text must end after the closing brace", "Remove what follows");
  return result;
}

/** The line, counted from 1, of what stands at a path in a text that `readJson` has read; of what holds it, when it isn't there. */
export function lineOf(text: string, path: JsonPath): number {
  const scan: Scan = { text, file: "", at: text.charCodeAt(0) === 0xfeff ? 1 : 0 };
  return place(text, find(scan, path, 0)).line;
}

function find(scan: Scan, path: JsonPath, step: number): number {
  skip(scan);
  const start = scan.at;
  const open = scan.text[start];
  const wanted = path[step];
  if (wanted === undefined || (open !== "{" && open !== "[")) return start;
  scan.at++;
  for (let index = 0; ; index++) {
    skip(scan);
    if ("}]".includes(scan.text[scan.at]!)) return start;
    const key = open === "{" ? string(scan) : index;
    skip(scan);
    if (open === "{") scan.at++;
    if (key === wanted) return find(scan, path, step + 1);
    value(scan, 0);
    skip(scan);
    if (scan.text[scan.at] === ",") scan.at++;
  }
}

function value(scan: Scan, depth: number): unknown {
  skip(scan);
  if (depth > deepest)
    throw wrong(scan, `arrays and objects must stand at most ${deepest} deep in one another`, "A project file needs no more than eight");
  const first = scan.text[scan.at];
  if (first === "{") return object(scan, depth);
  if (first === "[") return array(scan, depth);
  if (first === '"') return string(scan);
  for (const [word, meaning] of [
    ["true", true],
    ["false", false],
    ["null", null],
  ] as const) {
    if (scan.text.startsWith(word, scan.at)) {
      scan.at += word.length;
      return meaning;
    }
  }
  return number(scan);
}

function object(scan: Scan, depth: number): unknown {
  const result = {};
  scan.at++;
  skip(scan);
  if (scan.text[scan.at] === "}") return (scan.at++, result);
  for (;;) {
    skip(scan);
    if (scan.text[scan.at] !== '"') throw wrong(scan, "a key in double quotation marks must stand here", afterComma(scan, "}"));
    const start = scan.at;
    const key = string(scan);
    if (Object.hasOwn(result, key)) {
      scan.at = start;
      throw wrong(scan, `a key must stand once in an object, found ${show(key)} a second time`, "Remove one of the two", "duplicate-key");
    }
    skip(scan);
    if (scan.text[scan.at] !== ":") throw wrong(scan, `a colon must follow the key ${show(key)}`, 'Write "key": value');
    scan.at++;
    // Not an assignment: that of "__proto__" would replace the prototype.
    Object.defineProperty(result, key, { value: value(scan, depth + 1), enumerable: true, writable: true, configurable: true });
    skip(scan);
    if (scan.text[scan.at] === "}") return (scan.at++, result);
    if (scan.text[scan.at] !== ",") throw wrong(scan, "a comma or a closing brace must stand here", "Put a comma between two entries");
    scan.at++;
  }
}

function array(scan: Scan, depth: number): unknown[] {
  const result: unknown[] = [];
  scan.at++;
  skip(scan);
  if (scan.text[scan.at] === "]") return (scan.at++, result);
  for (;;) {
    result.push(value(scan, depth + 1));
    skip(scan);
    if (scan.text[scan.at] === "]") return (scan.at++, result);
    if (scan.text[scan.at] !== ",") throw wrong(scan, "a comma or a closing bracket must stand here", "Put a comma between two entries");
    scan.at++;
    skip(scan);
    if (scan.text[scan.at] === "]") throw wrong(scan, "a value must stand here", afterComma(scan, "]"));
  }
}

function string(scan: Scan): string {
  const start = scan.at;
  for (scan.at++; scan.at < scan.text.length; scan.at++) {
    const code = scan.text.charCodeAt(scan.at);
    if (code < 0x20)
      throw wrong(
        scan,
        "a text must end on the line on which it begins, without control characters",
        "Write \\n for a new line, \\t for a tab",
      );
    if (code === 0x5c) scan.at++;
    else if (code === 0x22) {
      scan.at++;
      try {
        return JSON.parse(scan.text.slice(start, scan.at)) as string;
      } catch {
        scan.at = start;
        throw wrong(scan, "a text must have only the escapes that JSON knows", "Write \\\\ for a backslash; paths have forward slashes");
      }
    }
  }
  scan.at = start;
  throw wrong(scan, "a text must have a closing quotation mark", 'Add the missing "');
}

const numeral = /-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][+-]?[0-9]+)?/y;

function number(scan: Scan): number {
  numeral.lastIndex = scan.at;
  const found = numeral.exec(scan.text)?.[0];
  const next = found === undefined ? undefined : scan.text[scan.at + found.length];
  if (found === undefined || (next !== undefined && /[\w.+$'-]/.test(next))) {
    throw wrong(
      scan,
      "a value must stand here: an object, an array, a text, a number, true, false or null",
      'Numbers are written as 0.5 or 1e-3; a quantity with its unit is a text: "0.47 mH"',
    );
  }
  const result = Number(found);
  if (!Number.isFinite(result)) throw wrong(scan, "a number must be within what a double holds", "Correct the exponent");
  scan.at += found.length;
  return result;
}

function afterComma({ text, at }: Scan, close: string): string {
  return text[at] === close ? "Remove the comma before it" : "JSON has neither comments nor single quotation marks";
}

function skip(scan: Scan): void {
  while (scan.at < scan.text.length && " \t\r\n".includes(scan.text[scan.at]!)) scan.at++;
}

function place(text: string, at: number): { readonly line: number; readonly column: number } {
  const before = text.slice(0, at).split(/\r\n|\r|\n/);
  return { line: before.length, column: before[before.length - 1]!.length + 1 };
}

function wrong({ text, file, at }: Scan, message: string, hint: string, code = "invalid-json"): DividingNetworkError {
  const { line, column } = place(text, at);
  const rest = text.slice(at, at + 20).split(/[\r\n]/)[0]!;
  const found = at >= text.length ? "the end of the text" : rest === "" ? "the end of the line" : show(rest);
  const sentence = code === "duplicate-key" ? message : `${message}, got ${found}`;
  return new DividingNetworkError(code, `parseProject: ${file}:${line}:${column}: ${sentence}`, hint, [
    { code, message: sentence, hint, file, line },
  ]);
}
