// Whoever changes a file of src/ finds its test by the file's name: a test of the same name, or a test that says at its head `// Tests src/…/: name.ts, …`.
import { readdirSync, readFileSync } from "node:fs";
import { basename, dirname, join, relative } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const root = join(import.meta.dirname, "../..");

function filesBelow(folder: string, end: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(end))
    .map((name) => `${folder}/${name.replaceAll("\\", "/")}`)
    .sort();
}

const tests = filesBelow("tests", ".test.ts");
const sources = filesBelow("src", ".ts");

/** Files that do nothing by themselves: lists of exports, what is written by a script, and types alone. */
function doesNothing(path: string): boolean {
  if (["index.ts", "internal.ts"].includes(basename(path)) || path.includes("/generated/")) return true;
  const file = ts.createSourceFile(path, readFileSync(join(root, path), "utf8"), ts.ScriptTarget.ES2022, true);
  return file.statements.every(
    (each) =>
      ts.isImportDeclaration(each) || ts.isInterfaceDeclaration(each) || ts.isTypeAliasDeclaration(each) || ts.isExportDeclaration(each),
  );
}

/** What the heads of the tests name: the file of src/ and the test. */
const named = tests.flatMap((test) =>
  [...readFileSync(join(root, test), "utf8").matchAll(/^\/\/ Tests (src\/(?:[a-z0-9-]+\/)*): (.+)$/gm)].flatMap(([, folder, files]) =>
    files!.split(", ").map((file) => ({ test, source: `${folder!}${file}` })),
  ),
);

/** `src/x/y/zobel.ts` has its namesake at `tests/x/zobel.test.ts` or deeper there. */
function namesake(source: string): boolean {
  const floor = relative("src", dirname(source)).split("/")[0]!;
  return tests.some((test) => test.startsWith(`tests/${floor}/`) && basename(test) === `${basename(source, ".ts")}.test.ts`);
}

describe("the tests of a file of src/", () => {
  it("are found by its name", () => {
    const found = new Set(named.map(({ source }) => source));
    const lost = sources.filter((source) => !found.has(source) && !namesake(source) && !doesNothing(source));
    expect(lost, "have no test of their name, and no test says `// Tests src/…/: name.ts` of them").toEqual([]);
  });

  it("name files that are there", () => {
    expect(named.length).toBeGreaterThan(0);
    expect(named.filter(({ source }) => !sources.includes(source))).toEqual([]);
  });
});
