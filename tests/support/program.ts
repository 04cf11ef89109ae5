// The library as the TypeScript compiler sees it: one program over every index, and what each exports.
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import ts from "typescript";
import floors from "../package/floors.json";

export const root = resolve(import.meta.dirname, "../..");

/** Floors that export something yet. */
export const published: readonly string[] = floors.filter(
  (name) => !/^export \{\};\s*$/.test(readFileSync(join(root, "src", name, "index.ts"), "utf8")),
);

/** The subpaths of the package; "" is the package itself. */
export const subpaths: readonly string[] = ["", ...published];

export interface Exported {
  readonly name: string;
  /** Resolved: where it is declared, not where it is re-exported. */
  readonly symbol: ts.Symbol;
}

export interface Library {
  readonly checker: ts.TypeChecker;
  /** The files of src/. */
  readonly sources: readonly ts.SourceFile[];
  exportsOf(subpath: string): Exported[];
}

export function openLibrary(): Library {
  const indexOf = (subpath: string): string => join(root, "src", subpath, "index.ts");
  const configPath = join(root, "src/tsconfig.json");
  const config = ts.parseJsonConfigFileContent(ts.readConfigFile(configPath, ts.sys.readFile).config, ts.sys, join(root, "src"));
  const program = ts.createProgram(subpaths.map(indexOf), config.options);
  const checker = program.getTypeChecker();
  return {
    checker,
    sources: program.getSourceFiles().filter(({ fileName }) => fileName.startsWith(join(root, "src/"))),
    exportsOf(subpath) {
      const file = program.getSourceFile(indexOf(subpath));
      const module = file && checker.getSymbolAtLocation(file);
      if (module === undefined) throw new Error(`src/${subpath}/index.ts exports nothing, not even by \`export {}\``);
      return checker
        .getExportsOfModule(module)
        .map((symbol) => {
          const resolved = symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol;
          return { name: symbol.name, symbol: resolved };
        })
        .sort((a, b) => (a.name < b.name ? -1 : 1));
    },
  };
}

/** `src/network/solve.ts:12` */
export function placeOf(node: ts.Node): string {
  const file = node.getSourceFile();
  const { line } = file.getLineAndCharacterOfPosition(node.getStart(file));
  return `${file.fileName.slice(root.length + 1)}:${line + 1}`;
}
