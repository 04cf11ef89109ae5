// What of the source can be changed without a test noticing, as `npm run mutation` asks, but in one process: the same changes, switched on one after the other in one
// bundle of the tests, which is some ten times faster. Give test files, or patterns with `*` and `**`, whose cases don't hang on each other: snapshots, mocks and fake time
// aren't known here.
//
//   node tests/mutation/in-one-process.mjs --tests tests/assessment/loss.test.ts --mutate src/assessment/loss.ts,src/assessment/band.ts:40-90
//
// Tests that take longer than `--longest` ms (1000) are left out, and of those that reach a change those are run that noticed the most so far for their time, up to
// `--budget` ms (5000) of the processor in all: the score is a lower bound. A change that runs on import alone is left out, as there; words of messages aren't changed. What
// the library remembers of a value is forgotten between changes; `--fresh` loads everything anew for each change: for files that keep results in variables.
import { createInstrumenter } from "@stryker-mutator/instrumenter";
import { build } from "esbuild";
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { argv, env, exit, stdout } from "node:process";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";

const { values: options } = parseArgs({
  args: argv.slice(2),
  options: {
    tests: { type: "string" },
    mutate: { type: "string" },
    longest: { type: "string", default: "1000" },
    budget: { type: "string", default: "5000" },
    fresh: { type: "boolean", default: false },
    json: { type: "string" },
  },
});
if (options.tests === undefined || options.mutate === undefined) {
  console.error("usage: node tests/mutation/in-one-process.mjs --tests FILES --mutate FILES[:FROM-TO]");
  exit(2);
}
env["PROPERTY_SHARE"] ??= "0.2";
const list = (text) => text.split(",").map((each) => each.trim());
/** The test files that a pattern with `*` and `**` means; a name without them is that file. */
const matching = (pattern) => {
  if (!pattern.includes("*")) return [pattern];
  const form = pattern.replace(/[.+?^${}()|[\]\\]/g, "\\$&").replace(/\*\*\/|\*/g, (stars) => (stars === "*" ? "[^/]*" : "(?:.*/)?"));
  const all = readdirSync("tests", { recursive: true }).map((name) => `tests/${name}`);
  return all.filter((name) => new RegExp(`^${form}$`).test(name) && name.endsWith(".test.ts")).sort();
};
const tests = [...new Set(list(options.tests).flatMap(matching))];
const [src, shim, ending, setup] = ["../../src", "shim.mjs", "end-on-failure.mjs", "../setup.ts"].map((path) =>
  fileURLToPath(new URL(path, import.meta.url)),
);

// The changes, each behind a switch.
const silent = () => undefined;
const logger = { debug: silent, info: silent, warn: silent, isDebugEnabled: () => false };
const injector = { provideValue: () => injector, injectClass: (Class) => new Class(logger) };
const ranges = new Map();
for (const given of list(options.mutate)) {
  const [name, range] = given.split(":");
  const [from, to] = range?.split("-").map(Number) ?? [1, 1e6];
  ranges.set(name, [...(ranges.get(name) ?? []), { start: { line: from - 1, column: 0 }, end: { line: to, column: 0 } }]);
}
const files = [...ranges].map(([name, mutate]) => ({ name: resolve(name), mutate, content: readFileSync(name, "utf8") }));
const { files: changed, mutants } = await createInstrumenter(injector).instrument(files, {
  plugins: null,
  excludedMutations: ["StringLiteral"],
  ignorers: [],
});

