// The direction of imports, read from the source text itself, independently of the lint rule that says the same in an editor.
import { readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import floors from "./floors.json";
import { published } from "../support/program";

const root = resolve(import.meta.dirname, "../..");
const src = join(root, "src");

/** The program of the package: the files of src/ that are no part of the library. */
const program = ["command-line-files.ts", "command-line-redesign.ts", "command-line-task.ts", "command-line-words.ts", "command-line.ts"];

interface Import {
  /** File below src/, with "/" between folders. */
  readonly file: string;
  /** What stands between the quotes. */
  readonly name: string;
  /** The statement's text on one line. */
  readonly text: string;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => name.endsWith(".ts"))
    .map((name) => join(folder, name))
    .sort();
}

function importsOf(path: string): Import[] {
  const file = ts.createSourceFile(path, readFileSync(path, "utf8"), ts.ScriptTarget.ES2022, true);
  const found: Import[] = [];
  const visit = (node: ts.Node): void => {
    const add = (specifier: ts.Node | undefined): void => {
      if (specifier === undefined || !ts.isStringLiteralLike(specifier)) return;
      found.push({ file: relative(src, path).replaceAll("\\", "/"), name: specifier.text, text: node.getText().replace(/\s+/g, " ") });
    };
    if (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) add(node.moduleSpecifier);
    else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) add(node.argument.literal);
    else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) add(node.arguments[0]);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

const files = sourceFiles(src);
const imports = files.flatMap(importsOf);
const relatives = imports.filter((each) => each.name.startsWith("."));

/** Folder and file below src/ that a relative import reaches; a folder is its index. */
function target(each: Import): { folder: string; file: string } {
  const path = relative(src, resolve(src, dirname(each.file), each.name)).replaceAll("\\", "/");
  const [folder = "", ...rest] = path.split("/");
  return { folder, file: rest.join("/") || "index" };
}

const folderOf = (each: Import): string => (each.file.includes("/") ? each.file.slice(0, each.file.indexOf("/")) : "");
const describeImport = (each: Import): string => `src/${each.file}: ${each.text}`;

describe("the floors", () => {
  it("are the folders of src/, no more and no fewer", () => {
    const folders = readdirSync(src).filter((name) => statSync(join(src, name)).isDirectory());
    expect(folders.sort()).toEqual([...floors].sort());
  });

  it("are each an entry of the package, but for those that export nothing yet", () => {
    const { exports } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { exports: Record<string, unknown> };
    // Beside them the script that workers run, for whoever has to say where it lies.
    expect(Object.keys(exports).sort()).toEqual(
      [".", "./cores/worker.js", "./package.json", ...published.map((name) => `./${name}`)].sort(),
    );
  });

  it("stand in docs/architecture.md in the same order, top floor first", () => {
    const rows = [...readFileSync(join(root, "docs/architecture.md"), "utf8").matchAll(/^\| `([a-z]+)\/` \|/gm)].map((match) => match[1]);
    expect(rows).toEqual([...floors].reverse());
  });

  it("import only from floors below their own", () => {
    const upward = relatives.filter(
      (each) => folderOf(each) !== "" && floors.indexOf(target(each).folder) > floors.indexOf(folderOf(each)),
    );
    expect(upward.map(describeImport)).toEqual([]);
  });

  it("are entered through their index, or through what they share with other floors only", () => {
    const deep = relatives.filter((each) => target(each).folder !== folderOf(each) && !["index", "internal"].includes(target(each).file));
    expect(deep.map(describeImport)).toEqual([]);
  });

  it("import nothing from outside src/", () => {
    const own = (each: Import) => program.includes(each.file) && program.includes(`${target(each).folder}.ts`);
    expect(relatives.filter((each) => !floors.includes(target(each).folder) && !own(each)).map(describeImport)).toEqual([]);
  });

  it("hold no files that import one another in a circle, not even for their types", () => {
    expect(circles(relatives)).toEqual([]);
  });
});

