// The hint of a shared check says what to do where the message alone doesn't: which name was probably meant, how to write a number.
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network/errors";
import { checkNumber, checkOneOf, checkOptions } from "../../src/errors/internal";

const errorOf = (work: () => unknown): DividingNetworkError => {
  try {
    work();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
  }
  throw new Error("nothing was refused");
};
const optionHint = (key: string, known: readonly string[]) => errorOf(() => checkOptions("f", { [key]: 1 }, known)).hint;

describe("the hint of a shared check", () => {
  it("names the option that differs by capitals or by a letter or two", () => {
    expect(optionHint("dissipationfactor", ["esr", "dissipationFactor"])).toBe('Did you mean "dissipationFactor"?');
    expect(optionHint("frequencie", ["voltage", "frequencies"])).toBe('Did you mean "frequencies"?');
    expect(optionHint("DCR", ["dcr"])).toBe('Did you mean "dcr"?');
    expect(optionHint("drc", ["tolerance", "dcr"])).toBe('Did you mean "dcr"?');
  });

  it("is silent where no known name is near", () => {
    expect(optionHint("resistance", ["esr", "dissipationFactor"])).toBe("");
    expect(optionHint("re", ["bl"])).toBe("");
  });

  it("names the word that was meant, and nothing for what is no word", () => {
    expect(errorOf(() => checkOneOf("f", "polarity", "Reversed", ["same", "reversed"])).hint).toBe('Did you mean "reversed"?');
    expect(errorOf(() => checkOneOf("f", "polarity", Symbol("x"), ["same", "reversed"])).hint).toBe("");
  });

  it("says how to write a number that came as text, that is none, or that isn't whole", () => {
    expect(errorOf(() => checkNumber("f", "x", "4.7")).hint).toBe("Write 4.7 without quotation marks");
    expect(errorOf(() => checkNumber("f", "x", NaN)).hint).toBe("Look at the calculation that gave it");
    expect(errorOf(() => checkNumber("f", "x", 2.6, { integer: true })).hint).toBe("Round it, to 3 for instance");
    expect(errorOf(() => checkNumber("f", "x", -1, { min: 0, unit: "Ω" })).hint).toBe("");
  });

  it("ends the message once", () => {
    expect(errorOf(() => checkOptions("f", { xyz: 1 }, ["esr"])).message).toBe('f: unknown option "xyz"; known are "esr"');
    expect(errorOf(() => checkOptions("f", { volage: 1 }, ["voltage"])).message).toBe(
      'f: unknown option "volage"; known are "voltage". Did you mean "voltage"?',
    );
  });
});
