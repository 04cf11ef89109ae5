import { checkOptions, show } from "../errors/internal";
import { modulus } from "../numeric/internal";
import { writeQuotient } from "./complex-quotient";
import { freezeResponse } from "./frequency-response";
import type { FrequencyResponse } from "./sampled-function";
import { unitPhasor } from "./from-level-and-phase";
import { fileError, textFile, type TextFile } from "./text-file";
import { textNumber } from "./text-number";
import { touchstoneLines, type TouchstoneLines } from "./touchstone-lines";
import { unitPower, type TouchstoneParameter } from "./touchstone-options";

/** What was read from a one-port file. */
export interface TouchstoneOnePort {
  /** The impedance in Ω, whatever the file stores. */
  readonly response: FrequencyResponse;
  /** What the file stores. */
  readonly parameter: TouchstoneParameter;
  /** Ω, the file's reference. */
  readonly resistance: number;
  /** Of the format in which the file is written. */
  readonly version: "1.1" | "2.0";
  /** What a reader should know about the reading; one sentence each. */
  readonly notes: readonly string[];
}

/**
 * Reads a Touchstone one-port file (.s1p), version 1.1 or 2.0, as an impedance in Ω over frequency in Hz.
 *
 * $Z = R\,\frac{1+S}{1-S}$, $Z = 1/Y$; in version 1.1 the file holds $z = Z/R$ and $y = Y R$, in version 2.0 plain $Z$ and $Y$.
 *
 * The option line `# unit parameter format R resistance` may have any order and case; what it leaves out is GHz, S, MA, R 50. Comments
 * run from `!` to the end of the line. Each data line holds frequency and two numbers; frequencies ascend strictly. Of version 2.0,
 * `[Version]`, `[Number of Ports]` 1, `[Number of Frequencies]`, `[Reference]`, `[Matrix Format]`, `[Begin Information]`,
 * `[Network Data]` and `[End]` are read. G and H parameters, noise data and mixed modes need more ports and are refused.
 *
 * Source: the open Touchstone file format specification, versions 1.1 and 2.0.
 *
 * @param text the file's content
 * @param options `file`, its name for messages
 * @returns the impedance in Ω, what was stored, and notes
 * @throws DividingNetworkError naming file and line: `open-circuit` where S is 1 or Y is 0 and the impedance is infinite,
 * `empty-file`, `invalid-option-line`, `invalid-keyword`, `missing-keyword`, `invalid-reference`, `not-a-one-port`, `frequency-count`,
 * `column-count`, `not-a-number`, `number-out-of-range`, `negative-frequency`, `negative-magnitude`, `unsorted-frequencies`,
 * `duplicate-frequency`, and those of the text itself (`file-too-large`, `line-too-long`, `wrong-encoding`)
 * @example
 * ```ts
 * import { readTouchstone, valueAt } from "dividing-network";
 *
 * const { response, parameter } = readTouchstone("# kHz S RI R 50\n1 -0.6 0\n2 -0.5 0 ! almost a short\n");
 * valueAt(response, "1 kHz").re; // 12.5
 * parameter; // "S"
 * ```
 */
