// What an application pays for: each subpath bundled alone from the source, minified. A ceiling is raised knowingly, in this table.
import { build } from "esbuild";
import type { BuildOptions, Metafile, Plugin } from "esbuild";
import { join, resolve } from "node:path";
import { gzipSync } from "node:zlib";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { root, subpaths } from "../support/program";

/** KiB, minified, not compressed, with what it imports. */
const ceilings: Readonly<Record<string, number>> = {
  "": 775,
  errors: 4,
  quantity: 17,
  physics: 20,
  numeric: 110,
  response: 130,
  // With the reader of stock lists, and custom parts.
  parts: 140,
  // With netlists, of which the writer fits what no circuit is.
  network: 228,
  radiation: 130,
  alignments: 315,
  loudspeaker: 156,
  // With the fit of a driver's parameters, for the Q of a woofer, the prototypes of all families, for what was meant, what tolerances do, and ratings.
  assessment: 445,
  // With stock, ranking by yield, series-connected topologies and the whole assessment of what is found.
  design: 515,
  // What workers do is in their own script; the package behind them is loaded when they start.
  cores: 455,
  // With the placement of coils, for the build sheet.
  report: 310,
  // With a third network beside found and proposed.
  project: 460,
};

interface Bundle {
  readonly text: string;
  readonly kib: number;
  readonly inputs: Metafile["inputs"];
  readonly loaded: Metafile["inputs"];
}

const made = new Map<string, Promise<Bundle>>();

/** `bundled` without options of its own, once for each piece of code: several questions are asked of one bundle. */
function bundle(code: string): Promise<Bundle> {
  const known = made.get(code) ?? bundled(code);
  made.set(code, known);
  return known;
}

/** What a piece of code costs; `inputs` holds the files that leave something in the bundle, `loaded` all that Node would load for it without a bundler. */
async function bundled(code: string, options: BuildOptions = {}): Promise<Bundle> {
  const result = await build({
    stdin: { contents: code, resolveDir: root, sourcefile: "application.ts", loader: "ts" },
    alias: { "dividing-network": resolve(root, "src") },
    bundle: true,
    minify: true,
    format: "esm",
    platform: "neutral",
    mainFields: ["module", "main"],
    // Loaded when workers start, and by that alone; it holds what is Node's.
    external: ["workerpool"],
    target: "es2022",
    write: false,
    metafile: true,
    absWorkingDir: root,
    logLevel: "silent",
    ...options,
  });
  const text = result.outputFiles![0]!.text;
  const output = Object.values(result.metafile!.outputs)[0]!;
  const inputs = Object.fromEntries(
    Object.entries(result.metafile!.inputs).filter(([name]) => (output.inputs[name]?.bytesInOutput ?? 0) > 0),
  );
  return { text, kib: Buffer.byteLength(text) / 1024, inputs, loaded: result.metafile!.inputs };
}

const specifier = (subpath: string): string => (subpath === "" ? "dividing-network" : `dividing-network/${subpath}`);
const packageOf = (name: string): string[] => name.match(/node_modules\/((?:@[^/]+\/)?[^/]+)/)?.slice(1) ?? [];
const packagesIn = (inputs: Metafile["inputs"]): string[] => [...new Set(Object.keys(inputs).flatMap(packageOf))].sort();

/** Treats every file of src/ as one with side effects, as a bundler does that knows nothing of package.json's `sideEffects`. */
const withoutTheFlag: Plugin = {
  name: "without-the-flag",
  setup(context) {
    context.onResolve({ filter: /^(\.|dividing-network)/ }, async (args) => {
      if (args.pluginData === "resolved") return undefined;
      const path = args.path.replace(/^dividing-network/, join(root, "src"));
      const found = await context.resolve(path, {
        kind: args.kind,
        resolveDir: args.resolveDir,
        importer: args.importer,
        pluginData: "resolved",
      });
      return { path: found.path, sideEffects: true };
    });
  },
};

