// The workers' script, built as the package builds it, into a file that is taken away again.
import { build } from "esbuild";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { workersScript } from "../../workers.config";

/** Its path, and how to take it away. */
export async function builtScript(): Promise<{ readonly path: string; readonly remove: () => void }> {
  const folder = mkdtempSync(join(tmpdir(), "workers-"));
  const path = join(folder, "worker.mjs");
  await build({
    entryPoints: [resolve(import.meta.dirname, "../../src/cores/worker.ts")],
    outfile: path,
    bundle: true,
    format: "esm",
    platform: "browser",
    target: "es2022",
    plugins: [...workersScript.esbuildPlugins!],
    banner: workersScript.banner as { readonly js: string },
    logLevel: "error",
  });
  return { path, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
