import { show } from "../errors/internal";
import type { Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import { fileError, type TextFile } from "./text-file";
import { textNumber } from "./text-number";

/** The parameter that a one-port file stores: scattering, admittance or impedance. */
export type TouchstoneParameter = "S" | "Y" | "Z";

/** How a file writes a complex number: magnitude and angle, decibels and angle, real and imaginary part. */
export type TouchstoneFormat = "MA" | "DB" | "RI";

/** The unit in which a file writes frequencies. */
export type TouchstoneUnit = "Hz" | "kHz" | "MHz" | "GHz";

/** What the option line of a file says, with the standard's defaults for what it leaves out. */
export interface TouchstoneOptions {
  readonly unit: TouchstoneUnit;
  readonly parameter: TouchstoneParameter;
  readonly format: TouchstoneFormat;
  /** Ω. */
  readonly resistance: number;
}

/** Power of ten of each unit of frequency, in Hz. */
export const unitPower: Readonly<Record<TouchstoneUnit, number>> = { Hz: 0, kHz: 3, MHz: 6, GHz: 9 };

/** What holds where a file has no option line. */
export const defaultOptions: TouchstoneOptions = { unit: "GHz", parameter: "S", format: "MA", resistance: 50 };

const units: ReadonlyMap<string, TouchstoneUnit> = /* @__PURE__ */ new Map([
  ["HZ", "Hz"],
  ["KHZ", "kHz"],
  ["MHZ", "MHz"],
  ["GHZ", "GHz"],
]);

/** Reads an option line, in any order and case: `# kHz Z RI R 1`. */
export function readOptionLine(file: TextFile, line: string, number: number): TouchstoneOptions {
  const found: { -readonly [K in keyof TouchstoneOptions]?: TouchstoneOptions[K] } = {};
  const words = line
    .slice(1)
    .trim()
    .split(/\s+/)
    .filter((word) => word !== "");
  const wrong = (message: string, hint = "Write for example: # Hz Z RI R 1"): Error =>
    fileError(file, "invalid-option-line", number, message, hint);
  const set = <K extends keyof TouchstoneOptions>(key: K, value: TouchstoneOptions[K], word: string): void => {
    if (found[key] !== undefined) throw wrong(`the option line must say each thing once, got ${show(word)} after ${show(found[key])}`);
    found[key] = value;
  };
  for (let i = 0; i < words.length; i++) {
    const word = words[i]!.toUpperCase();
    const unit = units.get(word);
    if (unit !== undefined) set("unit", unit, word);
    else if (word === "S" || word === "Y" || word === "Z") set("parameter", word, word);
    else if (word === "MA" || word === "DB" || word === "RI") set("format", word, word);
    else if (word === "G" || word === "H")
      throw wrong(
        `the option line of a one-port must name S, Y or Z, got ${word}: hybrid parameters need two ports`,
        "Export as S, Y or Z",
      );
    else if (word === "R") set("resistance", resistance(file, words[++i] ?? "", number), word);
    else
      throw wrong(`the option line must hold a unit of frequency, S, Y or Z, MA, DB or RI, and R with a resistance, got ${show(words[i])}`);
  }
  return { ...defaultOptions, ...found };
}

/** Reads a reference resistance in Ω, above 0. */
export function resistance(file: TextFile, word: string, number: number): number {
  const value = textNumber(word, ".");
  if (value !== undefined && value > 0 && value < Infinity) return value;
  throw fileError(
    file,
    "invalid-reference",
    number,
    `the reference resistance must be a finite number above 0 Ω, got ${word === "" ? "nothing" : show(word)}`,
    "Export with a real reference such as 50 Ω",
  );
}

/** The reference resistance of a file to be written: 50 Ω for S, 1 Ω for Y and Z, unless it is given. */
export function writtenResistance(caller: string, given: Resistance | undefined, parameter: TouchstoneParameter): number {
  return inSi(caller, "resistance", given ?? (parameter === "S" ? 50 : 1), "Ω", { above: 0 });
}
