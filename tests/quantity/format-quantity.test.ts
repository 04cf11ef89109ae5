// Tests src/quantity/: units.ts
import { formatQuantity, parseQuantity, type Unit } from "dividing-network/quantity";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const all: readonly Unit[] = ["Ω", "H", "F", "Hz", "m", "s", "V", "A", "W", "kg", "Pa", "m²", "m³", "°C"];
const signed: readonly Unit[] = ["m", "s", "V", "A", "W", "Pa", "°C"];
const size = fc.double({ min: -18, max: 12, noNaN: true }).map((power) => 10 ** power);

describe("formatQuantity", () => {
  it.each([
    [0.47e-3, "H", "0.47 mH"],
    [10e-6, "H", "0.01 mH"],
    [9.9e-6, "H", "9.9 µH"],
    [99e-3, "H", "99 mH"],
    [0.1, "H", "0.1 H"],
    [30e-9, "H", "30 nH"],
    [6.8e-6, "F", "6.8 µF"],
    [0.1e-6, "F", "0.1 µF"],
    [2200e-6, "F", "2200 µF"],
    [99e-9, "F", "99 nF"],
    [470e-12, "F", "470 pF"],
    [0.047, "F", "47 mF"],
    [4.7, "Ω", "4.7 Ω"],
    [0.47, "Ω", "0.47 Ω"],
    [0.015, "Ω", "15 mΩ"],
    [5e-5, "Ω", "50 µΩ"],
    [2200, "Ω", "2.2 kΩ"],
    [1e6, "Ω", "1 MΩ"],
    [80, "Hz", "80 Hz"],
    [2500, "Hz", "2.5 kHz"],
    [0.5, "Hz", "0.5 Hz"],
    [20000, "Hz", "20 kHz"],
    [0.025, "m", "25 mm"],
    [1.2, "m", "1.2 m"],
    [1.5e-3, "s", "1.5 ms"],
    [2.83, "V", "2.83 V"],
    [0.0125, "kg", "12.5 g"],
    [0.0132, "m²", "132 cm²"],
    [0.018, "m³", "18 L"],
    [2e-5, "Pa", "20 µPa"],
    [-12.5, "°C", "-12.5 °C"],
  ] as const)("writes %d in %s as the trade does: %s", (value, unit, text) => {
    expect(formatQuantity(value, unit)).toBe(text);
    expect(formatQuantity(-value, unit)).toBe(value < 0 ? text.slice(1) : `-${text}`);
  });

  it("keeps four digits of 9999 µF and rounds before it chooses the prefix", () => {
    expect(formatQuantity(9999e-6, "F", { digits: 4 })).toBe("9999 µF");
    expect(formatQuantity(9999e-6, "F")).toBe("10 mF");
    expect(formatQuantity(999.6, "Hz")).toBe("1 kHz");
    expect(formatQuantity(999.4, "Hz")).toBe("999 Hz");
  });

  it("writes zero and −0 in the unit itself", () => {
    for (const unit of all) {
      expect(formatQuantity(0, unit)).toBe(`0 ${unit}`);
      expect(formatQuantity(-0, unit)).toBe(`0 ${unit}`);
    }
  });

  it("is read back to half a unit of the last digit printed, with any number of digits", () => {
    fc.assert(
      fc.property(size, fc.constantFrom(...all), fc.integer({ min: 1, max: 17 }), (value, unit, digits) => {
        const back = parseQuantity(formatQuantity(value, unit, { digits }), unit);
        expect(Math.abs(back - value)).toBeLessThanOrEqual(value * (0.5 * 10 ** (1 - digits) + 1e-15));
      }),
    );
  });

  it("is read back exactly with 17 digits, to the ends of the range of numbers", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.constantFrom(...signed), (value, unit) => {
        expect(parseQuantity(formatQuantity(value, unit, { digits: 17 }), unit)).toBe(value + 0);
      }),
    );
    for (const value of [Number.MAX_VALUE, -Number.MAX_VALUE, Number.MIN_VALUE, 2 ** -1022]) {
      expect(parseQuantity(formatQuantity(value, "V", { digits: 17 }), "V")).toBe(value);
      expect(parseQuantity(formatQuantity(value, "V"), "V")).toSatisfy(Number.isFinite);
    }
  });

  it('is read back exactly from the digits of "exact", which are no more than needed', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.constantFrom(...signed), (value, unit) => {
        const text = formatQuantity(value, unit, { digits: "exact" });
        expect(parseQuantity(text, unit)).toBe(value + 0);
        const needed = [...Array(17).keys()].find((digits) => Number(value.toPrecision(digits + 1)) === value)! + 1;
        expect(
          text
            .split(/[ e]/)[0]!
            .replace(/[-.]/g, "")
            .replace(/^0+(?=\d)/, "")
            .replace(/(?<=[1-9])0+$/, "").length,
        ).toBe(needed);
      }),
    );
    expect(formatQuantity(0.00047, "H", { digits: "exact" })).toBe("0.47 mH");
    expect(() => formatQuantity(1, "H", { digits: "all" as "exact" })).toThrow(/"digits" must be a whole number/);
  });

  it("prints no more digits than asked for, and no power of ten for ordinary values", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -8, max: 5, noNaN: true }).map((power) => 10 ** power),
        fc.constantFrom<Unit>("Ω", "H", "F", "m", "s"),
        (value, unit) => {
          const number = formatQuantity(value, unit).split(" ")[0]!;
          expect(number).toMatch(/^[\d.]+$/);
          expect(number.replace(".", "").replace(/^0+/, "").replace(/0+$/, "").length).toBeLessThanOrEqual(3);
        },
      ),
    );
  });

  it("refuses values that are not finite, digits beyond 1 to 17, unknown options and unknown units", () => {
    for (const value of [NaN, Infinity, -Infinity, "1", undefined])
      expect(() => formatQuantity(value as number, "H")).toThrow(/"value" must be a finite number in H/);
    for (const digits of [0, 18, 2.5, NaN])
      expect(() => formatQuantity(1, "H", { digits })).toThrow(/"digits" must be a whole number at least 1 and at most 17/);
    expect(() => formatQuantity(1, "H", { digit: 3 } as object)).toThrow(expect.objectContaining({ code: "unknown-option" }));
    expect(() => formatQuantity(1, "h" as Unit)).toThrow(/"unit" must be one of/);
  });
});
