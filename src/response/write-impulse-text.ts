import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import { checkImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";
import { roundRate } from "./read-impulse-text";
import { checkedComment, shortest } from "./write-response-text";

/** How `writeImpulseText` writes. */
export interface WriteImpulseTextOptions {
  /** `"time-value"` (default): time in s and value; `"value"`: the value alone, the sampling rate and the start are said in the heading. */
  readonly columns?: "time-value" | "value" | undefined;
  /** Between columns, default a tab. */
  readonly separator?: "\t" | " " | ";" | undefined;
  /** Lines of comment above the heading, each of at most 1000 characters. */
  readonly comment?: string | undefined;
}

/**
 * Writes an impulse response as text that `readImpulseText` reads: comment lines that begin with `#`, then a line for each sample,
 * its time in s and its value in its own unit, or its value alone.
 *
 * Numbers have the fewest digits that give the same number again, so that the samples and the start come back bit for bit. From a
 * column of times the sampling rate comes back to 1e-9, a whole number of hertz exactly; where it wouldn't, the times are refused.
 *
 * @param impulse samples in one unit, sampling rate in Hz, start in s
 * @param options `columns`, `separator`, `comment`: see `WriteImpulseTextOptions`
 * @returns the text, lines ending in LF
 * @throws DividingNetworkError `times-not-readable` where times would not give the sampling rate again, `invalid-impulse`,
 * `invalid-argument`, `unknown-option`
 * @example
 * ```ts
 * import { impulseResponse, readImpulseText, writeImpulseText } from "dividing-network/response";
 *
 * const impulse = impulseResponse([0, 1, 0.5], { sampleRate: 1000 });
 * writeImpulseText(impulse, { separator: ";" }).split("\n")[2]; // "0.001;1"
 * readImpulseText(writeImpulseText(impulse)).samples; // [0, 1, 0.5]
 * ```
 */
export function writeImpulseText(impulse: ImpulseResponse, options?: WriteImpulseTextOptions): string {
  const caller = "writeImpulseText";
  const { samples, sampleRate, startTime } = checkImpulse(caller, "impulse", impulse);
  const { columns = "time-value", separator = "\t", comment = "" } = checkOptions(caller, options, ["columns", "separator", "comment"]);
  checkOneOf(caller, "columns", columns, ["time-value", "value"]);
  checkOneOf(caller, "separator", separator, ["\t", " ", ";"]);
  const time = (n: number): number => startTime + n / sampleRate;
  if (columns === "time-value") {
    const steps = samples.length - 1;
    const read = roundRate(steps / (time(steps) - startTime));
    if (!(Math.abs(read / sampleRate - 1) <= 1e-9)) {
      throw new DividingNetworkError(
        "times-not-readable",
        `${caller}: a column of times must give the sampling rate of ${sampleRate} Hz again, and ${steps === 0 ? "one sample gives none" : `would give ${read} Hz`}`,
        'Write columns: "value", and give sampleRate and startTime to readImpulseText',
      );
    }
  }
  // The point in the heading tells the reader that commas in a comment are none of its business.
  const heading =
    columns === "value"
      ? `value, sampling rate ${shortest(sampleRate)} Hz, first sample at ${shortest(startTime)} s, decimal points (0.5)`
      : "time (s) and value, decimal points (0.5)";
  const lines = [...checkedComment(caller, comment), heading].map((line) => `# ${line}`.trimEnd());
  samples.forEach((value, n) => lines.push(columns === "value" ? shortest(value) : `${shortest(time(n))}${separator}${shortest(value)}`));
  return `${lines.join("\n")}\n`;
}
