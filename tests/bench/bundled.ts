// Runs a program of this folder as users run the library: bundled to plain JavaScript, in a fresh process without a loader.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { buildSync } from "esbuild";

/** The numbers that a program prints as JSON, of so many fresh processes. */
export function bundled(file: string, times: number): readonly Readonly<Record<string, number>>[] {
  const folder = mkdtempSync(join(tmpdir(), "bench-"));
  try {
    const outfile = join(folder, "bundle.mjs");
    buildSync({
      entryPoints: [join(import.meta.dirname, file)],
      bundle: true,
      platform: "node",
      format: "esm",
      outfile,
      logLevel: "error",
    });
    return Array.from(
      { length: times },
      () => JSON.parse(execFileSync(process.execPath, ["--expose-gc", outfile], { encoding: "utf8" })) as Record<string, number>,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
