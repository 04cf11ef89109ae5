// The documentation of everything public is a test: what it is, what goes in and in which unit, what comes out, an example.
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { openLibrary, placeOf, subpaths } from "../support/program";

const { checker, exportsOf } = openLibrary();

/** Every exported symbol once, with the names it goes by. */
const everything = [...new Map(subpaths.flatMap((subpath) => exportsOf(subpath)).map((each) => [each.symbol, each])).values()];
const functions = everything.flatMap(({ name, symbol }) => {
  const node = callables(symbol)[0];
  return node === undefined ? [] : [{ name, symbol, node }];
});

/** The declarations of a function with a docstring of their own; of overloads those that have one, at least the first. */
function callables(symbol: ts.Symbol): (ts.SignatureDeclaration & ts.Declaration)[] {
  const found = (symbol.declarations ?? []).flatMap(
    (declaration): (ts.FunctionDeclaration | ts.ArrowFunction | ts.FunctionExpression)[] => {
      if (ts.isFunctionDeclaration(declaration)) return [declaration];
      const value = ts.isVariableDeclaration(declaration) ? declaration.initializer : undefined;
      return value !== undefined && (ts.isArrowFunction(value) || ts.isFunctionExpression(value)) ? [value] : [];
    },
  );
  const documented = found.filter((each) => docOf(each) !== undefined);
  return documented.length > 0 ? documented : found.slice(0, 1);
}

function docOf(node: ts.Node): ts.JSDoc | undefined {
  return ts.getJSDocCommentsAndTags(node).filter(ts.isJSDoc).at(-1);
}

const textOf = (comment: string | ts.NodeArray<ts.JSDocComment> | undefined): string => ts.getTextOfJSDocComment(comment)?.trim() ?? "";

/**
 * Words that say what a number counts: a unit, its name, a kind of count, or that there is none. A unit that stands alone
 * ("m", "A") must not be part of a word.
 */
const whole = (list: readonly string[], flags: string): RegExp =>
  new RegExp(`(?<![\\p{L}\\p{N}])(?:${list.join("|")})(?![\\p{L}\\p{N}])`, flags);
const symbols = whole(
  [
    "[pnµumkMG]?(?:Ω|H|F|Hz|m|s|V|A|W|Pa|N|kg|g|J|T|C|K|S|dB|rad|bit|bits)(?:[²³⁻¹·/][\\p{L}²³⁻¹·/]*)?",
    "°C?",
    "%",
    "m²",
    "m³",
    "SI",
    "px",
    "×",
  ],
  "u",
);
const words = whole(
  [
    "ohms?",
    "henr(?:y|ies)",
    "farads?",
    "hertz",
    "metres?",
    "millimetres?",
    "seconds?",
    "milliseconds?",
    "volts?",
    "amperes?",
    "watts?",
    "pascals?",
    "newtons?",
    "degrees?",
    "radians?",
    "decibels?",
    "octaves?",
    "decades?",
    "per cent",
    "percent",
    "kelvins?",
    "celsius",
    "tesla",
    "pixels?",
    "dimensionless",
    "unitless",
    "unit of",
    "units of",
    "same unit",
    "any unit",
    "own unit",
    "context's",
    "ratios?",
    "fractions?",
    "factors?",
    "probability",
    "coefficients?",
    "exponents?",
    "normali[sz]ed",
    "the same (?:number|value)",
    "number of",
    "count",
    "counts",
    "counted",
    "how many",
    "whole number",
    "index",
    "indices",
    "order",
    "length",
    "shape",
    "points?",
    "samples?",
    "turns?",
    "periods?",
    "cycles?",
    "bytes?",
    "digits?",
    "decimals?",
    "rows?",
    "lines?",
    "columns?",
    "seed",
  ],
  "iu",
);
const units = { test: (text: string): boolean => symbols.test(text) || words.test(text) };

/** Whether a type holds numbers that a reader must know the unit of: number, arrays of it, and unions with them. */
function numeric(type: ts.Type): boolean {
  // number | string is something to be shown, not a quantity; those have a pattern in place of the string.
  if (type.isUnion()) return type.types.some(numeric) && !type.types.some((each) => (each.flags & ts.TypeFlags.String) !== 0);
  if (type.flags & ts.TypeFlags.NumberLike) return !type.isNumberLiteral();
  const name = type.symbol?.name;
  if (name === "Float64Array") return true;
  const element = name === "ArrayLike" || checker.isArrayType(type) ? checker.getTypeArguments(type as ts.TypeReference)[0] : undefined;
  return element !== undefined && numeric(element);
}

