// Tests src/quantity/: quantity-hint.ts, quantity-or-throw.ts, read-quantity.ts, suffix-repair.ts
import { inSi } from "../../src/quantity/internal";
import { describe, expect, it } from "vitest";

describe("inSi", () => {
  it("passes a number through and reads text", () => {
    expect(inSi("inductor", "inductance", 0.47e-3, "H")).toBe(0.47e-3);
    expect(inSi("inductor", "inductance", "0.47 mH", "H")).toBe(0.47e-3);
    expect(inSi("resistor", "resistance", "4R7", "Ω")).toBe(4.7);
  });

  it("names the function and the argument, whether text cannot be read or a number is out of range", () => {
    expect(() => inSi("inductor", "inductance", "4,7 mH", "H")).toThrow(
      'inductor: "inductance" must be an inductance with its unit, such as "0.47 mH", got "4,7 mH". Write "4.7 mH"',
    );
    expect(() => inSi("inductor", "inductance", 0, "H", { above: 0 })).toThrow(
      'inductor: "inductance" must be a finite number above 0 H, got 0',
    );
    expect(() => inSi("inductor", "inductance", "0 mH", "H", { above: 0 })).toThrow(
      'inductor: "inductance" must be a finite number above 0 H, got 0',
    );
    expect(() => inSi("logGrid", "from", "200 kHz", "Hz", { max: 1e5 })).toThrow(/at most 100000 Hz, got 200000/);
  });

  it("keeps quantities from being negative unless the caller's lower bound says otherwise", () => {
    expect(() => inSi("capacitor", "capacitance", -1e-6, "F")).toThrow(/at least 0 F/);
    expect(() => inSi("capacitor", "capacitance", "-1 µF", "F")).toThrow(/not negative/);
    expect(() => inSi("capacitor", "capacitance", "-1 µF", "F", { max: 1 })).toThrow(/not negative/);
    expect(inSi("coupling", "mutualInductance", "-0.1 mH", "H", { min: -1 })).toBe(-1e-4);
    expect(inSi("coupling", "mutualInductance", -1e-4, "H", { min: -1 })).toBe(-1e-4);
    expect(() => inSi("coupling", "mutualInductance", "-2 H", "H", { min: -1 })).toThrow(/at least -1 H/);
    expect(inSi("point", "x", "-3 cm", "m")).toBe(-0.03);
    expect(inSi("point", "x", -0.03, "m")).toBe(-0.03);
  });

  it("refuses what is neither number nor text, and numbers that are not finite", () => {
    for (const value of [undefined, null, true, {}, [1], 1n, Symbol("x")]) {
      expect(() => inSi("inductor", "inductance", value, "H")).toThrow(/must be a number in H or text with its unit, such as "0.47 mH"/);
    }
    for (const value of [NaN, Infinity, -Infinity]) {
      expect(() => inSi("point", "x", value, "m")).toThrow(expect.objectContaining({ code: "invalid-argument" }));
    }
  });
});
