// Tests src/quantity/: working-text.ts
// A working may come back from JSON or be written by hand: what is a step is printed as one, and what isn't is refused by its index.
import { describe, expect, it } from "vitest";
import { startWorking, workingMarkdown, workingText, type Working } from "dividing-network/quantity";

const step = {
  symbol: "C",
  formula: "Le / Re²",
  tex: "C = x",
  inputs: [{ symbol: "Le", value: 0.0005, unit: "H" }],
  value: 13.9e-6,
  unit: "F",
  source: "algebra",
  digits: 4,
  resultDigits: 3,
};
const of = (...steps: unknown[]) => steps as unknown as Working;

describe("a working that was copied", () => {
  it("reads as the one that it was copied from", () => {
    const working = startWorking();
    working.step("a", "", { formula: "b", tex: "a = b", source: "algebra", note: "so" }, { b: [2, "m"] }, ({ b }) => b);
    const copy = JSON.parse(JSON.stringify(working.done())) as Working;
    expect(workingText(copy)).toBe("1. a = b\n   b = 2 m\n   a = 2 (algebra)\n   so");
    expect(workingMarkdown(copy)).toBe(workingMarkdown(working.done()));
  });

  it("is printed with as many digits as it says, from 1 to 17, and with what is infinite", () => {
    expect(workingText(of(step))).toBe("1. C = Le / Re²\n   Le = 0.5 mH\n   C = 13.9 µF (algebra)");
    expect(workingText(of({ ...step, resultDigits: 1 }))).toContain("C = 10 µF");
    expect(workingText(of({ ...step, unit: "F·s", resultDigits: 17, digits: 17 }))).toContain("C = 0.0000139 F·s");
    expect(workingText(of({ ...step, value: Infinity }))).toContain("C = Infinity F");
    expect(workingText(of({ ...step, value: -0, unit: "" }))).toContain("C = 0 (");
    expect(workingText(of({ ...step, inputs: new Array(1000).fill(step.inputs[0]) })).split("Le = ").length).toBe(1001);
  });

  it.each<[string, unknown]>([
    ["nothing", undefined],
    ["null", null],
    ["a word", "C = 1"],
    ...(["symbol", "formula", "tex", "unit", "source"] as const).map((key): [string, unknown] => [
      `no ${key}`,
      { ...step, [key]: undefined },
    ]),
    ["a value in words", { ...step, value: "13.9 µF" }],
    ["a value that is none", { ...step, value: NaN }],
    ["no digits", { ...step, digits: 0 }],
    ["half a digit", { ...step, digits: 2.5 }],
    ["more digits than can be printed", { ...step, digits: 18 }],
    ["no digits of its result", { ...step, resultDigits: 0 }],
    ["too many digits of its result", { ...step, resultDigits: 18 }],
    ["digits in words", { ...step, resultDigits: "4" }],
    ["a note that is no text", { ...step, note: 7 }],
    ["no inputs", { ...step, inputs: undefined }],
    ["an input for inputs", { ...step, inputs: step.inputs[0] }],
    ["more inputs than a formula has", { ...step, inputs: new Array(1001).fill(step.inputs[0]) }],
    ["an input of nothing", { ...step, inputs: [step.inputs[0], null] }],
    ["an input in words", { ...step, inputs: ["Le = 0.5 mH"] }],
    ["an input without a name", { ...step, inputs: [{ value: 1, unit: "H" }] }],
    ["an input without a unit", { ...step, inputs: [{ symbol: "Le", value: 1 }] }],
    ["an input of infinity", { ...step, inputs: [{ symbol: "Le", value: Infinity, unit: "H" }] }],
    ["an input that is no number", { ...step, inputs: [{ symbol: "Le", value: "1", unit: "H" }] }],
  ])("is refused by its index where a step has %s", (_, wrong) => {
    for (const print of [workingText, workingMarkdown])
      expect(() => print(of(step, wrong))).toThrow(
        expect.objectContaining({ code: "invalid-argument", message: expect.stringContaining('"working[1]"') as unknown }),
      );
  });
});
