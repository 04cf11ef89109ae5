import { describe, expect, it } from "vitest";
import { capital, fewDigits, fixed, hertz, listOf, percent, signed } from "../../src/quantity/internal";

describe("words for people", () => {
  it("round a number to few digits, drop zeros that say nothing, and take a true minus", () => {
    expect([0.123456, 1200, -0.25, 0, -0, 1e-7].map((value) => fewDigits(value))).toEqual(["0.123", "1200", "−0.25", "0", "0", "1e-7"]);
    expect(fewDigits(3.14159, 5)).toBe("3.1416");
    expect([Infinity, -Infinity].map((value) => fewDigits(value))).toEqual(["∞", "−∞"]);
  });

  it("hold a number to its decimals, without a sign before what rounds to zero", () => {
    expect([-0.26, -0.04, 0, 12].map((value) => fixed(value, 1))).toEqual(["−0.3", "0.0", "0.0", "12.0"]);
    expect([-0.26, -0.04, 0.04, 0.26].map((value) => signed(value, 1))).toEqual(["−0.3", "0.0", "0.0", "+0.3"]);
  });

  it("go from hertz to kilohertz where three digits would read 1000 Hz", () => {
    expect([31.5, 999.4, 999.5, 1234, 20e3].map(hertz)).toEqual(["31.5 Hz", "999 Hz", "1 kHz", "1.23 kHz", "20 kHz"]);
  });

  it("write shares, lists and the beginning of a sentence", () => {
    expect([percent(0.1234), percent(0.1234, 2), percent(1)]).toEqual(["12.3 %", "12 %", "100 %"]);
    expect([[], ["a"], ["a", "b"], ["a", "b", "c"]].map(listOf)).toEqual(["", "a", "a and b", "a, b and c"]);
    expect([capital("on axis"), capital("")]).toEqual(["On axis", ""]);
  });
});
