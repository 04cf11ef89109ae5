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
    testTimeout: 60_000,
    maxWorkers: 2,
  },
});
