import type { Plugin } from "esbuild";
import type { Options } from "tsup";

/** Node's modules stay where they are. */
const nodesOwn: Plugin = {
  name: "nodes-own",
  setup: (build) => build.onResolve({ filter: /^(worker_threads|os|child_process)$/ }, ({ path }) => ({ path, external: true })),
};

/**
 * What every worker runs: one file with all that it needs, for Node and for browsers alike, so that nothing has to be resolved where it is started. The package of the workers asks Node
 * for its modules by `require`, which a module hasn't.
 */
export const workersScript: Options = {
  entry: { "cores/worker": "src/cores/worker.ts" },
  tsconfig: "src/tsconfig.json",
  format: ["esm"],
  target: "es2022",
  platform: "browser",
  noExternal: [/.*/],
  esbuildPlugins: [nodesOwn],
  splitting: false,
  minify: true,
  banner: {
    js: 'if (typeof process !== "undefined" && process.versions?.node) globalThis.require ??= (await import("node:module")).createRequire(import.meta.url);',
  },
};
