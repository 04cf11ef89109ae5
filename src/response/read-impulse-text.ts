import { DividingNetworkError } from "../errors";
import { checkOptions, show } from "../errors/internal";
import type { Frequency, Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { freezeImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";

const longest = 2 ** 24;

/**
 * Reads an impulse response from text: one value a line with a stated sampling rate, or time in s and value, in the value's unit.
 *
 * Columns are separated by spaces, tabs, semicolons or commas; decimal commas are refused. Empty lines are skipped, and so are lines
 * that do not begin with a number, up to the first that does: headers. Times must be equally spaced, to 1% of a step.
 *
 * @param text contents of the file
 * @param options `sampleRate` in Hz for one column; `startTime` in s of the first value then, default 0; `name` of the file for messages
 * @returns samples in the unit of the text, sampling rate in Hz, start time in s
 * @throws DividingNetworkError `invalid-text` with file and line
 * @example
 * ```ts
 * import { readImpulseText } from "dividing-network/response";
 *
 * readImpulseText("time value\n0 0\n0.001 1\n0.002 0.5").sampleRate; // 1000
 * ```
 */
export function readImpulseText(
  text: string,
  options?: { readonly sampleRate?: Frequency | undefined; readonly startTime?: Time | undefined; readonly name?: string | undefined },
): ImpulseResponse {
  const caller = "readImpulseText";
  const { sampleRate, startTime, name = "text" } = checkOptions(caller, options, ["sampleRate", "startTime", "name"]);
  if (typeof text !== "string") throw new DividingNetworkError("invalid-argument", `${caller}: "text" must be a string, got ${show(text)}`);
  const wrong = (line: number, what: string, hint = ""): DividingNetworkError =>
    new DividingNetworkError("invalid-text", `${caller}: ${name}:${line}: ${what}`, hint, [
      { code: "invalid-text", message: what, hint, file: name, line },
    ]);
  if (/\d,\d/.test(text) && !text.includes("."))
    throw wrong(1, "numbers must have a decimal point, got decimal commas", "Replace the decimal commas by points");
  const times: number[] = [];
  const values: number[] = [];
  let columns = 0;
  const lines = text.split(/\r\n|\r|\n/);
  for (const [i, whole] of lines.entries()) {
    const fields = whole
      .trim()
      .split(/[;\t ,]+/)
      .filter((field) => field !== "");
    if (fields.length === 0) continue;
    const numbers = fields.map(strictNumber);
    if (numbers.includes(Infinity) || numbers.includes(-Infinity)) throw wrong(i + 1, `numbers must be finite, got ${show(whole.trim())}`);
    if (numbers[0] === undefined) {
      if (columns === 0) continue;
      throw wrong(i + 1, `a line must begin with a number, got ${show(whole.trim())}`);
    }
    if (columns === 0) columns = numbers.length;
    if (numbers.length !== columns || numbers.includes(undefined) || columns > 2) {
      throw wrong(
        i + 1,
        `a line must hold ${columns === 1 ? "one number" : "time and value"}, got ${show(whole.trim())}`,
        "Write numbers with a decimal point, and leave out further columns",
      );
    }
    if (columns === 2) times.push(numbers[0]);
    values.push(numbers[columns - 1]!);
    if (values.length > longest) throw wrong(i + 1, `there must be at most ${longest} values`);
  }
  if (values.length < (columns === 2 ? 2 : 1))
    throw wrong(lines.length, `there must be at least ${columns === 2 ? "two values" : "one value"}, got ${values.length}`);
  if (columns === 1) {
    if (sampleRate === undefined)
      throw new DividingNetworkError("invalid-argument", `${caller}: "sampleRate" must be given for text with one column, in Hz`);
    const rate = inSi(caller, "sampleRate", sampleRate, "Hz", { above: 0 });
    return freezeImpulse(Float64Array.from(values), rate, inSi(caller, "startTime", startTime ?? 0, "s", { min: -1e6, max: 1e6 }));
  }
  if (sampleRate !== undefined || startTime !== undefined) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "sampleRate" and "startTime" must be left out for text with a column of times`,
    );
  }
  const step = (times[times.length - 1]! - times[0]!) / (times.length - 1);
  if (!(step > 0)) throw wrong(1, `times must ascend, got ${times[0]} s to ${times[times.length - 1]} s`);
  for (let n = 0; n < times.length; n++) {
    if (Math.abs(times[n]! - times[0]! - n * step) > 0.01 * step + 1e-7 * Math.abs(times[n]!))
      throw wrong(n + 1, `times must be equally spaced, got ${times[n]} s as value ${n + 1}`);
  }
  return freezeImpulse(Float64Array.from(values), roundRate(1 / step), times[0]!);
}

/** Printed times are rounded: a rate within 1e-6 of a whole number of hertz is that number. */
export function roundRate(rate: number): number {
  return Math.abs(rate - Math.round(rate)) < 1e-6 * rate ? Math.round(rate) : rate;
}

function strictNumber(field: string): number | undefined {
  return /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/.test(field) ? Number(field) : undefined;
}
