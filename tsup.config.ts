import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import type { Plugin } from "esbuild";
import { defineConfig } from "tsup";
import { workersScript } from "./workers.config";

/** A floor that exports nothing yet is no entry. */
const isEmpty = (name: string): boolean => /^export \{\};\s*$/.test(readFileSync(`src/${name}/index.ts`, "utf8"));
const folders = readdirSync("src", { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && !isEmpty(entry.name))
  .map((entry) => entry.name);
const entry = Object.fromEntries([["index", "src/index.ts"], ...folders.map((name) => [`${name}/index`, `src/${name}/index.ts`] as const)]);

const library = { entry, tsconfig: "src/tsconfig.json", target: "es2022" as const, platform: "neutral" as const };

// Here and not by `clean`, since the parts below are built side by side.
rmSync("dist", { recursive: true, force: true });

/** The program uses the library that lies beside it, and holds no copy of it. */
const besideIt: Plugin = {
  name: "beside-it",
  setup: (build) =>
    build.onResolve({ filter: /^\.\/[a-z]+$/ }, ({ path, kind }) =>
      kind === "entry-point" ? undefined : { path: `${path}/index.js`, external: true },
    ),
};

/**
 * What an ES module is pointed at for its types: the declarations stand once, in the CommonJS form, which a module of either kind may
 * read. `export *` leaves out the `default` that a CommonJS module seems to have, so that the types say what is there.
 */
const pointAtDeclarations = async (): Promise<void> => {
  for (const name of Object.keys(entry)) {
    mkdirSync(dirname(`dist/${name}`), { recursive: true });
    writeFileSync(`dist/${name}.d.ts`, 'export * from "./index.cjs";\n');
  }
};

export default defineConfig([
  // Shared chunks in both formats, so that an error class is one class whichever subpaths are imported. The package holds src/ once,
  // and the source maps point there.
  {
    ...library,
    format: ["esm", "cjs"],
    splitting: true,
    treeshake: true,
    sourcemap: true,
    esbuildOptions: (options) => {
      options.sourcesContent = false;
    },
    onSuccess: pointAtDeclarations,
  },
  { ...library, format: ["cjs"], dts: { only: true } },
  workersScript,
  {
    entry: ["src/command-line.ts"],
    tsconfig: "tsconfig.json",
    format: ["esm"],
    target: "node20",
    platform: "node",
    removeNodeProtocol: false,
    banner: { js: "#!/usr/bin/env node" },
    esbuildPlugins: [besideIt],
  },
]);
