// Nobody outside src/parts/ asks what kind a part is: what there is to know of it is asked of its description.
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { openLibrary, placeOf, root } from "../support/program";

const { checker, sources } = openLibrary();

/** Where a kind is handed on as a name: written in JSON, said in a message about JSON, or the key of a tolerance given by kind. */
const handsOn: readonly string[] = [
  "src/network/json/entry-json.ts",
  "src/network/json/write-part-json.ts",
  "src/network/json/read-part-json.ts",
  "src/network/scatter/toleranced-values.ts",
  "src/project/check-networks.ts",
];

/** Whether a property is the `kind` of a part, of a coupling or of a part in JSON. */
function isPartsKind(symbol: ts.Symbol | undefined): boolean {
  const declared = symbol?.declarations ?? [];
  return (
    symbol?.name === "kind"
    && declared.some(
      (node) => node.getSourceFile().fileName.startsWith(`${root}/src/parts/`) && !node.getSourceFile().fileName.includes("/stock/"),
    )
  );
}

/** Every place where a kind is read, with whether it is compared. */
function readings(file: ts.SourceFile): { readonly place: string; readonly compared: boolean }[] {
  const found: { place: string; compared: boolean }[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isPropertyAccessExpression(node) && isPartsKind(checker.getSymbolAtLocation(node.name))) {
      const { parent } = node;
      const compared = (ts.isBinaryExpression(parent) && /^[!=]==?$/.test(parent.operatorToken.getText())) || ts.isSwitchStatement(parent);
      found.push({ place: placeOf(node), compared });
    }
    if (
      ts.isBindingElement(node)
      && (node.propertyName ?? node.name).getText() === "kind"
      && isPartsKind(checker.getTypeAtLocation(node.parent).getProperty("kind"))
    )
      found.push({ place: placeOf(node), compared: false });
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

const all = sources.filter(({ fileName }) => !fileName.startsWith(`${root}/src/parts/`)).flatMap(readings);

describe("a part's kind", () => {
  it("is compared with a name nowhere outside src/parts/", () => {
    expect(all.filter(({ compared }) => compared).map(({ place }) => place)).toEqual([]);
  });

  it("is read outside src/parts/ only where it is handed on as a name", () => {
    expect([...new Set(all.map(({ place }) => place.split(":")[0]!))].filter((file) => !handsOn.includes(file))).toEqual([]);
  });

  it("is found by this test where it is asked, inside src/parts/", () => {
    expect(sources.filter(({ fileName }) => fileName.endsWith("src/parts/describe.ts")).flatMap(readings)).not.toEqual([]);
  });
});
