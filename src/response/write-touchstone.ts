import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import { modulus } from "../numeric/internal";
import type { Resistance } from "../quantity";
import { checkResponse } from "./check-response";
import { writeQuotient } from "./complex-quotient";
import type { FrequencyResponse } from "./sampled-function";
import { textNumber } from "./text-number";
import { unitPower, writtenResistance, type TouchstoneFormat, type TouchstoneParameter, type TouchstoneUnit } from "./touchstone-options";
import { checkedComment, markLine, shortest } from "./write-response-text";

/** How `writeTouchstone` writes. */
export interface WriteTouchstoneOptions {
  /** What is stored, default `"Z"`. */
  readonly parameter?: TouchstoneParameter | undefined;
  /** Default `"RI"`. */
  readonly format?: TouchstoneFormat | undefined;
  /** Unit of frequency, default `"Hz"`. */
  readonly unit?: TouchstoneUnit | undefined;
  /** Reference in Ω, above 0; default 50 for S, and 1 for Z and Y, which leaves their digits alone. */
  readonly resistance?: Resistance | undefined;
  /** Default `"1.1"`. */
  readonly version?: "1.1" | "2.0" | undefined;
  /** Lines of comment at the top, each of at most 1000 characters; anything but ASCII becomes a question mark. */
  readonly comment?: string | undefined;
}

/**
 * Writes an impedance as a Touchstone one-port file (.s1p): comments, option line, one line for each frequency.
 *
 * $S = \frac{Z-R}{Z+R}$, $Y = 1/Z$; version 1.1 normalises to $z = Z/R$ and $y = Y R$, version 2.0 does not.
 *
 * Numbers have the fewest digits that give the same number again. With Z, RI and R 1, or version 2.0, `readTouchstone` gives
 * the impedance back bit for bit; otherwise to rounding, which S magnifies by |Z|/R and R/|Z|. Marks are written as comments.
 *
 * Source: the open Touchstone file format specification, versions 1.1 and 2.0.
 *
 * @param response an impedance in Ω
 * @param options see `WriteTouchstoneOptions`
 * @returns the text, lines ending in LF
 * @throws DividingNetworkError `division-by-zero` where Z is −R (as S) or 0 (as Y), `zero-level` for a zero in DB,
 * `overflow`, `invalid-response`, `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { frequencyResponse } from "dividing-network";
 * import { writeTouchstone } from "dividing-network/response";
 *
 * const impedance = frequencyResponse([1000, 2000], [6.1, 6.8], [0.5, 1.9]);
 * writeTouchstone(impedance, { unit: "kHz" }); // "# kHz Z RI R 1\n1 6.1 0.5\n2 6.8 1.9\n"
 * ```
 */
export function writeTouchstone(response: FrequencyResponse, options?: WriteTouchstoneOptions): string {
  const caller = "writeTouchstone";
  const { frequencies, re, im, marks = [] } = checkResponse(caller, "response", response);
  const given = checkOptions(caller, options, ["parameter", "format", "unit", "resistance", "version", "comment"]);
  const { parameter = "Z", format = "RI", unit = "Hz", version = "1.1", comment = "" } = given;
  checkOneOf(caller, "parameter", parameter, ["S", "Y", "Z"]);
  checkOneOf(caller, "format", format, ["MA", "DB", "RI"]);
  checkOneOf(caller, "unit", unit, ["Hz", "kHz", "MHz", "GHz"]);
  checkOneOf(caller, "version", version, ["1.1", "2.0"]);
  const resistance = writtenResistance(caller, given.resistance, parameter);
  const normal = version === "1.1" || parameter === "S" ? resistance : 1;
  const [a, b] = [new Float64Array(1), new Float64Array(1)];
  const data = Array.from(frequencies, (f, i) => {
    writeStored(caller, parameter, normal, { re: re[i]!, im: im[i]!, f }, a, b);
    return `${inUnit(f, unitPower[unit])} ${written(caller, format, a[0]!, b[0]!, f)}`;
  });
  const comments = [...checkedComment(caller, comment), ...marks.map(markLine)].map((line) =>
    `! ${line.replaceAll(/[^\x20-\x7e]/g, "?")}`.trimEnd(),
  );
  const optionLine = `# ${unit} ${parameter} ${format} R ${shortest(resistance)}`;
  const lines =
    version === "1.1"
      ? [...comments, optionLine, ...data]
      : [
          "[Version] 2.0",
          ...comments,
          optionLine,
          "[Number of Ports] 1",
          `[Number of Frequencies] ${data.length}`,
          `[Reference] ${shortest(resistance)}`,
          "[Network Data]",
          ...data,
          "[End]",
        ];
  return `${lines.join("\n")}\n`;
}

/** Writes the number to be stored for an impedance in Ω into index 0 of two arrays; r is what it is normalised to. */
function writeStored(
  caller: string,
  parameter: TouchstoneParameter,
  r: number,
  z: { readonly re: number; readonly im: number; readonly f: number },
  a: Float64Array,
  b: Float64Array,
): void {
  const infinite = parameter === "S" ? z.re === -r && z.im === 0 : parameter === "Y" && z.re === 0 && z.im === 0;
  if (infinite) {
    throw new DividingNetworkError(
      "division-by-zero",
      `${caller}: the impedance must not be ${parameter === "S" ? `−${r}` : "0"} Ω to be written as ${parameter}, got that at ${z.f} Hz`,
      'Write parameter: "Z"',
    );
  }
  if (parameter === "S") writeQuotient(z.re - r, z.im, z.re + r, z.im, a, b, 0);
  else if (parameter === "Y") writeQuotient(r, 0, z.re, z.im, a, b, 0);
  else [a[0], b[0]] = [z.re / r, z.im / r];
  if (!Number.isFinite(modulus(a[0]!, b[0]!))) {
    throw new DividingNetworkError(
      "overflow",
      `${caller}: ${parameter} must be within what a number can hold, got ${a[0]} + j(${b[0]}) at ${z.f} Hz`,
      "Choose another resistance or parameter",
    );
  }
}

function written(caller: string, format: TouchstoneFormat, a: number, b: number, f: number): string {
  if (format === "RI") return `${shortest(a)} ${shortest(b)}`;
  const size = modulus(a, b);
  if (format === "DB" && size === 0) {
    throw new DividingNetworkError(
      "zero-level",
      `${caller}: the stored number must not be zero in decibels, got 0 at ${f} Hz`,
      'Write format: "RI"',
    );
  }
  return `${shortest(format === "DB" ? 20 * Math.log10(size) : size)} ${shortest(size === 0 ? 0 : (180 / Math.PI) * Math.atan2(b, a))}`;
}

/** A frequency in its unit, so that reading it back gives the very same number of hertz. */
function inUnit(f: number, power: number): string {
  const short = shortest(f / 10 ** power);
  if (power === 0 || textNumber(short, ".", power) === f) return short;
  const [digits, exponent = "0"] = shortest(f).split("e");
  return `${digits}e${Number(exponent) - power}`;
}
