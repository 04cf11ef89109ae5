// Checks the package as users get it: packs the built dist/, lays it out as an installed dependency, and uses it from ESM,
// CommonJS and TypeScript. Run after `npm run build`: `npm run package-check`.
import { build } from "esbuild";
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");
const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const specifiers = Object.keys(manifest.exports).filter((name) => name !== "./package.json").map((name) => manifest.name + name.slice(1));

function run(command, args, cwd = root) {
  const { status, stdout, stderr } = spawnSync(command, args, { cwd, encoding: "utf8", maxBuffer: 1 << 26 });
  if (status !== 0) throw new Error(`failed: ${command} ${args.join(" ")}\n${stdout}${stderr}`);
  return stdout;
}

if (!existsSync(join(root, "dist/index.js"))) throw new Error("dist/ is missing: run `npm run build` first");

const work = mkdtempSync(join(tmpdir(), "packed-"));
try {
  const [packed] = JSON.parse(run("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", work]));
  const tarball = join(work, packed.filename);

  const stray = packed.files.map((file) => file.path).filter((path) => !/^(dist\/.*\.(js|cjs|d\.ts|d\.cts)|package\.json|README\.md|LICENSE|CHANGELOG\.md)$/.test(path));
  if (stray.length > 0) throw new Error(`the package holds files that it should not: ${stray.join(", ")}`);
  console.log(`packed: ${packed.files.length} files, ${Math.round(packed.size / 1024)} KiB, ${Math.round(packed.unpackedSize / 1024)} KiB unpacked`);

  // As installed: the package itself from the tarball, its dependencies as links to the ones already here.
  const app = join(work, "app");
  const modules = join(app, "node_modules");
  mkdirSync(modules, { recursive: true });
  run("tar", ["-xzf", tarball, "-C", modules]);
  run("mv", [join(modules, "package"), join(modules, manifest.name)]);
  for (const dependency of Object.keys(manifest.dependencies)) symlinkSync(join(root, "node_modules", dependency), join(modules, dependency), "dir");
  writeFileSync(join(app, "package.json"), JSON.stringify({ name: "app", private: true, type: "module" }));

  writeFileSync(join(app, "use.mjs"), `
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
    for (const [thrower, other] of [[esmErrors, cjsErrors], [cjsErrors, esmErrors]]) {
      let caught;
      try { thrower.checkNumber("check", "x", Number.NaN); } catch (error) { caught = error; }
      assert.ok(caught instanceof Error && caught instanceof thrower.DividingNetworkError, "an error of its own format");
      assert.ok(caught instanceof other.DividingNetworkError, "an error of the other format");
    }
    assert.ok(!(new TypeError("x") instanceof esm.DividingNetworkError), "other errors are not of the family");
    console.log("imported: " + formats.length + " subpaths in both formats, " + formats.reduce((a, b) => a + b) + " names");
  `);
  process.stdout.write(run(process.execPath, ["--throw-deprecation", "use.mjs"], app));

  const types = specifiers.map((name, index) => `import * as m${index} from "${name}";`).join("\n");
  const body = `${types}\nimport { DividingNetworkError } from "${manifest.name}";\nexport const all = [${specifiers.map((_, index) => `m${index}`).join(", ")}];\nexport const error: Error = new DividingNetworkError("code", "message");\n`;
  writeFileSync(join(app, "use-types.mts"), body);
  writeFileSync(join(app, "use-types.cts"), body);
  // Without skipLibCheck, and with no library but the language's own, so that our declarations stand alone.
  const strictness = { strict: true, exactOptionalPropertyTypes: true, noUncheckedIndexedAccess: true };
  const compilerOptions = { ...strictness, noEmit: true, target: "es2022", lib: ["es2022"], types: [], module: "node16", moduleResolution: "node16" };
  writeFileSync(join(app, "tsconfig.json"), JSON.stringify({ compilerOptions, files: ["use-types.mts", "use-types.cts"] }));
  // The declarations of zod want a URL type from somewhere; what is ours must not want anything.
  const { stdout: diagnostics } = spawnSync(process.execPath, [join(root, "node_modules/typescript/bin/tsc"), "-p", "."], { cwd: app, encoding: "utf8" });
  const ours = diagnostics.split("\n").filter((line) => line.startsWith("use-types") || line.startsWith(`node_modules/${manifest.name}/`) || line.startsWith("error"));
  if (ours.length > 0) throw new Error(`the declarations do not compile:\n${ours.join("\n")}`);
  console.log("compiled: declarations from ESM and CommonJS");

  const options = { bundle: true, minify: true, format: "esm", platform: "neutral", mainFields: ["module", "main"], write: false, logLevel: "error" };
  const bundle = async (contents) => (await build({ ...options, stdin: { contents, resolveDir: app } })).outputFiles[0].text.trim();
  const nothing = await bundle(specifiers.map((name) => `import "${name}";`).join("\n"));
  if (nothing !== "") throw new Error(`importing every subpath for nothing leaves ${nothing.length} bytes in a bundle: ${nothing.slice(0, 400)}`);
  const little = await bundle(`import { formatQuantity } from "${manifest.name}"; globalThis.text = formatQuantity(4.7, "Ω");`);
  if (little.length > 8 * 1024) throw new Error(`formatQuantity alone bundles to ${little.length} bytes, allowed are ${8 * 1024}`);
  console.log(`bundled: nothing for a bare import, ${little.length} bytes for formatQuantity`);

  run(process.execPath, [join(root, "node_modules/publint/src/cli.js"), "run", tarball, "--strict"]);
  console.log("publint: nothing to say");
  run(process.execPath, [join(root, "node_modules/@arethetypeswrong/cli/dist/index.js"), tarball, "--profile", "node16", "--no-color"]);
  console.log("attw: no problems");
} finally {
  rmSync(work, { recursive: true, force: true });
}