export function readTouchstone(text: string, options?: { readonly file?: string | undefined }): TouchstoneOnePort {
  const { file: name } = checkOptions("readTouchstone", options, ["file"]);
  const file = textFile("readTouchstone", text, name);
  const parsed = touchstoneLines(file);
  const { data, version } = parsed;
  const { parameter, resistance } = parsed.options;
  const [frequencies, re, im] = [new Float64Array(data.length), new Float64Array(data.length), new Float64Array(data.length)];
  data.forEach(({ words, line }, i) => {
    if (words.length !== 3) {
      throw fileError(
        file,
        "column-count",
        line,
        `a line of one-port data must hold frequency and two numbers, got ${words.length} words`,
        "Files with more ports are not read: export the impedance as a one-port",
      );
    }
    const f = checkedNumber(file, words[0]!, line, unitPower[parsed.options.unit]);
    frequencies[i] = f;
    if (f < 0)
      throw fileError(file, "negative-frequency", line, `a frequency must be at least 0 Hz, got ${show(words[0])}`, "Leave out that line");
    if (i > 0 && f <= frequencies[i - 1]!) {
      const code = f === frequencies[i - 1] ? "duplicate-frequency" : "unsorted-frequencies";
      throw fileError(
        file,
        code,
        line,
        `frequencies must ascend strictly, got ${f} Hz after ${frequencies[i - 1]} Hz`,
        "Sort the lines by frequency and leave each frequency once",
      );
    }
    const [a, b] = stored(file, parsed, words, line);
    writeImpedance(file, parameter, version === "1.1" || parameter === "S" ? resistance : 1, { a, b, line, f }, re, im, i);
  });
  return Object.freeze({
    response: freezeResponse(frequencies, re, im),
    parameter,
    resistance,
    version,
    notes: Object.freeze([...parsed.notes]),
  });
}

function checkedNumber(file: TextFile, word: string, line: number, power = 0): number {
  const value = textNumber(word, ".", power);
  if (value === undefined)
    throw fileError(
      file,
      "not-a-number",
      line,
      `each word must be a finite number with a decimal point, got ${show(word)}`,
      "Begin comments with !",
    );
  if (!Number.isFinite(value))
    throw fileError(
      file,
      "number-out-of-range",
      line,
      `a number must be within what a double holds, got ${show(word)}`,
      "Correct or leave out that line",
    );
  return value;
}

/** The stored complex number of a line as real and imaginary part. */
function stored(file: TextFile, { options }: TouchstoneLines, words: readonly string[], line: number): [number, number] {
  const [first, second] = [checkedNumber(file, words[1]!, line), checkedNumber(file, words[2]!, line)];
  if (options.format === "RI") return [first, second];
  const size = options.format === "DB" ? 10 ** (first / 20) : first;
  if (size < 0)
    throw fileError(
      file,
      "negative-magnitude",
      line,
      `a magnitude must be at least 0, got ${show(words[1])}`,
      "Check the format on the option line: MA, DB or RI",
    );
  if (!Number.isFinite(size))
    throw fileError(
      file,
      "number-out-of-range",
      line,
      `a level must be within what a number can hold, got ${show(words[1])} dB`,
      "Check the format on the option line: MA, DB or RI",
    );
  const [c, s] = unitPhasor(second);
  return [size * c, size * s];
}

/** Writes the impedance that belongs to the stored number a + jb into index i; r is what it is normalised to, in Ω. */
function writeImpedance(
  file: TextFile,
  parameter: TouchstoneParameter,
  r: number,
  at: { readonly a: number; readonly b: number; readonly line: number; readonly f: number },
  re: Float64Array,
  im: Float64Array,
  i: number,
): void {
  const { a, b, line, f } = at;
  const open = parameter === "S" ? a === 1 && b === 0 : parameter === "Y" && a === 0 && b === 0;
  if (open) {
    throw fileError(
      file,
      "open-circuit",
      line,
      `the impedance must be finite, got an open circuit (${parameter} is ${parameter === "S" ? 1 : 0}) at ${f} Hz`,
      "Leave out that line",
    );
  }
  if (parameter === "S") writeQuotient(1 + a, b, 1 - a, -b, re, im, i);
  else if (parameter === "Y") writeQuotient(1, 0, a, b, re, im, i);
  else [re[i], im[i]] = [a, b];
  re[i]! *= r;
  im[i]! *= r;
  if (!Number.isFinite(modulus(re[i]!, im[i]!))) {
    throw fileError(
      file,
      "number-out-of-range",
      line,
      `the impedance must be within what a number can hold, got ${re[i]} + j(${im[i]}) Ω at ${f} Hz`,
      "Leave out that line",
    );
  }
}
