// A sample of a folder for `npm run mutation`: `node tests/mutation/sample.mjs parts 20261128 6` draws six stretches of at most 40 lines from
// src/parts by the seed, and prints them with the tests that name what their files export. Two runs of one seed draw the same.
import { readFileSync, readdirSync } from "node:fs";
import { basename } from "node:path";
import { argv } from "node:process";

const [, , folder = "parts", seed = "1", count = "6"] = argv;
const LINES = 40;

const under = (root, ending) =>
  readdirSync(root, { recursive: true })
    .map((name) => `${root}/${name}`)
    .filter((name) => name.endsWith(ending))
    .sort();
const textOf = new Map([...under("src", ".ts"), ...under("tests", ".test.ts")].map((file) => [file, readFileSync(file, "utf8")]));
const exportsOf = (file) => [...textOf.get(file).matchAll(/export (?:async )?(?:function|const) (\w+)/g)].map(([, name]) => name);
const naming = (file, names) => names.reduce((sum, name) => sum + textOf.get(file).split(new RegExp(`\\b${name}\\b`)).length - 1, 0);

/** The four tests of the folder, or of what is published, that name a file's exports most often; or those of the files that use it. */
function testsOf(file, depth = 0) {
  const names = exportsOf(file);
  const found = under("tests", ".test.ts")
    .filter((test) => /^tests\/published\//.test(test) || test.startsWith(`tests/${folder}/`))
    .map((test) => [test, naming(test, names) + (basename(test, ".test.ts") === basename(file, ".ts") ? 1000 : 0)])
    .filter(([, times]) => times > 0)
    .sort(([, a], [, b]) => b - a);
  if (found.length > 0 || depth > 3) return found.slice(0, 4).map(([test]) => test);
  const users = under(`src/${folder}`, ".ts").filter(
    (user) => user !== file && !/(?:index|internal)\.ts$/.test(user) && naming(user, names) > 0,
  );
  return users.flatMap((user) => testsOf(user, depth + 1));
}

// A generator of 32 bits (mulberry32), and a shuffle by it.
let state = Number(seed) >>> 0;
function draw() {
  state = (state + 0x6d2b79f5) >>> 0;
  let mixed = Math.imul(state ^ (state >>> 15), state | 1);
  mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
  return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
}
const stretches = under(`src/${folder}`, ".ts")
  .filter((file) => !/(?:index|internal)\.ts$/.test(file) && exportsOf(file).length > 0)
  .flatMap((file) => {
    const lines = textOf.get(file).split("\n").length;
    return Array.from({ length: Math.ceil(lines / LINES) }, (_, at) => ({
      file,
      from: at * LINES + 1,
      to: Math.min((at + 1) * LINES, lines),
    }));
  });
for (let i = stretches.length - 1; i > 0; i--) {
  const j = Math.floor(draw() * (i + 1));
  [stretches[i], stretches[j]] = [stretches[j], stretches[i]];
}
const drawn = stretches.slice(0, Number(count));
console.log(`MUTATION_TESTS=${[...new Set(drawn.flatMap(({ file }) => testsOf(file)))].sort().join(",")} \\`);
console.log(`npm run mutation -- --concurrency 1 --mutate ${drawn.map(({ file, from, to }) => `${file}:${from}-${to}`).join(",")}`);