// One bundle of the tests and the source.
const folder = mkdtempSync(join(tmpdir(), "mutation-"));
const bundle = join(folder, "tests.mjs");
const sources = new Map(changed.map(({ name, content }) => [name, content]));
try {
  await build({
    stdin: {
      contents: [setup, ending, ...tests.map((file) => resolve(file))].map((file) => `import ${JSON.stringify(file)};`).join("\n"),
      resolveDir: resolve("."),
    },
    bundle: true,
    ignoreAnnotations: true,
    outfile: bundle,
    format: "esm",
    platform: "node",
    target: "node20",
    banner: { js: 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);' },
    logLevel: "error",
    plugins: [
      {
        name: "tests",
        setup(bundler) {
          bundler.onResolve({ filter: /^vitest$/ }, () => ({ path: shim }));
          bundler.onResolve({ filter: /^dividing-network(\/.+)?$/ }, ({ path }) => ({
            path: join(src, path.replace(/^dividing-network\/?/, ""), "index.ts"),
          }));
          // A file knows where it lies, as it does outside the bundle: tests read the example's measurements from beside them.
          bundler.onLoad({ filter: /\.m?[jt]s$/ }, ({ path }) => {
            if (path.includes("/node_modules/")) return undefined;
            const contents = (sources.get(path) ?? readFileSync(path, "utf8"))
              // What the library remembers of a value is forgotten between changes.
              .replaceAll(/\bnew WeakMap\b/g, path.startsWith(src) ? "new globalThis.__Kept__" : "new WeakMap")
              .replaceAll("import.meta.dirname", JSON.stringify(dirname(path)))
              .replaceAll("import.meta.url", JSON.stringify(pathToFileURL(path).href));
            return { contents, loader: path.endsWith("ts") ? "ts" : "js", resolveDir: dirname(path) };
          });
        },
      },
    ],
  });
  writeFileSync(
    join(folder, "worker.mjs"),
    `import { parentPort } from "node:worker_threads";
let round = 0;
globalThis.__Kept__ = class {
  #kept = new WeakMap();
  #round = round;
  get #now() {
    if (this.#round !== round) [this.#kept, this.#round] = [new WeakMap(), round];
    return this.#kept;
  }
  get(key) { return this.#now.get(key); }
  has(key) { return this.#now.has(key); }
  set(key, value) { this.#now.set(key, value); return this; }
  delete(key) { return this.#now.delete(key); }
};
// A list that grows without end would take the process with it.
const { push } = Array.prototype;
Array.prototype.push = function (...values) {
  if (this.length > 3e6) throw new RangeError("a list without end");
  return push.apply(this, values);
};
await import(${JSON.stringify(bundle)});
const ns = globalThis.__stryker__ ?? {};
const { tests } = globalThis.__tests__;
const run = async (test) => { try { await test(); return undefined; } catch (error) { return String(error?.message ?? error); } };
parentPort.on("message", async ({ mutant, covering, hits }) => {
  if (mutant === undefined) {
    const [failed, times, clocks] = [[], [], []];
    for (const [id, { name, test }] of tests.entries()) {
      round++;
      ns.currentTestId = String(id + 1);
      // Of the processor: on a busy machine the clock says little.
      const [before, began] = [process.cpuUsage(), Date.now()];
      const error = await run(test);
      const { user, system } = process.cpuUsage(before);
      times.push((user + system) / 1000);
      clocks.push(Date.now() - began);
      if (error !== undefined) failed.push(name + ": " + error);
    }
    ns.currentTestId = undefined;
    // What was prepared for a group of tests is reached by each of them.
    const { perTest = {} } = ns.mutantCoverage ?? {};
    for (const [id, { groups }] of tests.entries()) {
      for (const group of groups()) {
        const own = (perTest[id + 1] ??= {});
        for (const [mutant, hits] of Object.entries(perTest[group] ?? {})) own[mutant] = (own[mutant] ?? 0) + hits;
      }
    }
    for (const name of Object.keys(perTest)) if (name.startsWith("before")) delete perTest[name];
    parentPort.postMessage({ names: tests.map(({ name }) => name), failed, times, clocks, coverage: ns.mutantCoverage });
    return;
  }
  round++;
  ns.activeMutant = mutant;
  ns.hitCount = 0;
  ns.hitLimit = hits * 100 + 1000;
  globalThis.__tests__.round = mutant;
  let killedBy;
  for (const id of covering) if ((await run(tests[id - 1].test)) !== undefined) { killedBy = id; break; }
  ns.activeMutant = undefined;
  round++;
  parentPort.postMessage({ killedBy });
});
parentPort.postMessage("ready");
`,
  );

  const loaded = async () => {
    const worker = new Worker(join(folder, "worker.mjs"), { resourceLimits: { maxOldGenerationSizeMb: 2048 } });
    await new Promise((done, failed) => worker.once("message", done).once("error", failed));
    worker.on("error", () => undefined);
    return worker;
  };
  const TIMEOUT = 20_000;
  const ask = (worker, message, limit) =>
    new Promise((done) => {
      const timer = limit === undefined ? undefined : setTimeout(() => finish({ timeout: true }), limit);
      const broken = () => finish({ timeout: true });
      const finish = (answer) => {
        clearTimeout(timer);
        worker.off("message", finish).off("error", broken);
        done(answer);
      };
      worker.on("message", finish).on("error", broken);
      worker.postMessage(message);
    });

  let worker = await loaded();
  const began = Date.now();
  const { names, failed, times, clocks, coverage = { static: {}, perTest: {} } } = await ask(worker, {});
  if (failed.length > 0) throw new Error(`Tests fail as they are:\n${failed.join("\n")}`);
  console.log(
    `${mutants.length} changes, ${names.length} tests in ${Date.now() - began} ms, ${times.filter((time) => time > Number(options.longest)).length} of them left out as too long`,
  );
  // First the tests that noticed the most of what they were asked, for the time they take: on what neighbours were noticed by, and on the quick ones.
  const [asked, noticed] = [names.map(() => 0), names.map(() => 0)];
  const worth = (test) => (noticed[test - 1] + 0.5) / (asked[test - 1] + 1) / (times[test - 1] + 1);
  const results = [];
  for (const mutant of mutants) {
    const { id, fileName, location, mutatorName, replacement, status } = mutant;
    let left = Number(options.budget);
    const covering = Object.entries(coverage.perTest)
      .flatMap(([test, hit]) => (hit[id] > 0 && times[test - 1] <= Number(options.longest) ? [Number(test)] : []))
      .sort((a, b) => worth(b) - worth(a))
      .filter((test) => (left -= times[test - 1]) >= 0);
    const hits = Object.values(coverage.perTest).reduce((sum, hit) => sum + (hit[id] ?? 0), 0);
    let state = "Survived";
    if (status === "Ignored" || (covering.length === 0 && coverage.static[id] > 0)) state = "Ignored";
    else if (covering.length === 0) state = "NoCoverage";
    else {
      if (options.fresh) {
        await worker.terminate();
        worker = await loaded();
      }
      // On a busy machine tests that pass take long, too.
      const limit = TIMEOUT + 5 * covering.reduce((sum, test) => sum + clocks[test - 1], 0);
      const { killedBy, timeout } = await ask(worker, { mutant: id, covering, hits }, limit);
      if (timeout === true) {
        await worker.terminate();
        worker = await loaded();
        state = "Timeout";
      } else if (killedBy !== undefined) state = "Killed";
      for (const test of covering.slice(0, killedBy === undefined ? undefined : covering.indexOf(killedBy) + 1)) asked[test - 1]++;
      if (killedBy !== undefined) noticed[killedBy - 1]++;
    }
    if (results.length % 25 === 0) stdout.write(".");
    results.push({ file: fileName, line: location.start.line + 1, location, mutatorName, replacement, state });
  }
  await worker.terminate();
  stdout.write("\n");

  for (const { name } of files) {
    const own = results.filter(({ file, state }) => file === name && state !== "Ignored");
    const noticed = own.filter(({ state }) => state === "Killed" || state === "Timeout").length;
    const lines = readFileSync(name, "utf8").split("\n");
    for (const { line, location, mutatorName, replacement, state } of own) {
      if (state === "Killed" || state === "Timeout") continue;
      const { start, end } = location;
      const was =
        start.line === end.line ? lines[start.line].slice(start.column, end.column) : `${lines[start.line].slice(start.column)} …`;
      console.log(
        `  ${state === "NoCoverage" ? "not run" : "survived"} ${line}: ${mutatorName}: ${was}  →  ${replacement.replace(/\s+/g, " ").slice(0, 120)}`,
      );
    }
    const unseen = results.filter(
      ({ file, state, mutatorName }) => file === name && state === "Ignored" && mutatorName !== "StringLiteral",
    ).length;
    console.log(
      `${name.slice(resolve(".").length + 1)}: ${own.length} changes, ${noticed} noticed, ${((100 * noticed) / Math.max(1, own.length)).toFixed(1)} %, ${unseen} more run on import alone`,
    );
  }
  if (options.json !== undefined) writeFileSync(options.json, JSON.stringify(results));
} finally {
  rmSync(folder, { recursive: true });
}
