// Tests src/quantity/: markdown-escaped.ts, working-text.ts
import { startWorking, workingMarkdown, workingText, type Working } from "dividing-network/quantity";
import { describe, expect, it } from "vitest";

const display = Symbol.for("Jupyter.display");

function example(): Working {
  const working = startWorking();
  const c = working.step(
    "C",
    "F",
    { formula: "Le / Re²", tex: "C = \\frac{L_e}{R_e^2}", source: "algebra" },
    { Le: [0.0005, "H"], Re: [6, "Ω"] },
    ({ Le, Re }) => Le / Re ** 2,
  );
  working.step("x_1", "", { formula: "2 C", tex: "x_1 = 2C", source: "after A*B <1972>" }, { C: [c, "F"] }, ({ C }) => 2 * C);
  working.step("τ", "Ω·s", { formula: "1/3", tex: "\\tau = 1/3", source: "algebra" }, {}, () => 1 / 3);
  return working.done();
}

describe("startWorking", () => {
  it("returns the number that it records", () => {
    const working = startWorking();
    const value = working.step(
      "y",
      "V",
      { formula: "a b", tex: "y = ab", source: "algebra" },
      { a: [3, "A"], b: [4, "Ω"] },
      ({ a, b }) => a * b,
    );
    expect(value).toBe(12);
    expect(working.done()).toEqual([
      {
        symbol: "y",
        formula: "a b",
        tex: "y = ab",
        inputs: [
          { symbol: "a", value: 3, unit: "A" },
          { symbol: "b", value: 4, unit: "Ω" },
        ],
        value: 12,
        unit: "V",
        source: "algebra",
        digits: 4,
        resultDigits: 4,
      },
    ]);
  });

  it("ends in a frozen array whose JSON and keys are the steps alone, and that later steps do not change", () => {
    const working = startWorking();
    const step = (): number => working.step("y", "", { formula: "1", tex: "y = 1", source: "algebra" }, {}, () => 1);
    step();
    const done = working.done();
    step();
    expect(done).toHaveLength(1);
    expect(working.done()).toHaveLength(2);
    expect(Array.isArray(done)).toBe(true);
    expect(Object.isFrozen(done)).toBe(true);
    expect(Object.isFrozen(done[0])).toBe(true);
    expect(Object.isFrozen(done[0]!.inputs)).toBe(true);
    expect(Object.keys(done)).toEqual(["0"]);
    expect(JSON.parse(JSON.stringify(done))).toEqual([...done]);
    expect(structuredClone(done)).toEqual([...done]);
  });

  it("prints a result with the digits that what follows needs, and no more of another of the same name", () => {
    // 1/3 − 0.33333 is 3.333·10⁻⁶ to four digits only where 1/3 has nine: 0.333333333.
    const small = (third: number, name: string) => {
      const working = startWorking();
      const text = { formula: "x", tex: "x", source: "algebra" };
      working.step("a", "", text, {}, () => third);
      working.step("b", "", text, { [name]: [1 / 3, ""] }, (values) => values[name]! - 0.33333);
      return workingText(working.done());
    };
    expect(small(1 / 3, "a")).toBe("1. a = x\n   a = 0.333333333 (algebra)\n2. b = x\n   a = 0.333333333\n   b = 0.000003333 (algebra)");
    expect(small(1 / 3, "c")).toContain("a = 0.3333 (algebra)");
    expect(small(1 / 6, "a")).toContain("a = 0.1667 (algebra)");
  });

  it("keeps what follows from a step with it", () => {
    const working = startWorking();
    const text = { formula: "x", tex: "x", source: "algebra" };
    working.step("a", "", { ...text, note: "that is enough" }, {}, () => 1);
    working.step("b", "", text, {}, () => 1);
    expect(working.done().map((step) => step.note)).toEqual(["that is enough", undefined]);
    expect(working.done()[1]).not.toHaveProperty("note");
    expect(workingMarkdown(working.done())).toBe("1. $x$: **a = 1** (algebra); that is enough\n2. $x$: **b = 1** (algebra)");
  });

  it("displays itself in notebooks as Markdown and as text", () => {
    const done = example();
    expect(Object.getOwnPropertyDescriptor(done, display)).toMatchObject({ enumerable: false, writable: false });
    expect((done as unknown as Record<symbol, () => unknown>)[display]!()).toEqual({
      "text/markdown": workingMarkdown(done),
      "text/plain": workingText(done),
    });
  });
});

describe("workingText", () => {
  it("shows formula, numbers put in, result with its unit, and source", () => {
    expect(workingText(example()).split("\n")).toEqual([
      "1. C = Le / Re²",
      "   Le = 0.5 mH, Re = 6 Ω",
      "   C = 13.89 µF (algebra)",
      "2. x_1 = 2 C",
      "   C = 13.89 µF",
      "   x_1 = 0.00002778 (after A*B <1972>)",
      "3. τ = 1/3",
      "   τ = 0.3333 Ω·s (algebra)",
    ]);
  });

  it("is empty for no steps", () => {
    expect(workingText([])).toBe("");
    expect(workingMarkdown([])).toBe("");
  });

  it("shows a result that is not finite as it is", () => {
    const working = startWorking();
    working.step("L", "dB", { formula: "20 lg 0", tex: "L = 20 \\lg 0", source: "algebra" }, {}, () => -Infinity);
    working.step("R", "Ω", { formula: "1/0", tex: "R = 1/0", source: "algebra" }, {}, () => Infinity);
    expect(workingText(working.done())).toContain("L = -Infinity dB");
    expect(workingText(working.done())).toContain("R = Infinity Ω");
  });
});

describe("workingMarkdown", () => {
  it("keeps formulas as TeX and escapes what Markdown would take for its own", () => {
    expect(workingMarkdown(example()).split("\n")).toEqual([
      "1. $C = \\frac{L_e}{R_e^2}$ with Le = 0.5 mH, Re = 6 Ω: **C = 13.89 µF** (algebra)",
      "2. $x_1 = 2C$ with C = 13.89 µF: **x\\_1 = 0.00002778** (after A\\*B \\<1972\\>)",
      "3. $\\tau = 1/3$: **τ = 0.3333 Ω·s** (algebra)",
    ]);
  });
});