/** Whether a type is written as one of the quantities (`Resistance`, `Frequency`, …), whose name says the unit. */
function isQuantity(node: ts.TypeNode | undefined): boolean {
  if (node === undefined || !ts.isTypeReferenceNode(node)) return false;
  const symbol = checker.getSymbolAtLocation(node.typeName);
  const resolved = symbol && symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
  return resolved?.declarations?.some((each) => each.getSourceFile().fileName.includes("/src/quantity/")) ?? false;
}

const sorted = (list: string[]): string => list.sort().join("\n");

describe("every public function", () => {
  it("exists", () => {
    expect(functions.length).toBeGreaterThan(5);
  });

  it("has a docstring with a summary, its parameters, what it returns and an example", () => {
    const offenders: string[] = [];
    for (const { name, node } of functions) {
      const say = (what: string): void => void offenders.push(`${placeOf(node)}: ${name}: ${what}`);
      const doc = docOf(node);
      if (doc === undefined) {
        say("no docstring");
        continue;
      }
      const summary = textOf(doc.comment);
      if (!/[.:)`$]$|\.\s/.test(summary)) say("no summary sentence");
      const tags = ts.getJSDocTags(node).filter((tag) => tag.parent === doc);
      const params = tags.filter(ts.isJSDocParameterTag);
      for (const parameter of node.parameters) {
        const label = ts.isIdentifier(parameter.name) ? parameter.name.text : undefined;
        const tag = label === undefined ? params[node.parameters.indexOf(parameter)] : params.find((each) => each.name.getText() === label);
        if (tag === undefined || textOf(tag.comment) === "") {
          say(`no @param ${label ?? "(the destructured one)"}`);
          continue;
        }
        if (numeric(checker.getTypeAtLocation(parameter)) && !isQuantity(parameter.type) && !units.test(textOf(tag.comment)))
          say(`@param ${label}: no unit, nor "dimensionless"`);
      }
      for (const each of params) {
        const base = each.name.getText().split(".")[0]!;
        if (!node.parameters.some((parameter) => !ts.isIdentifier(parameter.name) || parameter.name.text === base))
          say(`@param ${base}: there is no such parameter`);
      }
      const returned = checker.getReturnTypeOfSignature(checker.getSignatureFromDeclaration(node)!);
      const returns = tags.find(ts.isJSDocReturnTag);
      if (!(returned.flags & (ts.TypeFlags.Void | ts.TypeFlags.Never))) {
        if (returns === undefined || textOf(returns.comment) === "") say("no @returns");
        else if (numeric(returned) && !units.test(`${textOf(returns.comment)} ${summary.split(/\.\s/)[0]}`))
          say('@returns: no unit, nor "dimensionless"');
      }
      const examples = tags.filter((tag) => tag.tagName.text === "example");
      if (examples.length === 0) say("no @example");
      for (const example of examples) if (!/```ts\b[\s\S]*```/.test(textOf(example.comment))) say("an @example without a ```ts block");
    }
    expect(sorted(offenders)).toBe("");
  });

  it("has at most three positional arguments, and what may be left out after them", () => {
    // Checks name their caller and the argument before the value: they are called from inside only.
    const offenders = functions.filter(({ node }) => {
      const [first, , , fourth, fifth] = node.parameters;
      const optional = fourth === undefined || fourth.questionToken !== undefined || fourth.initializer !== undefined;
      return first?.name.getText() !== "caller" && (!optional || fifth !== undefined);
    });
    expect(sorted(offenders.map(({ name, node }) => `${placeOf(node)}: ${name}: ${node.parameters.length} arguments`))).toBe("");
  });
});

describe("every public name", () => {
  it("has a docstring that says what it is", () => {
    const offenders = everything.filter(({ symbol }) => symbol.getDocumentationComment(checker).length === 0);
    expect(sorted(offenders.map(({ name, symbol }) => `${placeOf(symbol.declarations![0]!)}: ${name}`))).toBe("");
  });
});

describe("every number of a public type", () => {
  // Names that say what they count: hertz by convention, a unit as suffix, a count.
  const speaking =
    /^(?:\w*[fF]requenc(?:y|ies)|\w+(?:Db|Degrees|Percent)|seconds|samples|places|terminals|order|turns|points|digits|decimals|seed|count|rows|line|index)$/;

  it("has its unit beside it, or in the docstring of its type or of the function that takes it", () => {
    const offenders = new Map<string, string>();
    const look = (owner: string, type: ts.Type, context: string): void => {
      for (const property of type.getProperties()) {
        const declaration = property.declarations?.[0];
        if (declaration === undefined || !ts.isPropertySignature(declaration) || !declaration.getSourceFile().fileName.includes("/src/"))
          continue;
        if (speaking.test(property.name) || !numeric(checker.getTypeOfSymbol(property)) || isQuantity(declaration.type)) continue;
        const own = ts.displayPartsToString(property.getDocumentationComment(checker));
        const where = `${placeOf(declaration)}: ${property.name}`;
        if (!units.test(own) && !units.test(context)) offenders.set(where, offenders.get(where) ?? owner);
      }
    };
    for (const { name, symbol } of everything) {
      const declaration = symbol.declarations![0]!;
      if (!ts.isInterfaceDeclaration(declaration) && !ts.isTypeAliasDeclaration(declaration)) continue;
      const type = checker.getDeclaredTypeOfSymbol(symbol);
      for (const member of type.isUnion() ? type.types : [type])
        look(name, member, ts.displayPartsToString(symbol.getDocumentationComment(checker)));
    }
    for (const { name, node } of functions) {
      for (const parameter of node.parameters) {
        const tags = ts
          .getJSDocParameterTags(parameter)
          .map((tag) => textOf(tag.comment))
          .join(" ");
        const type = checker.getNonNullableType(checker.getTypeAtLocation(parameter));
        if (parameter.type && ts.isTypeLiteralNode(parameter.type)) look(name, type, tags);
      }
    }
    expect(sorted([...offenders].map(([where, owner]) => `${where} (of ${owner}): no unit, nor "dimensionless"`))).toBe("");
  });
});

describe("every property of a public type", () => {
  const properties = everything.flatMap(({ name, symbol }) =>
    (symbol.declarations ?? []).flatMap((declaration) => {
      const found: { readonly owner: string; readonly node: ts.TypeElement | ts.ClassElement }[] = [];
      const visit = (node: ts.Node): void => {
        const member =
          ts.isPropertySignature(node) || ts.isMethodSignature(node) || ts.isPropertyDeclaration(node) || ts.isMethodDeclaration(node);
        const hidden = member && (ts.getCombinedModifierFlags(node) & ts.ModifierFlags.Private) !== 0;
        if (member && !hidden) found.push({ owner: name, node });
        if (!ts.isBlock(node)) ts.forEachChild(node, visit);
      };
      if (ts.isInterfaceDeclaration(declaration) || ts.isTypeAliasDeclaration(declaration) || ts.isClassDeclaration(declaration))
        visit(declaration);
      return found;
    }),
  );
  const textOfProperty = (node: ts.Node): string =>
    ts
      .getJSDocCommentsAndTags(node)
      .filter(ts.isJSDoc)
      .map((doc) => textOf(doc.comment))
      .join(" ");

  it("has a docstring, those of literals inside it included", () => {
    expect(properties.length).toBeGreaterThan(1000);
    const offenders = properties.filter(({ node }) => textOfProperty(node) === "");
    expect(sorted(offenders.map(({ owner, node }) => `${placeOf(node)}: ${owner}.${node.name?.getText()}`))).toBe("");
  });

  it("is told more of than its own name", () => {
    const bare = (text: string): string =>
      text
        .toLowerCase()
        .replace(/^(?:the|an?)\s+/, "")
        .replace(/[^\p{L}]/gu, "");
    const offenders = properties.filter(
      ({ node }) =>
        node.name !== undefined && bare(textOfProperty(node)) === bare(node.name.getText()) && bare(textOfProperty(node)) !== "",
    );
    expect(sorted(offenders.map(({ owner, node }) => `${placeOf(node)}: ${owner}.${node.name?.getText()}: ${textOfProperty(node)}`))).toBe(
      "",
    );
  });
});
