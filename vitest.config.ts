import { env } from "node:process";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const src = fileURLToPath(new URL("./src", import.meta.url));

export default defineConfig({
  resolve: {
    alias: [
      { find: /^dividing-network$/, replacement: `${src}/index.ts` },
      { find: /^dividing-network\/(.+)$/, replacement: `${src}/$1/index.ts` },
    ],
  },
  test: {
    include: ["tests/**/*.test.ts"],
    setupFiles: ["tests/setup.ts"],
    // A search takes as long as it takes; otherwise long enough for a loaded machine.
    testTimeout: env["PROPERTY_SEARCH"] === undefined ? 60_000 : 0,
    hookTimeout: 60_000,
    maxWorkers: 2,
    // Most of a run would be the library read anew for every file; no test leaves anything behind that another sees.
    isolate: false,
  },
});
