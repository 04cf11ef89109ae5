// A number of nature stands once, in src/physics/: typed again elsewhere it drifts, as the density of air once did (1.204 at nine
// places, 1.2041 at a tenth). Comments may name them.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const src = join(import.meta.dirname, "../../src");
const isNatural = (value: number): boolean =>
  [20e-6, 2.83, 101_325, 273.15, 293.15, 1.204, 1.2, 1.18, 1.225, 343, 343.2, 344, 345, 4e-7, 4e-7 * Math.PI, 1.724e-8, 1.68e-8, 0.00393].some((known) => Math.abs(value / known - 1) < 2e-4);
/** Numbers that only look so, by file: the coefficient of a fit, a bound. */
const innocent: Readonly<Record<string, readonly string[]>> = {
  "alignments/closed-form-ladder.ts": ["4e-7"],
  "quantity/preferred-values.ts": ["1.2"],
  "radiation/points-needed.ts": ["1.2"],
};

function numbersOf(file: string): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isNumericLiteral(node) && isNatural(Number(node.text))) found.push(node.getText());
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, readFileSync(join(src, file), "utf8"), ts.ScriptTarget.ES2022, true));
  return found;
}

describe("numbers of nature", () => {
  const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".ts"));

  it.each(files.filter((name) => !name.startsWith("physics")).map((name) => name.split("\\").join("/")))("are not typed again in %s", (name) => {
    expect(numbersOf(name).filter((text) => !(innocent[name] ?? []).includes(text))).toEqual([]);
  });

  it("are seen where they do stand", () => {
    expect(numbersOf("physics/air.ts")).toEqual(expect.arrayContaining(["343.2", "273.15"]));
    expect(numbersOf("physics/constants.ts")).toEqual(expect.arrayContaining(["20e-6", "2.83"]));
  });
});
