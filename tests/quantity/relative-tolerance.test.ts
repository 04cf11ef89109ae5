// A tolerance as a number or with a percent sign, in and out. A hundredth is a hundredth: 5 % is 0.05.
import { describe, expect, it } from "vitest";
import { relativeTolerance, toleranceText } from "../../src/quantity/internal";

const read = (value: unknown) => relativeTolerance("resistor", "tolerance", value);

describe("a tolerance", () => {
  it.each<[unknown, number]>([
    [0, 0],
    [0.05, 0.05],
    [0.999, 0.999],
    ["5 %", 0.05],
    ["5%", 0.05],
    ["12%", 0.12],
    ["12.5 %", 0.125],
    ["12.75 %", 0.1275],
    [".5 %", 0.005],
    [".25%", 0.0025],
    ["±10 %", 0.1],
    ["  ±  10  %  ", 0.1],
    ["0 %", 0],
    ["99.9 %", 0.999],
  ])("%j is %d", (value, expected) => {
    expect(read(value)).toBe(expected);
  });

  it.each<[unknown, RegExp]>([
    [1, /got 1\. Write "1 %"$/],
    [5, /Write "5 %"$/],
    [-0.05, /Write "-0\.05 %"$/],
    [NaN, /must be a relative number below 1/],
    ["5", /got "5"\. Write "5 %"$/],
    [" 12.5 ", /Write "12\.5 %"$/],
    ["12,55", /Write "12\.55 %"$/],
    ["x5", /Write it as in "5 %"$/],
    ["5x", /Write it as in "5 %"$/],
    ["5;5", /Write it as in "5 %"$/],
    ["5.x", /Write it as in "5 %"$/],
    ["x", /Write it as in "5 %"$/],
    ["100 %", /got "100 %"\. Write it as in "5 %"$/],
    ["x5 %", /Write it as/],
    ["5 %x", /Write it as/],
    ["5.x %", /Write it as/],
    [".x %", /Write it as/],
    ["x %", /Write it as/],
    [undefined, /got undefined\. Write it as/],
    [null, /Write it as/],
    [{}, /Write it as/],
    [[0.05], /Write it as/],
  ])("%j is refused with the way out", (value, says) => {
    expect(() => read(value)).toThrow(says);
    expect(() => read(value)).toThrow(expect.objectContaining({ code: "invalid-argument" }));
  });

  it("that is longer than 40 letters is not read", () => {
    expect(read(`${" ".repeat(30)}5 %`)).toBe(0.05);
    expect(() => read(`${" ".repeat(40)}5 %`)).toThrow(/relative number/);
  });

  it.each<[number, string | number]>([
    [0.05, "5 %"],
    [0.005, "0.5 %"],
    [0.125, "12.5 %"],
    [0, "0 %"],
    // 7/100 is 0.07 again, though 100 times 0.07 is 7.000000000000001.
    [0.07, "7 %"],
    // No decimal of fifteen digits reads back to a third; a thousandth of a millionth would be written with an exponent.
    [1 / 3, 1 / 3],
    [1e-10, 1e-10],
  ])("of %d is written %j, which reads back", (tolerance, text) => {
    expect(toleranceText(tolerance)).toBe(text);
    expect(read(text)).toBe(tolerance);
  });
});
