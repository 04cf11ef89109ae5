import { readdirSync } from "node:fs";
import { defineConfig } from "tsup";

const folders = readdirSync("src", { withFileTypes: true }).filter((entry) => entry.isDirectory()).map((entry) => entry.name);

export default defineConfig({
  entry: Object.fromEntries([["index", "src/index.ts"], ...folders.map((name) => [`${name}/index`, `src/${name}/index.ts`] as const)]),
  tsconfig: "src/tsconfig.json",
  format: ["esm", "cjs"],
  dts: true,
  // Shared chunks in both formats, so that an error class is one class whichever subpaths are imported.
  splitting: true,
  clean: true,
  treeshake: true,
  target: "es2022",
  platform: "neutral",
});