/** The circles that imports run in, each as a path. */
function circles(among: readonly Import[]): string[] {
  const next = new Map<string, string[]>();
  for (const each of among) {
    const { folder, file } = target(each);
    next.set(each.file, [...(next.get(each.file) ?? []), `${folder}/${file}.ts`]);
  }
  const found: string[] = [];
  const finished = new Set<string>();
  const walk = (file: string, path: readonly string[]): void => {
    if (path.includes(file)) found.push([...path.slice(path.indexOf(file)), file].join(" → "));
    if (path.includes(file) || finished.has(file)) return;
    for (const each of next.get(file) ?? []) walk(each, [...path, file]);
    finished.add(file);
  };
  for (const file of next.keys()) walk(file, []);
  return found;
}

describe("the program", () => {
  it("stands with the index at the top, imports the floors and Node's own modules alone, and nobody imports it", () => {
    expect(files.map((path) => relative(src, path)).filter((path) => !/[\\/]/.test(path))).toEqual([...program, "index.ts"]);
    const own = imports.filter((each) => program.includes(each.file) && !each.name.startsWith("."));
    expect(own.length).toBeGreaterThan(0);
    expect(own.filter((each) => !each.name.startsWith("node:")).map(describeImport)).toEqual([]);
    const reaches = (each: Import) => target(each).folder.startsWith("command-line");
    expect(relatives.filter((each) => reaches(each) && !program.includes(each.file)).map(describeImport)).toEqual([]);
    expect(relatives.filter((each) => target(each).folder === "command-line").map(describeImport)).toEqual([]);
  });
});

describe("imports from other packages", () => {
  const external = imports.filter((each) => !each.name.startsWith(".") && !program.includes(each.file));
  const allowed: Record<string, { readonly folders: readonly string[]; readonly form: RegExp }> = {
    "complex.js": { folders: floors, form: /^import (type )?\{ Complex \} from "complex\.js";?$/ },
    "ml-matrix": { folders: ["numeric"], form: /^import (type )?\{ [^}]+ \} from "ml-matrix";?$/ },
    workerpool: { folders: ["cores"], form: /^import \{ [^}]+ \} from "workerpool";?$|^import\("workerpool"\)$/ },
    zod: { folders: ["project"], form: /^import (type )?\* as z from "zod";?$/ },
  };

  it("are complex.js, ml-matrix in numeric/, workerpool in cores/ and zod in project/, in the one form that works in both module systems and stays small", () => {
    const wrong = external.filter((each) => {
      const rule = allowed[each.name];
      return rule === undefined || !rule.folders.includes(folderOf(each)) || !rule.form.test(each.text);
    });
    expect(wrong.map(describeImport)).toEqual([]);
  });
});

describe("the source", () => {
  it("has only named exports, each named where it is exported", () => {
    const wrong = files.flatMap((path) => {
      const file = ts.createSourceFile(path, readFileSync(path, "utf8"), ts.ScriptTarget.ES2022, true);
      return file.statements
        .filter(
          (statement) =>
            ts.isExportAssignment(statement)
            || (ts.isExportDeclaration(statement) && (statement.exportClause === undefined || ts.isNamespaceExport(statement.exportClause)))
            || (ts.canHaveModifiers(statement)
              && ts.getModifiers(statement)?.some((modifier) => modifier.kind === ts.SyntaxKind.DefaultKeyword)),
        )
        .map((statement) => `src/${relative(src, path)}: ${statement.getText().split("\n")[0]}`);
    });
    expect(wrong).toEqual([]);
  });

  it("re-exports and does nothing else in every index", () => {
    const wrong = files
      .filter((path) => path.endsWith("index.ts"))
      .flatMap((path) => {
        const file = ts.createSourceFile(path, readFileSync(path, "utf8"), ts.ScriptTarget.ES2022, true);
        return file.statements
          .filter((statement) => !ts.isExportDeclaration(statement))
          .map((statement) => `src/${relative(src, path)}: ${statement.getText().split("\n")[0]}`);
      });
    expect(wrong).toEqual([]);
  });
});
