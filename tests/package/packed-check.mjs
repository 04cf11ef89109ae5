// Checks the package as users get it: packs the built dist/, lays it out as an installed dependency, and uses it from ESM,
// CommonJS, TypeScript and its own command. Run after `npm run build`: `npm run package-check`.
import { build } from "esbuild";
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, posix, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");
const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const specifiers = Object.keys(manifest.exports)
  .filter((name) => !/\.js(on)?$/.test(name))
  .map((name) => manifest.name + name.slice(1));

function run(command, args, cwd = root) {
  const { status, stdout, stderr } = spawnSync(command, args, { cwd, encoding: "utf8", maxBuffer: 1 << 26 });
  if (status !== 0) throw new Error(`failed: ${command} ${args.join(" ")}\n${stdout}${stderr}`);
  return stdout;
}

/** Ceilings are what was reached, and a little more; they are raised knowingly. */
function atMost(what, kib, ceiling) {
  if (kib > ceiling) throw new Error(`${what}: ${kib.toFixed(1)} KiB, allowed are ${ceiling}`);
}

if (!existsSync(join(root, "dist/index.js"))) throw new Error("dist/ is missing: run `npm run build` first");

const work = mkdtempSync(join(tmpdir(), "packed-"));
try {
  const [packed] = JSON.parse(run("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", work]));
  const tarball = join(work, packed.filename);

  const held = new Set(packed.files.map((file) => file.path));
  const known =
    /^(dist\/.*\.(js|cjs|d\.ts|d\.cts|(js|cjs)\.map)|src\/.*\.ts|docs\/.*\.md|docs\/(alignments\/)?plots\/[a-z-]+\.svg|examples\/(make-data\.mjs|desk-monitor\/(project\.json|drawer\.csv|data\/.*\.txt))|package\.json|README\.md|LICENSE|CHANGELOG\.md)$/;
  const stray = [...held].filter((path) => !known.test(path));
  if (stray.length > 0) throw new Error(`the package holds files that it should not: ${stray.join(", ")}`);
  // With the workers' script, some 100 KiB of it: it holds what it needs once more, since nothing can be resolved where it starts.
  // Proofs by third octaves, robust searches, pressures in identify and a third network took a hundred; bounds in vectors, fits within all limits, and tolerances in the command another one.
  atMost("the package, packed", packed.size / 1024, 3750);
  console.log(
    `packed: ${packed.files.length} files, ${Math.round(packed.size / 1024)} KiB, ${Math.round(packed.unpackedSize / 1024)} KiB unpacked`,
  );

  // The registry's page shows README.md without a place that its links could be relative to; the other pages are read where they lie.
  const pages = [...held].filter((path) => path.endsWith(".md"));
  for (const page of pages) {
    const links = [
      ...readFileSync(join(root, page), "utf8")
        .replace(/^[ \t]*```[\s\S]*?^[ \t]*```/gm, "")
        .matchAll(/\]\(([^)\s]+)\)/g),
    ].map((match) => match[1]);
    const dead = links.filter(
      (link) => !/^(https:|#)/.test(link) && (page === "README.md" || !held.has(posix.join(posix.dirname(page), link.split("#")[0]))),
    );
    if (dead.length > 0) throw new Error(`${page} links to what its reader does not have: ${dead.join(", ")}`);
  }
  console.log(`linked: ${pages.length} pages, none to what the package does not hold`);

  // As installed: the package itself from the tarball, its dependencies as links to the ones already here.
  const app = join(work, "app");
  const modules = join(app, "node_modules");
  mkdirSync(modules, { recursive: true });
  run("tar", ["-xzf", tarball, "-C", modules]);
  run("mv", [join(modules, "package"), join(modules, manifest.name)]);
  for (const dependency of Object.keys(manifest.dependencies))
    symlinkSync(join(root, "node_modules", dependency), join(modules, dependency), "dir");
  writeFileSync(join(app, "package.json"), JSON.stringify({ name: "app", private: true, type: "module" }));

  writeFileSync(
    join(app, "use.mjs"),
    `
    import assert from "node:assert/strict";
    import { createRequire } from "node:module";
    const require = createRequire(import.meta.url);
    const formats = [];
    for (const specifier of ${JSON.stringify(specifiers)}) {
      const esm = await import(specifier);
      const cjs = require(specifier);
      assert.deepEqual(Object.keys(cjs).sort(), Object.keys(esm).sort(), specifier + " exports the same names in both formats");
      assert.ok(!("default" in esm), specifier + " has no default export");
      formats.push(Object.keys(esm).length);
    }
    const [esm, esmErrors] = [await import("${manifest.name}"), await import("${manifest.name}/errors")];
    const [cjs, cjsErrors] = [require("${manifest.name}"), require("${manifest.name}/errors")];
    assert.equal(esm.DividingNetworkError, esmErrors.DividingNetworkError, "one error class, whichever ESM subpath it comes from");
    assert.equal(cjs.DividingNetworkError, cjsErrors.DividingNetworkError, "one error class, whichever CommonJS subpath it comes from");
    for (const [thrower, other] of [[esm, cjsErrors], [cjs, esmErrors]]) {
      let caught;
      try { thrower.resistor(Number.NaN); } catch (error) { caught = error; }
      assert.ok(caught instanceof Error && caught instanceof thrower.DividingNetworkError, "an error of its own format");
      assert.ok(caught instanceof other.DividingNetworkError, "an error of the other format");
    }
    assert.ok(!(new TypeError("x") instanceof esm.DividingNetworkError), "other errors are not of the family");
    console.log("imported: " + formats.length + " subpaths in both formats, " + formats.reduce((a, b) => a + b) + " names");
  `,
  );
  process.stdout.write(run(process.execPath, ["--throw-deprecation", "use.mjs"], app));

  // Workers, from both formats: a small redesign, and values chosen at stated frequencies and by third octaves, are what they are without them.
  const redesigning = `
    const { capacitor, frequencyResponse, inductor, logGrid, loudspeaker, pressurePerVolt, resistor } = library;
    const grid = logGrid(500, 8000, 17);
    const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
    const box = loudspeaker({
      network: { cone: [resistor(8), "in", "gnd"], dome: [resistor(8), "in", "gnd"] },
      drivers: [{ name: "cone", role: "woofer", pressures: [flat] }, { name: "dome", role: "tweeter", pressures: [flat] }],
    });
    const asked = { goal: { frequencies: grid, limits: "stated" }, maxParts: 2, series: "E6" };
    Promise.all([redesign(box, asked), redesignOnAllCores(box, { ...asked, workers: 2 })]).then(([alone, together]) => {
      if (JSON.stringify(alone) !== JSON.stringify(together)) throw new Error("workers give something else");
      console.log("worked: " + together.topologies + " topologies by two workers, from " + format);
    }).then(async () => {
      const drawn = { ...box, network: {
        L1: [inductor("1 mH", { dcr: "0.3 Ω" }), "in", "w"], C1: [capacitor("10 µF"), "w", "gnd"], cone: [resistor(8), "w", "gnd"],
        C2: [capacitor("10 µF"), "in", "t"], L2: [inductor("1 mH", { dcr: "0.3 Ω" }), "t", "gnd"], dome: [resistor(8), "t", "gnd"],
      } };
      const coils = ["0.33 mH", "0.47 mH", "0.68 mH", "1 mH", "1.5 mH"];
      const values = { L1: coils, C1: ["4.7 µF", "6.8 µF", "10 µF", "open"], C2: ["4.7 µF", "6.8 µF", "10 µF"], L2: coils };
      // Pieces know less of one another, and look at more.
      const found = ({ evaluated, ...rest }) => JSON.stringify(rest);
      for (const goal of [{ frequencies: grid, limits: "stated" }, { band: { from: 600, to: 6000 }, limits: "stated" }]) {
        const asked = { goal, values, polarity: { dome: "either" } };
        const [alone, together] = [await chooseValues(drawn, asked), await chooseValuesOnAllCores(drawn, { ...asked, workers: 2 })];
        if (alone.networks !== 600 || !alone.proven || found(alone) !== found(together)) throw new Error("workers choose something else: " + found(alone) + " and " + found(together));
        console.log("worked: " + together.networks + " networks by two workers, the best " + together.lossDb.toFixed(3) + " dB from the goal, from " + format);
      }
    });
  `;
  for (const [file, from] of [
    ["cores.mjs", (name, what) => `import ${what === "library" ? "* as library" : `{ ${what} }`} from "${name}";`],
    ["cores.cjs", (name, what) => `const ${what === "library" ? what : `{ ${what} }`} = require("${name}");`],
  ]) {
    const heads = [
      ["", "library"],
      ["/design", "chooseValues, redesign"],
      ["/cores", "chooseValuesOnAllCores, redesignOnAllCores"],
    ].map(([subpath, what]) => from(manifest.name + subpath, what));
    writeFileSync(join(app, file), `${heads.join("\n")}\nconst format = "${file}";${redesigning}`);
    process.stdout.write(run(process.execPath, [file], app));
  }

  // Declarations stand once: what an ES module is pointed at holds nothing but the way to them.
  const installed = join(modules, manifest.name);
  const twice = [...held].filter(
    (path) => path.endsWith(".d.ts") && readFileSync(join(installed, path), "utf8") !== 'export * from "./index.cjs";\n',
  );
  if (twice.length > 0) throw new Error(`declarations that stand twice: ${twice.join(", ")}`);
  const maps = [...held].filter((path) => path.endsWith(".map"));
  const sources = new Set(
    maps.flatMap((path) =>
      JSON.parse(readFileSync(join(installed, path), "utf8")).sources.map((source) => posix.join(posix.dirname(path), source)),
    ),
  );
  const lost = [...sources].filter((path) => !held.has(path));
  if (sources.size === 0 || lost.length > 0)
    throw new Error(`source maps point to ${sources.size} files, of which the package lacks: ${lost.join(", ")}`);
  console.log(`mapped: ${maps.length} source maps to ${sources.size} files of src/`);

  const types = specifiers.map((name, index) => `import * as m${index} from "${name}";`).join("\n");
  const body = `${types}
import * as z from "zod";
import { DividingNetworkError, inductor } from "${manifest.name}";
import { projectSchema } from "${manifest.name}/project";
export const all = [${specifiers.map((_, index) => `m${index}`).join(", ")}];
export const error: Error = new DividingNetworkError("code", "message");
export const name: string = z.object({ project: projectSchema() }).parse({}).project.name;
// @ts-expect-error a wrong unit, so that the declarations are seen to be read
inductor("6.8 µF");
`;
  const noDefault = specifiers.map((_, index) => `// @ts-expect-error there is no default export\nm${index}.default;\n`).join("");
  // Without skipLibCheck, and with no library but the language's own, so that our declarations stand alone.
  const strictness = { strict: true, exactOptionalPropertyTypes: true, noUncheckedIndexedAccess: true };
  const common = { ...strictness, noEmit: true, target: "es2022", lib: ["es2022"], types: [] };
  const ways = [
    ["node16", { module: "node16", moduleResolution: "node16" }, { "use-types.mts": body + noDefault, "use-types.cts": body + noDefault }],
    ["bundler", { module: "esnext", moduleResolution: "bundler" }, { "use-bundler.ts": body + noDefault }],
    // The oldest way knows no `exports`: `typesVersions` leads it to the subpaths.
    ["node10", { module: "commonjs", moduleResolution: "node10" }, { "use-node10.ts": body + noDefault }],
  ];
  for (const [way, how, files] of ways) {
    for (const [file, text] of Object.entries(files)) writeFileSync(join(app, file), text);
    writeFileSync(join(app, "tsconfig.json"), JSON.stringify({ compilerOptions: { ...common, ...how }, files: Object.keys(files) }));
    // The declarations of zod want a URL type from somewhere; what is ours must not want anything.
    const { stdout: diagnostics } = spawnSync(process.execPath, [join(root, "node_modules/typescript/bin/tsc"), "-p", "."], {
      cwd: app,
      encoding: "utf8",
    });
    const ours = diagnostics
      .split("\n")
      .filter((line) => line.startsWith("use-") || line.startsWith(`node_modules/${manifest.name}/`) || line.startsWith("error"));
    if (ours.length > 0) throw new Error(`the declarations do not compile with ${way}:\n${ours.join("\n")}`);
    console.log(`compiled: declarations with ${way}: ${Object.keys(files).join(", ")}`);
  }

  const options = {
    bundle: true,
    minify: true,
    format: "esm",
    platform: "neutral",
    mainFields: ["module", "main"],
    external: ["workerpool"],
    write: false,
    logLevel: "error",
  };
  const bundle = async (contents) => (await build({ ...options, stdin: { contents, resolveDir: app } })).outputFiles[0].text.trim();
  const nothing = await bundle(specifiers.map((name) => `import "${name}";`).join("\n"));
  if (nothing !== "")
    throw new Error(`importing every subpath for nothing leaves ${nothing.length} bytes in a bundle: ${nothing.slice(0, 400)}`);
  const little = await bundle(`import { formatQuantity } from "${manifest.name}"; globalThis.text = formatQuantity(4.7, "Ω");`);
  atMost("formatQuantity alone in a bundle", little.length / 1024, 6);
  const solver = await bundle(
    `import { network, resistor, solve } from "${manifest.name}"; globalThis.sweep = solve(network({ R1: [resistor(8), "in", "gnd"] }), [1000]);`,
  );
  atMost("the solver in a bundle", solver.length / 1024, 125);
  console.log(`bundled: nothing for a bare import, ${little.length} bytes for formatQuantity, ${solver.length} for a solved network`);

  // The command as an installation links it, in an empty folder: the example, then what the program says to type next.
  mkdirSync(join(modules, ".bin"));
  const bin = join(modules, ".bin", manifest.name);
  symlinkSync(join(installed, manifest.bin[manifest.name]), bin);
  chmodSync(join(installed, manifest.bin[manifest.name]), 0o755);
  const empty = join(work, "empty");
  mkdirSync(empty);
  if (run(bin, ["--version"], empty).trim() !== manifest.version) throw new Error("--version is not the version of the package");
  const said = run(bin, ["--example", "monitor"], empty);
  const next = said.match(/^ {2}npx dividing-network (\S+)$/m)?.[1];
  if (next === undefined) throw new Error(`--example does not say what to type next:\n${said}`);
  run(bin, [next], empty);
  const page = readFileSync(join(empty, "report.html"), "utf8");
  if (!/^<!DOCTYPE html>[\s\S]*<svg[\s\S]*<\/html>\s*$/.test(page)) throw new Error("the page is not whole, or shows no plot");
  const left = readdirSync(empty).sort().join(", ");
  if (left !== "monitor, report.html") throw new Error(`the command left behind: ${left}`);
  const { status, stdout, stderr } = spawnSync(bin, ["nowhere.json"], { cwd: empty, encoding: "utf8" });
  if (status !== 1 || stdout !== "" || !/^dividing-network: [^\n]*there is no such file[^\n]*\n$/.test(stderr))
    throw new Error(`a missing project file: code ${status}\n${stdout}${stderr}`);
  console.log(`commanded: ${manifest.name} --example monitor, then ${next}: a page of ${Math.round(page.length / 1024)} KiB`);

  run(process.execPath, [join(root, "node_modules/publint/src/cli.js"), "run", tarball, "--strict"]);
  console.log("publint: nothing to say");
  // The workers' script is started and never imported: it has no types.
  run(process.execPath, [
    join(root, "node_modules/@arethetypeswrong/cli/dist/index.js"),
    tarball,
    "--profile",
    "strict",
    "--no-color",
    "--exclude-entrypoints",
    "cores/worker.js",
  ]);
  console.log("attw: no problems");
} finally {
  rmSync(work, { recursive: true, force: true });
}
