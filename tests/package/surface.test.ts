// The public surface, one line an export, so that nothing becomes or stops being public unseen. After a change that is
// meant: `npx vitest run tests/package/surface.test.ts -u`, and read the difference of surface.md before committing it.
import ts from "typescript";
import { expect, it } from "vitest";
import { openLibrary, subpaths } from "../support/program";
import type { Exported } from "../support/program";

const { checker, exportsOf } = openLibrary();
const flags = ts.TypeFormatFlags.NoTruncation | ts.TypeFormatFlags.UseAliasDefinedOutsideCurrentScope;
const printer = ts.createPrinter({ removeComments: true, omitTrailingSemicolon: true });

const oneLine = (text: string): string =>
  text
    .replace(/\s+/g, " ")
    .replace(/\| (?=\|)/g, "")
    .trim();
const listed = (list: readonly string[]): string => (list.length === 0 ? "(nothing)\n" : `\`\`\`text\n${list.join("\n")}\n\`\`\`\n`);
const printed = (node: ts.Node): string =>
  oneLine(printer.printNode(ts.EmitHint.Unspecified, node, node.getSourceFile())).replace(/^export (declare )?/, "");

/** A function as it is written: declared types keep their names and their order, which inferred ones need not. */
function signature(name: string, declaration: ts.FunctionDeclaration): string {
  const types = declaration.typeParameters === undefined ? "" : `<${declaration.typeParameters.map(printed).join(", ")}>`;
  const inferred = (): string =>
    checker.typeToString(checker.getReturnTypeOfSignature(checker.getSignatureFromDeclaration(declaration)!), undefined, flags);
  return `function ${name}${types}(${declaration.parameters.map(printed).join(", ")}): ${declaration.type === undefined ? inferred() : printed(declaration.type)}`;
}

/** What an export is, in a line: signatures for functions, the members for types. */
function lines({ symbol, name }: Exported): string[] {
  const declaration = symbol.declarations![0]!;
  const type = checker.getTypeOfSymbol(symbol);
  const functions = symbol.declarations!.filter(ts.isFunctionDeclaration);
  if (functions.length > 0)
    return functions.filter((each) => functions.length === 1 || each.body === undefined).map((each) => signature(name, each));
  if (symbol.flags & ts.SymbolFlags.Class && ts.isClassDeclaration(declaration)) {
    const has = (member: ts.Node, wanted: ts.SyntaxKind): boolean =>
      ts.canHaveModifiers(member) && (ts.getModifiers(member)?.some(({ kind }) => kind === wanted) ?? false);
    const members = declaration.members.filter(
      (member) => !has(member, ts.SyntaxKind.PrivateKeyword) && !(member.name && ts.isPrivateIdentifier(member.name)),
    );
    const shown = members.map((member) => {
      if (ts.isConstructorDeclaration(member)) return `constructor(${member.parameters.map(printed).join(", ")})`;
      const label = member.name!.getText();
      const text = checker.typeToString(checker.getTypeAtLocation(member), undefined, flags);
      return `${has(member, ts.SyntaxKind.StaticKeyword) ? "static " : ""}${label}: ${text}`;
    });
    const heritage = declaration.heritageClauses?.map((clause) => ` ${clause.getText()}`).join("") ?? "";
    return [oneLine(`class ${name}${heritage} { ${shown.join("; ")} }`)];
  }
  if (symbol.flags & ts.SymbolFlags.Variable) return [oneLine(`const ${name}: ${checker.typeToString(type, undefined, flags)}`)];
  return [printed(declaration).replace(/;(?= \})/g, "")];
}

it("the public surface is the one that was reviewed", async () => {
  const home = new Map<ts.Symbol, string>();
  const sections = subpaths
    .filter((subpath) => subpath !== "")
    .map((subpath) => {
      const all = exportsOf(subpath);
      for (const each of all) home.set(each.symbol, subpath);
      return `## dividing-network/${subpath}\n\n${listed(all.flatMap(lines))}`;
    });
  // The package itself only gathers: name and floor are enough.
  const gathered = exportsOf("").map((each) => `${each.name} from ${home.get(each.symbol) ?? "nowhere"}`);
  const text = `# Public surface\n\nWritten by tests/package/surface.test.ts; one line an export.\n\n## dividing-network\n\n${listed(gathered)}\n${sections.join("\n")}`;
  await expect(text).toMatchFileSnapshot("./surface.md");
});

it("everything that the package itself exports is exported by one folder", () => {
  const inFolders = new Set(subpaths.slice(1).flatMap((subpath) => exportsOf(subpath).map((each) => each.symbol)));
  expect(
    exportsOf("")
      .filter((each) => !inFolders.has(each.symbol))
      .map((each) => each.name),
  ).toEqual([]);
});

it("no name stands for two things on two floors", () => {
  const floorsOf = new Map<string, Map<ts.Symbol, string>>();
  for (const subpath of subpaths.slice(1)) {
    for (const { name, symbol } of exportsOf(subpath))
      floorsOf.set(name, (floorsOf.get(name) ?? new Map<ts.Symbol, string>()).set(symbol, subpath));
  }
  expect(
    [...floorsOf].filter(([, places]) => places.size > 1).map(([name, places]) => `${name}: ${[...places.values()].join(", ")}`),
  ).toEqual([]);
});
