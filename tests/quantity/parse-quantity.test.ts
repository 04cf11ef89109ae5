import { Decimal } from "decimal.js";
import { DividingNetworkError } from "dividing-network/errors";
import { parseQuantity, type Unit } from "dividing-network/quantity";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";

// Written here once more, apart from the library's own table: symbol, unit, power of ten (after the SI brochure).
const symbols: readonly (readonly [symbol: string, unit: Unit, power: number])[] = [
  ["mΩ", "Ω", -3],
  ["Ω", "Ω", 0],
  ["kΩ", "Ω", 3],
  ["MΩ", "Ω", 6],
  ["nH", "H", -9],
  ["µH", "H", -6],
  ["mH", "H", -3],
  ["H", "H", 0],
  ["pF", "F", -12],
  ["nF", "F", -9],
  ["µF", "F", -6],
  ["mF", "F", -3],
  ["F", "F", 0],
  ["Hz", "Hz", 0],
  ["kHz", "Hz", 3],
  ["MHz", "Hz", 6],
  ["µm", "m", -6],
  ["mm", "m", -3],
  ["cm", "m", -2],
  ["m", "m", 0],
  ["km", "m", 3],
  ["µs", "s", -6],
  ["ms", "s", -3],
  ["s", "s", 0],
  ["mV", "V", -3],
  ["V", "V", 0],
  ["mA", "A", -3],
  ["A", "A", 0],
  ["mW", "W", -3],
  ["W", "W", 0],
  ["kW", "W", 3],
  ["mg", "kg", -6],
  ["g", "kg", -3],
  ["kg", "kg", 0],
  ["µPa", "Pa", -6],
  ["hPa", "Pa", 2],
  ["kPa", "Pa", 3],
  ["mm²", "m²", -6],
  ["cm²", "m²", -4],
  ["m²", "m²", 0],
  ["cm2", "m²", -4],
  ["mL", "m³", -6],
  ["L", "m³", -3],
  ["dm³", "m³", -3],
  ["m³", "m³", 0],
  ["°C", "°C", 0],
];