/** The statements of a bundle that do something when it loads; a constant such as 2 ** 20 does nothing, though esbuild keeps it. */
function running(text: string): string[] {
  const inert = (node: ts.Expression): boolean =>
    ts.isLiteralExpression(node)
    || ts.isIdentifier(node)
    || ts.isArrowFunction(node)
    || ts.isFunctionExpression(node)
    || (ts.isPropertyAccessExpression(node) && inert(node.expression))
    || (ts.isParenthesizedExpression(node) && inert(node.expression))
    || (ts.isPrefixUnaryExpression(node) && inert(node.operand))
    || (ts.isBinaryExpression(node) && inert(node.left) && inert(node.right))
    || (ts.isArrayLiteralExpression(node) && node.elements.every(inert))
    || (ts.isObjectLiteralExpression(node) && node.properties.every((each) => ts.isPropertyAssignment(each) && inert(each.initializer)));
  return ts
    .createSourceFile("bundle.js", text, ts.ScriptTarget.ES2022)
    .statements.filter(
      (statement) =>
        !(
          ts.isImportDeclaration(statement)
          || ts.isFunctionDeclaration(statement)
          || (ts.isVariableStatement(statement)
            && statement.declarationList.declarations.every((each) => each.initializer === undefined || inert(each.initializer)))
        ),
    )
    .map((statement) => text.slice(statement.pos, statement.end).trim().slice(0, 200));
}

describe("the size of a bundle", () => {
  it("has a ceiling for every subpath", () => {
    expect(subpaths.filter((subpath) => ceilings[subpath] === undefined)).toEqual([]);
  });

  for (const subpath of subpaths) {
    it(`stays below ${ceilings[subpath]} KiB for ${specifier(subpath)}`, async () => {
      const { kib } = await bundle(`export * from "${specifier(subpath)}";`);
      expect(kib).toBeLessThanOrEqual(ceilings[subpath]!);
    });
  }

  it("holds neither zod nor ml-matrix for dividing-network/network", async () => {
    const { inputs } = await bundle('export * from "dividing-network/network";');
    expect(packagesIn(inputs).filter((name) => name !== "complex.js")).toEqual([]);
  });

  it("holds zod for dividing-network/project alone: nothing else loads it, the package itself included", async () => {
    const loading: string[] = [];
    for (const subpath of subpaths) {
      if (packagesIn((await bundle(`export * from "${specifier(subpath)}";`)).loaded).includes("zod")) loading.push(subpath);
    }
    expect(loading).toEqual(["project"]);
  });

  it("loads workerpool for dividing-network/cores alone, and there only when workers start", async () => {
    for (const subpath of subpaths) {
      const { text } = await bundle(`export * from "${specifier(subpath)}";`);
      expect(text.includes('import("workerpool")'), subpath).toBe(subpath === "cores");
      expect(text, subpath).not.toMatch(/from ?"workerpool"|require\("workerpool"\)/);
    }
  });

  it("holds ml-matrix only where least squares or roots are wanted", async () => {
    for (const subpath of ["errors", "quantity", "parts", "network"]) {
      expect(packagesIn((await bundle(`export * from "${specifier(subpath)}";`)).inputs), subpath).not.toContain("ml-matrix");
    }
  });

  it("is that of what is used, not of what the package holds", async () => {
    const { kib, inputs } = await bundle('import { formatQuantity } from "dividing-network"; globalThis.text = formatQuantity(4.7, "Ω");');
    expect(kib).toBeLessThanOrEqual(8);
    expect(packagesIn(inputs)).toEqual([]);
    expect(
      Object.keys(inputs)
        .filter((name) => name.startsWith("src/"))
        .every((name) => /^src\/(errors|quantity)\//.test(name)),
    ).toBe(true);
  });

  it("is that of the solver for someone who solves a network, wherever it is imported from", async () => {
    const use =
      'import { network, solve, resistor } from "dividing-network"; globalThis.sweep = solve(network({ R1: [resistor(8), "in", "gnd"] }), [1000]);';
    const { kib, inputs } = await bundle(use);
    expect(kib).toBeLessThanOrEqual(ceilings.network!);
    expect(packagesIn(inputs).filter((name) => name !== "complex.js")).toEqual([]);
  });

  it("is at most 43 KiB as it travels, compressed, for someone who solves a network", async () => {
    const { text } = await bundle('export { compile, network, solve } from "dividing-network/network";');
    expect(gzipSync(text, { level: 9 }).length / 1024).toBeLessThanOrEqual(43);
  });
});

describe("importing the package for nothing", () => {
  it.each(subpaths)("adds nothing: dividing-network/%s", async (subpath) => {
    expect((await bundle(`import "${specifier(subpath)}";`)).text.trim()).toBe("");
  });

  it("adds nothing of the library even to a bundler that does not read `sideEffects`, whichever subpaths are imported", async () => {
    const { text, loaded } = await bundled(subpaths.map((subpath) => `import "${specifier(subpath)}";`).join("\n"), {
      plugins: [withoutTheFlag],
      external: ["complex.js", "ml-matrix", "workerpool", "zod"],
    });
    for (const subpath of subpaths) expect(Object.keys(loaded)).toContain(`src/${subpath === "" ? "" : `${subpath}/`}index.ts`);
    expect(running(text)).toEqual([]);
  });
});
