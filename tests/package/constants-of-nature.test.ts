// A number of nature stands once, in src/physics/: typed again elsewhere it drifts, as the density of air once did (1.204 at nine
// places, 1.2041 at a tenth). Comments may name them.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const src = join(import.meta.dirname, "../../src");
const isNatural = (value: number): boolean =>
  [
    20e-6,
    2.83,
    101_325,
    273.15,
    293.15,
    1.204,
    1.2,
    1.18,
    1.225,
    343,
    343.2,
    344,
    345,
    4e-7,
    4e-7 * Math.PI,
    Math.SQRT2 * 2,
    1.724e-8,
    1.68e-8,
    0.00393,
  ].some((known) => Math.abs(value / known - 1) < 2e-4);
/** Numbers that only look so, by file: the coefficient of a fit, a bound, the width of an octave either side. */
const innocent: Readonly<Record<string, readonly string[]>> = {
  "assessment/handover.ts": ["2 * Math.SQRT2"],
  "alignments/ladders/closed-form-ladder.ts": ["4e-7"],
  "design/stock-supply.ts": ["1.2", "1.2"],
  "quantity/preferred-values.ts": ["1.2"],
  "radiation/points-needed.ts": ["1.2"],
};

const named: Readonly<Record<string, number>> = {
  "Math.PI": Math.PI,
  "Math.SQRT2": Math.SQRT2,
  "Math.SQRT1_2": Math.SQRT1_2,
  "Math.E": Math.E,
};

/** The number that an expression of numbers alone comes to: literals, π and √2, signs, sums, products, quotients, powers and roots. */
function folded(node: ts.Node): number | undefined {
  if (ts.isNumericLiteral(node)) return Number(node.text);
  if (ts.isParenthesizedExpression(node)) return folded(node.expression);
  if (ts.isPropertyAccessExpression(node)) return named[node.getText()];
  if (ts.isPrefixUnaryExpression(node)) {
    const value = folded(node.operand);
    return value === undefined || node.operator !== ts.SyntaxKind.MinusToken ? value : -value;
  }
  if (ts.isCallExpression(node) && node.expression.getText() === "Math.sqrt") {
    const value = folded(node.arguments[0]!);
    return value === undefined ? undefined : Math.sqrt(value);
  }
  if (!ts.isBinaryExpression(node)) return undefined;
  const [a, b] = [folded(node.left), folded(node.right)];
  if (a === undefined || b === undefined) return undefined;
  switch (node.operatorToken.kind) {
    case ts.SyntaxKind.AsteriskToken:
      return a * b;
    case ts.SyntaxKind.SlashToken:
      return a / b;
    case ts.SyntaxKind.PlusToken:
      return a + b;
    case ts.SyntaxKind.MinusToken:
      return a - b;
    case ts.SyntaxKind.AsteriskAsteriskToken:
      return a ** b;
    default:
      return undefined;
  }
}

function numbersIn(text: string, file = "text.ts"): string[] {
  const found: string[] = [];
  const visit = (node: ts.Node): void => {
    const value = folded(node);
    if (value !== undefined && isNatural(Math.abs(value)) && !ts.isParenthesizedExpression(node)) found.push(node.getText());
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile(file, text, ts.ScriptTarget.ES2022, true));
  return found;
}

const numbersOf = (file: string): string[] => numbersIn(readFileSync(join(src, file), "utf8"), file);

describe("numbers of nature", () => {
  const files = readdirSync(src, { recursive: true, encoding: "utf8" }).filter((name) => name.endsWith(".ts"));

  it.each(files.filter((name) => !name.startsWith("physics")).map((name) => name.split("\\").join("/")))(
    "are not typed again in %s",
    (name) => {
      expect(numbersOf(name).filter((text) => !(innocent[name] ?? []).includes(text))).toEqual([]);
    },
  );

  it("are seen where they do stand", () => {
    expect(numbersOf("physics/air.ts")).toEqual(expect.arrayContaining(["343.2", "273.15"]));
    expect(numbersOf("physics/constants.ts")).toEqual(expect.arrayContaining(["20e-6", "2.83"]));
  });

  it("are seen as products, quotients, sums and roots of numbers, with π and in brackets", () => {
    for (const text of [
      "4e-7 * Math.PI",
      "4 * Math.PI * 1e-7",
      "20 * 1e-6",
      "2e-5",
      "273.15 + 20",
      "Math.sqrt(8)",
      "2 * Math.SQRT2",
      "1e-6 / 58",
      "(1 / 58) * 1e-6",
      "1.204085",
      "101325 / (287.058 * 293.15)",
      "1000 * 1013.25 / 10",
      "-(273 + 0.15)",
      "8 ** 0.5",
    ]) {
      expect(numbersIn(`const x = ${text};`), text).not.toEqual([]);
    }
    for (const text of ["2 * Math.PI", "x * 1e-6", "20 * Math.log10(x)", "1 / 48000"])
      expect(numbersIn(`const x = ${text};`), text).toEqual([]);
  });
});