function refusal(text: string, unit: Unit): DividingNetworkError {
  try {
    parseQuantity(text, unit);
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error(`${JSON.stringify(text)} was taken for a quantity in ${unit}`);
}

describe("parseQuantity", () => {
  it("scales the decimal digits exactly, for every symbol, with and without a space", () => {
    const number = fc.tuple(fc.integer({ min: 0, max: 99999 }), fc.integer({ min: 0, max: 4 }));
    fc.assert(
      fc.property(
        number,
        fc.constantFrom(...symbols),
        fc.constantFrom("", " ", "\u00a0"),
        ([whole, places], [symbol, unit, power], space) => {
          const digits = new Decimal(whole).div(new Decimal(10).pow(places));
          const expected = digits.times(new Decimal(10).pow(power)).toNumber();
          expect(parseQuantity(`${digits.toFixed()}${space}${symbol}`, unit)).toBe(expected);
        },
      ),
    );
  });

  it("takes both letters of micro, both of ohm, and their keyboard spellings", () => {
    for (const micro of ["\u00b5", "\u03bc", "u"]) {
      expect(parseQuantity(`6.8 ${micro}F`, "F")).toBe(6.8e-6);
      expect(parseQuantity(`45${micro}H`, "H")).toBe(45e-6);
    }
    for (const ohm of ["\u03a9", "\u2126", "ohm"]) {
      expect(parseQuantity(`22 m${ohm}`, "Ω")).toBe(0.022);
      expect(parseQuantity(`4.7k${ohm}`, "\u2126")).toBe(4700);
    }
  });

  it("reads mF as millifarad", () => {
    expect(parseQuantity("2 mF", "F")).toBe(0.002);
  });

  it("takes an exponent, a plus sign, a bare decimal point and spaces around", () => {
    expect(parseQuantity("1e-3 H", "H")).toBe(1e-3);
    expect(parseQuantity("1.5E+3 Hz", "Hz")).toBe(1500);
    expect(parseQuantity("2e3kHz", "Hz")).toBe(2e6);
    expect(parseQuantity("+.5 mH", "H")).toBe(0.5e-3);
    expect(parseQuantity(" 5. mH\n", "H")).toBe(5e-3);
  });

  it("takes negative values only where they make sense, and never gives −0", () => {
    expect(parseQuantity("-3 cm", "m")).toBe(-0.03);
    expect(parseQuantity("-10 °C", "°C")).toBe(-10);
    expect(parseQuantity("-2.5 ms", "s")).toBe(-2.5e-3);
    expect(parseQuantity("-0 mH", "H")).toBe(0);
    for (const [text, unit, fixed] of [
      ["-3 mH", "H", "3 mH"],
      ["-1 µF", "F", "1 µF"],
      ["-4 Ω", "Ω", "4 Ω"],
      ["-4R7", "Ω", "4R7"],
      ["-80 Hz", "Hz", "80 Hz"],
      ["-12 g", "kg", "12 g"],
    ] as const) {
      const error = refusal(text, unit);
      expect(error.code).toBe("invalid-quantity");
      expect(error.hint).toBe(`Write "${fixed}"`);
    }
  });

  const mistakes: readonly (readonly [text: string, unit: Unit, hint: string])[] = [
    // decimal commas and separators of thousands
    ["4,7 mH", "H", 'Write "4.7 mH"'],
    ["6,8µF", "F", 'Write "6.8 µF"'],
    [",5 mH", "H", 'Write "0.5 mH"'],
    ["3,000 Hz", "Hz", 'Write "3000 Hz" or "3.000 Hz"'],
    ["0,125 Ω", "Ω", 'Write "0.125 Ω"'],
    ["1.000,5 Hz", "Hz", 'Write "1000.5 Hz"'],
    ["1,000.5 Hz", "Hz", 'Write "1000.5 Hz"'],
    ["1_000 Hz", "Hz", 'Write "1000 Hz"'],
    ["12,500 Hz", "Hz", 'Write "12500 Hz" or "12.500 Hz"'],
    ["12,500.25 Hz", "Hz", 'Write "12500.25 Hz"'],
    ["1,234,567 Hz", "Hz", 'Write "1234567 Hz"'],
    ["12,345,678 Hz", "Hz", 'Write "12345678 Hz"'],
    ["1,234,567.8 Hz", "Hz", 'Write "1234567.8 Hz"'],
    ["1.234.567,25 Hz", "Hz", 'Write "1234567.25 Hz"'],
    ["12.500,25 Hz", "Hz", 'Write "12500.25 Hz"'],
    ["1234,567 Hz", "Hz", 'Write "1234.567 Hz"'],
    ["1'000'000 Hz", "Hz", 'Write "1000000 Hz"'],
    ["-2,5 °C", "°C", 'Write "-2.5 °C"'],
    ["10 000 Hz", "Hz", 'Write "10000 Hz"'],
    // no unit, or a prefix alone
    ["4.7", "H", 'Write "4.7 mH" or "4.7 H"'],
    ["4.7", "Ω", 'Write "4.7 Ω"'],
    ["1e3", "Hz", 'Write "1e3 Hz"'],
    ["4.7 m", "H", 'Write "4.7 mH"'],
    ["4.7 u", "F", 'Write "4.7 µF"'],
    ["20k", "Hz", 'Write "20 kHz"'],
    ["20 K", "Hz", 'Write "20 kHz"'],
    ["4.7 k", "Ω", 'Write "4.7 kΩ"'],
    // other ways of writing numbers
    ["0x10 mH", "H", 'Write "16 mH"'],
    ["0b11 Ω", "Ω", 'Write "3 Ω"'],
    ["4.7 × 10^-3 H", "H", 'Write "4.7e-3 H"'],
    ["\u22123 °C", "°C", 'Write "-3 °C"'],
    ["4.7  mH", "H", 'Write "4.7 mH"'],
    // old spellings and wrong case
    ["6.8 MF", "F", 'Write "6.8 µF"'],
    ["6.8 mfd", "F", 'Write "6.8 µF"'],
    ["6.8MFD", "F", 'Write "6.8 µF"'],
    ["100 mmf", "F", 'Write "100 pF"'],
    ["100 uuf", "F", 'Write "100 pF"'],
    ["100 µµF", "F", 'Write "100 pF"'],
    ["6.8 m", "F", 'Write "6.8 mF"'],
    ["6.8 M", "F", 'Write "6.8 µF"'],
    ["6.8 mf", "F", 'Write "6.8 µF" or "6.8 mF"'],
    ["100 mmfd", "F", 'Write "100 pF"'],
    ["100 NF", "F", 'Write "100 nF"'],
    ["4.7 MH", "H", 'Write "4.7 mH"'],
    ["45 UH", "H", 'Write "45 µH"'],
    ["3 khz", "Hz", 'Write "3 kHz"'],
    ["3 KHZ", "Hz", 'Write "3 kHz"'],
    ["3KHz", "Hz", 'Write "3 kHz"'],
    ["80 hz", "Hz", 'Write "80 Hz"'],
    ["4 kOhm", "Ω", 'Write "4 kΩ"'],
    ["4 MOHM", "Ω", 'Write "4 mΩ" or "4 MΩ"'],
    ["3 CM", "m", 'Write "3 cm"'],
    // words
    ["8 ohms", "Ω", 'Write "8 Ω"'],
    ["2 kilohms", "Ω", 'Write "2 kΩ"'],
    ["4.7 millihenries", "H", 'Write "4.7 mH"'],
    ["6.8 microfarads", "F", 'Write "6.8 µF"'],
    ["80 cps", "Hz", 'Write "80 Hz"'],
    ["18 litres", "m³", 'Write "18 L"'],
    ["132 cm^2", "m²", 'Write "132 cm2"'],
    ["20 deg C", "°C", 'Write "20 °C"'],
    // markings
    ["4R7", "H", 'Write "4.7 mH" or "4.7 H"'],
    ["4R7", "F", 'Write "4.7 µF" or "4.7 F"'],
    ["4n7", "F", 'Write "4.7 nF"'],
    ["2k2", "Hz", 'Write "2.2 kHz"'],
    ["4r7", "Ω", 'Write "4R7"'],
    ["4K7J", "Ω", 'Write "4K7"'],
    ["4R7 Ω", "Ω", 'Write "4R7"'],
    ["4m7", "Ω", 'Write "4.7 mΩ"'],
    ["4L7", "Ω", 'Write "4.7 mΩ"'],
    ["4k7k", "Ω", 'Write "4k7"'],
    ["4M7 ohm", "Ω", 'Write "4M7"'],
    ["4M7 ohms", "Ω", 'Write "4M7"'],
    ["+4R7", "H", 'Write "4.7 mH" or "4.7 H"'],
    ["4n7F", "F", 'Write "4.7 nF"'],
    ["4n7 nF", "F", 'Write "4.7 nF"'],
    ["4u7H", "H", 'Write "4.7 µH"'],
    ["4m7", "H", 'Write "4.7 mH"'],
    ["4l7", "H", 'Write a number and its unit, as in "0.47 mH"'],
    // a power of ten
    ["4.7×10^-3 H", "H", 'Write "4.7e-3 H"'],
    ["4.7 x 10-3 H", "H", 'Write "4.7e-3 H"'],
    ["4.7·10^3 Hz", "Hz", 'Write "4.7e3 Hz"'],
    ["4.7 *10+3 Hz", "Hz", 'Write "4.7e+3 Hz"'],
    ["4.7 × 103 Hz", "Hz", 'Write "4.7e3 Hz"'],
    // what follows the unit
    ["4.7 mH 5%", "H", 'Write "4.7 mH"'],
    ["6.8 µF, 250 V", "F", 'Write "6.8 µF"'],
    ["4.7 mH;", "H", 'Write "4.7 mH"'],
    // another quantity
    ["6.8 µF", "H", '"µF" is a unit of capacitance; write an inductance, as in "0.47 mH"'],
    ["4.7 H", "Ω", '"H" is a unit of inductance; write a resistance, as in "4.7 Ω"'],
    // nothing to repair
    ["1,2,3 Hz", "Hz", 'Write a number and its unit, as in "80 Hz"'],
    ["1,234,56 Hz", "Hz", 'Write a number and its unit, as in "80 Hz"'],
    ["1.234.56,7 Hz", "Hz", 'Write a number and its unit, as in "80 Hz"'],
    ["", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["mH", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["--3 mH", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["1.2.3 mH", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["1e H", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["1e1.5 H", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["1e400 H", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["1e-400 H", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["4 constructor", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["4 __proto__", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["293 K", "°C", 'Write a number and its unit, as in "20 °C"'],
    ["Infinity H", "H", 'Write a finite number with its unit, as in "0.47 mH"'],
    ["NaN mH", "H", 'Write a finite number with its unit, as in "0.47 mH"'],
    ["+inf", "Hz", 'Write a finite number with its unit, as in "80 Hz"'],
    ["-∞ Hz", "Hz", 'Write a finite number with its unit, as in "80 Hz"'],
    ["4 inf", "Hz", 'Write a number and its unit, as in "80 Hz"'],
    ["4R7x", "Ω", 'Write a number and its unit, as in "4.7 Ω"'],
    ["4p7Hz", "Hz", 'Write a number and its unit, as in "80 Hz"'],
    ["4 ohmsx", "Ω", 'Write a number and its unit, as in "4.7 Ω"'],
    ["4 milli\t\n ", "H", 'Write a number and its unit, as in "0.47 mH"'],
    ["R", "Ω", 'Write a number and its unit, as in "4.7 Ω"'],
    ["1R2R3", "Ω", 'Write a number and its unit, as in "4.7 Ω"'],
  ];

  it.each(mistakes)("refuses %j as a quantity in %s and shows the way to write it", (text, unit, hint) => {
    const error = refusal(text, unit);
    expect(error.code).toBe("invalid-quantity");
    expect(error.hint).toBe(hint);
    expect(error.message).toContain(`got ${JSON.stringify(text)}. ${hint}`);
  });

  it("refuses text of more than 64 characters, whatever it says", () => {
    expect(parseQuantity(`${"0".repeat(61)}1 H`, "H")).toBe(1);
    expect(refusal("x".repeat(64), "H").hint).toContain("Write a number and its unit");
    expect(refusal(`${"0".repeat(62)}1 H`, "H").hint).toContain("at most 64 characters");
    expect(refusal(`${" ".repeat(1_000_000)}1 H`, "H").message.length).toBeLessThan(300);
  });

  it("gives a finite number or an error with a hint for any text, and what a hint tells to write can be read", () => {
    const letters = fc.constantFrom(..."0123456789.,eExX+-_ kKmMuµμnpRΩΩHhFfzsVLg°C²%");
    const text = fc.oneof(fc.string(), fc.string({ unit: letters, maxLength: 12 }), fc.string({ unit: "grapheme", maxLength: 80 }));
    const unit = fc.constantFrom(...symbols.map(([, of]) => of));
    fc.assert(
      fc.property(text, unit, (given, of) => {
        let value: number;
        try {
          value = parseQuantity(given, of);
        } catch (error) {
          if (!(error instanceof DividingNetworkError)) throw error;
          expect(error.code).toBe("invalid-quantity");
          expect(error.hint).not.toBe("");
          if (!error.hint.startsWith("Write")) return;
          const shown = [...error.hint.matchAll(/"([^"]+)"/g)].map((match) => match[1]!);
          expect(shown.length).toBeGreaterThan(0);
          for (const example of shown) expect(parseQuantity(example, of)).toBeTypeOf("number");
          return;
        }
        expect(Number.isFinite(value)).toBe(true);
        expect(Object.is(value, -0)).toBe(false);
      }),
      { numRuns: cases(5000) },
    );
  });

  it("refuses what is no string, and a unit that it does not know", () => {
    for (const value of [4.7, undefined, null, {}, ["4.7 mH"], 4n]) {
      expect(() => parseQuantity(value as unknown as string, "H")).toThrow(expect.objectContaining({ code: "invalid-argument" }));
    }
    for (const unit of ["h", "toString", "__proto__", "", undefined]) {
      expect(() => parseQuantity("4.7 mH", unit as Unit)).toThrow(/parseQuantity: "unit" must be one of "Ω", "H"/);
    }
  });
});
