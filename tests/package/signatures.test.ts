// Whoever imports a function can name what goes into it and what comes out: every named type of a signature is exported, by the root for
// what the root exports, and by a floor for everything else.
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { openLibrary, subpaths } from "../support/program";

const { checker, exportsOf } = openLibrary();

/** Types that are computed from others, or made of text, say nothing more by what they are computed with. */
const computed = (node: ts.Node): boolean =>
  ts.isConditionalTypeNode(node) || ts.isMappedTypeNode(node) || ts.isTemplateLiteralTypeNode(node) || ts.isIndexedAccessTypeNode(node);

/** What of a declaration its user sees: no bodies, no initial values. */
function visible(declaration: ts.Declaration): readonly ts.Node[] {
  if (ts.isFunctionDeclaration(declaration)) {
    const parameters = declaration.parameters.flatMap(({ type }) => type ?? []);
    return [...(declaration.typeParameters ?? []), ...parameters, ...(declaration.type === undefined ? [] : [declaration.type])];
  }
  if (ts.isTypeAliasDeclaration(declaration)) return [...(declaration.typeParameters ?? []), declaration.type];
  if (ts.isInterfaceDeclaration(declaration))
    return [...(declaration.typeParameters ?? []), ...(declaration.heritageClauses ?? []), ...declaration.members];
  if (ts.isVariableDeclaration(declaration)) return declaration.type === undefined ? [] : [declaration.type];
  if (!ts.isClassDeclaration(declaration)) throw new Error(`an export of another kind: ${declaration.getText().slice(0, 80)}`);
  return declaration.members.flatMap((member) => {
    if (ts.isConstructorDeclaration(member)) return member.parameters.flatMap(({ type }) => type ?? []);
    return ts.isPropertyDeclaration(member) && member.type !== undefined ? [member.type] : [];
  });
}

/** The library's own types that an export names. */
function namedIn(symbol: ts.Symbol): readonly ts.Symbol[] {
  const found = new Set<ts.Symbol>();
  const visit = (node: ts.Node): void => {
    if (computed(node)) return;
    const reference = ts.isTypeReferenceNode(node) ? node.typeName : ts.isExpressionWithTypeArguments(node) ? node.expression : undefined;
    const named = reference && checker.getSymbolAtLocation(reference);
    const resolved = named !== undefined && (named.flags & ts.SymbolFlags.Alias) !== 0 ? checker.getAliasedSymbol(named) : named;
    const own = resolved?.declarations?.some(
      (each) => each.getSourceFile().fileName.includes("/src/") && !ts.isTypeParameterDeclaration(each),
    );
    if (resolved !== undefined && own === true) found.add(resolved);
    ts.forEachChild(node, visit);
  };
  for (const declaration of symbol.declarations ?? []) visible(declaration).forEach(visit);
  return [...found];
}

function unnamed(exported: ReturnType<typeof exportsOf>, published: ReadonlySet<ts.Symbol>): string[] {
  return exported.flatMap(({ name, symbol }) =>
    namedIn(symbol)
      .filter((each) => !published.has(each))
      .map((each) => `${each.name} of ${name}`),
  );
}

describe("every named type of a signature", () => {
  const root = exportsOf("");
  const floors = subpaths.slice(1).flatMap((subpath) => exportsOf(subpath));

  it("is looked for", () => {
    const predict = root.find(({ name }) => name === "predict")!;
    expect(
      namedIn(predict.symbol)
        .map(({ name }) => name)
        .sort(),
    ).toEqual(["Entries", "Loudspeaker", "PredictOptions", "Prediction"]);
  });

  it("is exported by the root for what the root exports", () => {
    expect(unnamed(root, new Set(root.map(({ symbol }) => symbol)))).toEqual([]);
  });

  it("is exported by some floor for everything else", () => {
    expect(unnamed(floors, new Set(floors.map(({ symbol }) => symbol)))).toEqual([]);
  });

  it("stands in the signature: no public function leaves its answer's type to be inferred", () => {
    const inferred = floors.filter(({ symbol }) =>
      symbol.declarations?.some((each) => ts.isFunctionDeclaration(each) && each.type === undefined),
    );
    expect(inferred.map(({ name }) => name)).toEqual([]);
  });
});
