import { describe, expect, it } from "vitest";
import { disagreement, parseStated } from "./stated";

function holds(comment: string, value: unknown): boolean {
  const stated = parseStated(comment);
  if (stated === undefined) throw new Error(`prose: ${comment}`);
  return disagreement(stated, value) === undefined;
}

describe("a stated result", () => {
  it("agrees with a number to half a unit of the last digit printed", () => {
    expect(holds("0.0000138889", 0.0005 / 36)).toBe(true);
    expect(holds("1.39e-5 F", 0.0005 / 36)).toBe(true);
    expect(holds("1.40e-5 F", 0.0005 / 36)).toBe(false);
    expect(holds("4.7", 4.7500001)).toBe(false);
    expect(holds("4.7", 4.65)).toBe(true);
    expect(holds("4.70", 4.69)).toBe(false);
    expect(holds("−6.02 dB, half the voltage", -6.0206)).toBe(true);
    expect(holds("-6.02", 6.02)).toBe(false);
    expect(holds("≈ 1200 Hz", 1200.4)).toBe(true);
    expect(holds("1200", 1201)).toBe(false);
    expect(holds("30°", 30)).toBe(true);
  });

  it("takes 0 for zero, not for anything below a half", () => {
    expect(holds("0", 1e-17)).toBe(true);
    expect(holds("0", 0.3)).toBe(false);
    expect(holds("0.00", 0.004)).toBe(true);
  });

  it("knows infinity, bounds and complex numbers", () => {
    expect(holds("-∞ dB", -Infinity)).toBe(true);
    expect(holds("-Infinity", Infinity)).toBe(false);
    expect(holds("∞", 1e300)).toBe(false);
    expect(holds("< 1e-9", 1e-10)).toBe(true);
    expect(holds("< 1e-9", 1e-8)).toBe(false);
    expect(holds("5.1 + 3.2j Ω", { re: 5.12, im: 3.19 })).toBe(true);
    expect(holds("5.1 - j3.2", { re: 5.12, im: 3.19 })).toBe(false);
    expect(holds("5.1 − 3.2i", { re: 5.1, im: -3.2 })).toBe(true);
    expect(holds("5.1", { re: 5.1, im: 0 })).toBe(false);
  });

  it("compares strings as JSON, and words exactly", () => {
    expect(holds('"4.7 Ω"', "4.7 Ω")).toBe(true);
    expect(holds('"4.7"', 4.7)).toBe(false);
    expect(holds('"\\"4R7\\""', '"4R7"')).toBe(true);
    expect(holds("true", true)).toBe(true);
    expect(holds("true", 1)).toBe(false);
    expect(holds("undefined, for the part is ideal", undefined)).toBe(true);
    expect(holds("null", undefined)).toBe(false);
  });

  it("compares arrays, typed or not, and objects by the keys printed", () => {
    expect(holds("[1, 2.50]", new Float64Array([1, 2.5]))).toBe(true);
    expect(holds("Float64Array(2) [1, 2.50]", new Float64Array([1, 2.51]))).toBe(false);
    expect(holds("[1]", [1, 2])).toBe(false);
    expect(holds("[20, …, 20000] Hz", [20, 1, 2, 20000])).toBe(true);
    expect(holds("[20, ..., 20000]", [20, 1, 2, 2000])).toBe(false);
    expect(holds("[]", [])).toBe(true);
    expect(holds('{ a: 1, b: { c: "x" } }', { a: 1, b: { c: "x" }, d: 3 })).toBe(true);
    expect(holds('{ a: 1, "b": 2 }', { a: 1 })).toBe(false);
    expect(holds("[{ re: 1.0, im: -1.0 }, …]", [{ re: 1, im: -1 }, 5])).toBe(true);
  });

  it("is not made of prose", () => {
    for (const prose of [
      "the part's own loss",
      "a frozen network",
      "true north",
      "Ω",
      "in the band",
      "undefined behaviour",
      "FrequencyResponse, V per V",
    ])
      expect(parseStated(prose)).toBeUndefined();
  });

  it("must be readable when it begins like a value", () => {
    for (const unclear of ["4R7", "2nd-order", "[1, 2", "{ a 1 }", "20–200 Hz", "1:2"])
      expect(() => parseStated(unclear)).toThrow("cannot be read");
  });
});
