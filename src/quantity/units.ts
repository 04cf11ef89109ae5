import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";

/** What the library knows about one SI unit in which quantities are taken in and written out. */
export interface UnitEntry {
  /** With its article, for messages: `"an inductance"`. */
  readonly name: string;
  readonly example: string;
  /** Whether a negative quantity makes sense. */
  readonly signed: boolean;
  /** The symbols that may follow a number, each with its power of ten in the SI unit. */
  readonly suffixes: Readonly<Record<string, number>>;
  /** The symbols used for writing, largest first, each with the SI value from which on it is used. */
  readonly scale: readonly (readonly [suffix: string, from: number])[];
}

/**
 * The units, keyed by the SI symbol (°C for temperature). Here `µ` is always U+00B5 and `Ω` always U+03A9; the
 * look-alikes U+03BC and U+2126, and the spellings `u` and `ohm`, are mapped to these by `canonicalSuffix`.
 */
export const units = {
  Ω: {
    name: "a resistance",
    example: "4.7 Ω",
    signed: false,
    suffixes: { Ω: 0, µΩ: -6, mΩ: -3, kΩ: 3, MΩ: 6 },
    scale: [
      ["MΩ", 1e6],
      ["kΩ", 1e3],
      ["Ω", 0.1],
      ["mΩ", 1e-4],
      ["µΩ", 0],
    ],
  },
  H: {
    name: "an inductance",
    example: "0.47 mH",
    signed: false,
    suffixes: { H: 0, mH: -3, µH: -6, nH: -9 },
    scale: [
      ["H", 0.1],
      ["mH", 1e-5],
      ["µH", 1e-7],
      ["nH", 0],
    ],
  },
  F: {
    name: "a capacitance",
    example: "6.8 µF",
    signed: false,
    suffixes: { F: 0, mF: -3, µF: -6, nF: -9, pF: -12 },
    scale: [
      ["F", 1],
      ["mF", 1e-2],
      ["µF", 1e-7],
      ["nF", 1e-9],
      ["pF", 0],
    ],
  },
  Hz: {
    name: "a frequency",
    example: "80 Hz",
    signed: false,
    suffixes: { Hz: 0, kHz: 3, MHz: 6, mHz: -3 },
    scale: [
      ["MHz", 1e6],
      ["kHz", 1e3],
      ["Hz", 0],
    ],
  },
  m: {
    name: "a length",
    example: "25 mm",
    signed: true,
    suffixes: { m: 0, km: 3, cm: -2, mm: -3, µm: -6, nm: -9 },
    scale: [
      ["km", 1e3],
      ["m", 1],
      ["mm", 1e-3],
      ["µm", 1e-6],
      ["nm", 0],
    ],
  },
  s: {
    name: "a time",
    example: "1.5 ms",
    signed: true,
    suffixes: { s: 0, ms: -3, µs: -6, ns: -9 },
    scale: [
      ["s", 1],
      ["ms", 1e-3],
      ["µs", 1e-6],
      ["ns", 0],
    ],
  },
  V: {
    name: "a voltage",
    example: "2.83 V",
    signed: true,
    suffixes: { V: 0, kV: 3, mV: -3, µV: -6 },
    scale: [
      ["kV", 1e3],
      ["V", 1],
      ["mV", 1e-3],
      ["µV", 0],
    ],
  },
  A: {
    name: "a current",
    example: "350 mA",
    signed: true,
    suffixes: { A: 0, kA: 3, mA: -3, µA: -6 },
    scale: [
      ["kA", 1e3],
      ["A", 1],
      ["mA", 1e-3],
      ["µA", 0],
    ],
  },
  W: {
    name: "a power",
    example: "50 W",
    signed: true,
    suffixes: { W: 0, kW: 3, mW: -3, µW: -6 },
    scale: [
      ["kW", 1e3],
      ["W", 1],
      ["mW", 1e-3],
      ["µW", 0],
    ],
  },
  kg: {
    name: "a mass",
    example: "12.5 g",
    signed: false,
    suffixes: { kg: 0, g: -3, mg: -6 },
    scale: [
      ["kg", 1],
      ["g", 1e-3],
      ["mg", 0],
    ],
  },
  Pa: {
    name: "a pressure",
    example: "101.3 kPa",
    signed: true,
    suffixes: { Pa: 0, kPa: 3, hPa: 2, mPa: -3, µPa: -6 },
    scale: [
      ["kPa", 1e3],
      ["Pa", 1],
      ["mPa", 1e-3],
      ["µPa", 0],
    ],
  },
  "m²": {
    name: "an area",
    example: "132 cm²",
    signed: false,
    suffixes: { "m²": 0, "cm²": -4, "mm²": -6, m2: 0, cm2: -4, mm2: -6 },
    scale: [
      ["m²", 1],
      ["cm²", 1e-4],
      ["mm²", 0],
    ],
  },
  "m³": {
    name: "a volume",
    example: "18 L",
    signed: false,
    suffixes: { "m³": 0, "dm³": -3, "cm³": -6, L: -3, l: -3, mL: -6, ml: -6, m3: 0, dm3: -3, cm3: -6 },
    scale: [
      ["m³", 1],
      ["L", 1e-4],
      ["mL", 0],
    ],
  },
  "°C": {
    name: "a temperature",
    example: "20 °C",
    signed: true,
    suffixes: { "°C": 0 },
    scale: [["°C", 0]],
  },
} as const satisfies Readonly<Record<string, UnitEntry>>;

/** SI symbol of a unit known to this library; `Ω` may be U+03A9 (Greek letter) or U+2126 (ohm sign). */
export type Unit = keyof typeof units | "\u2126";

/** Whether a word is the symbol of a unit that `parseQuantity` and `formatQuantity` know. */
export function isUnit(word: string): word is Unit {
  return word === "\u2126" || Object.hasOwn(units, word);
}

/** The entry of a unit; `caller` names the function for the message. */
export function unitEntry(caller: string, unit: Unit): UnitEntry {
  if (typeof unit !== "string" || !isUnit(unit)) {
    const known = Object.keys(units)
      .map((symbol) => `"${symbol}"`)
      .join(", ");
    throw new DividingNetworkError("invalid-argument", `${caller}: "unit" must be one of ${known}, got ${show(unit)}`);
  }
  return units[unit === "\u2126" ? "Ω" : unit];
}

/** Maps the spellings of micro (U+03BC, `u`) and ohm (U+2126, `ohm`) to the ones in the table. */
export function canonicalSuffix(suffix: string): string {
  return suffix.replace(/^(?:u|\u03bc)(?=.)/, "\u00b5").replace(/(?:ohm|\u2126)$/, "\u03a9");
}
