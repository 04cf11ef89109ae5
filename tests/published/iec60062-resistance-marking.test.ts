// Source: IEC 60062, marking codes for resistors and capacitors. Provenance: from memory; not verified against the standard.
// The letter stands in the place of the decimal point and names the multiplier: R 1, K 1000, M 1 000 000.
import { parseQuantity, type Unit } from "dividing-network/quantity";
import fc from "fast-check";
import { expect, it } from "vitest";
import { published } from "./standing";

published("from-memory", "resistor markings after IEC 60062", () => {
  it.each([
    ["R33", "0.33"],
    ["4R7", "4.7"],
    ["47R", "47"],
    ["4K7", "4700"],
    ["R47", "0.47"],
    ["2k2", "2200"],
    ["1M0", "1000000"],
    ["100R", "100"],
    ["10K", "10000"],
  ])("read %s as %s Ω", (code, ohms) => {
    expect(parseQuantity(code, "Ω")).toBe(Number(ohms));
  });

  it("read any digits around the letter as the decimal number times the multiplier", () => {
    const digits = fc.integer({ min: 0, max: 999 });
    fc.assert(
      fc.property(digits, digits, fc.constantFrom("R", "K", "k", "M"), (whole, fraction, letter) => {
        const multiplier = letter === "R" ? 1 : letter === "M" ? 1e6 : 1e3;
        const value = parseQuantity(`${whole}${letter}${fraction}`, "Ω");
        expect(value).toBeCloseTo(Number(`${whole}.${fraction}`) * multiplier, 6);
        expect(parseQuantity(`${letter}${fraction}`, "Ω")).toBeCloseTo(Number(`0.${fraction}`) * multiplier, 6);
      }),
    );
  });

  it("are read for resistances alone", () => {
    for (const unit of ["H", "F", "Hz", "m", "s", "V", "A", "W", "kg", "Pa", "m²", "m³", "°C"] satisfies Unit[]) {
      for (const code of ["4R7", "R47", "47R", "2k2"]) {
        expect(() => parseQuantity(code, unit)).toThrow(expect.objectContaining({ code: "invalid-quantity" }));
      }
    }
  });
});
