// The demonstration as its user runs it: a program of its own, on the example and on projects with something wrong in them.
import { build } from "esbuild";
import { execFile } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));
let work: string;

beforeAll(async () => {
  work = mkdtempSync(join(tmpdir(), "demo-"));
  cpSync(join(root, "examples/desk-monitor"), join(work, "monitor"), { recursive: true });
  mkdirSync(join(work, "out"));
  // The same program in one file, so that a refusal doesn't wait for each module to be translated.
  const { outputFiles } = await build({
    entryPoints: [join(root, "examples/demo.ts")], absWorkingDir: root, alias: { "dividing-network": join(root, "src") },
    bundle: true, platform: "node", format: "esm", target: "node20", write: false, logLevel: "silent",
  });
  writeFileSync(join(work, "demo.mjs"), outputFiles[0]!.text);
});

afterAll(() => rmSync(work, { recursive: true, force: true }));

type Run = { readonly code: number; readonly stdout: string; readonly stderr: string };

/** Runs a program with Node; paths are relative to the working folder of these tests. */
function run(...given: readonly string[]): Promise<Run> {
  return new Promise((done) => {
    const env = { ...process.env, TSX_TSCONFIG_PATH: join(root, "tsconfig.json"), NO_COLOR: "1" };
    execFile(process.execPath, [...given], { cwd: work, env }, (error, stdout, stderr) => done({ code: error === null ? 0 : Number(error.code), stdout, stderr }));
  });
}

/** As the package's script runs it. */
const demo = (...given: readonly string[]): Promise<Run> => run("--import", import.meta.resolve("tsx"), join(root, "examples/demo.ts"), ...given);

/** The example's project, changed, as a file of its own beside it; every change must be one. */
function changed(name: string, change: (text: string) => string): string {
  const text = readFileSync(join(work, "monitor/project.json"), "utf8");
  expect(change(text), "the change must change something").not.toBe(text);
  writeFileSync(join(work, "monitor", name), change(text));
  return `monitor/${name}`;
}

/** One measured file, with one line changed, under another name. */
function changedFile(from: string, to: string, line: number, change: (cells: readonly string[]) => readonly string[]): void {
  const lines = readFileSync(join(work, "monitor/data", from), "utf8").split("\n");
  lines[line - 1] = change(lines[line - 1]!.split("\t")).join("\t");
  writeFileSync(join(work, "monitor/data", to), lines.join("\n"));
}

/** What every refusal has in common: exit code 1, one message in words, and no page, not even half of one. */
async function refused(given: readonly string[], message: readonly (RegExp | string)[], runs: (...given: readonly string[]) => Promise<Run> = (...words) => run("demo.mjs", ...words)): Promise<void> {
  const before = readdirSync(join(work, "out"));
  const { code, stdout, stderr } = await runs(...given);
  expect(code, stderr).toBe(1);
  for (const part of message) expect(stderr).toMatch(part);
  // One sentence, or a list that says how many things are wrong.
  const [first, ...others] = stderr.trim().split("\n");
  if (others.length > 0) expect(first).toContain(`${others.length} things are wrong:`);
  expect(others.filter((line) => !line.startsWith("- "))).toEqual([]);
  expect(stderr, "no stack").not.toMatch(/\n\s+at |node:internal|\.ts:\d+:\d+/);
  expect(stdout).not.toContain("The page is at");
  expect(readdirSync(join(work, "out"))).toEqual(before);
}

const OUT = ["--out", "out/report.html"];

describe("the demonstration", () => {
  it("writes the page, says where it is, and leaves nothing else behind", async () => {
    const { code, stdout, stderr } = await demo("monitor/project.json", "--out", "out/whole.html");
    expect(stderr).toBe("");
    expect(code).toBe(0);
    expect(stdout).toContain(`The page is at ${join(work, "out/whole.html")}`);
    expect(stdout).toContain("Invented for this example");
    expect(stdout).toContain("The new network is better");
    expect(readdirSync(join(work, "out"))).toEqual(["whole.html"]);
    const page = readFileSync(join(work, "out/whole.html"), "utf8");
    expect(page).toMatch(/^<!DOCTYPE html>[\s\S]*<\/html>\s*$/);
    expect(page).toContain("The new network is better");
    expect(page, "nothing is fetched").not.toMatch(/\b(src|href)="(?!#)/);
    expect(page.match(/<svg/g)!.length).toBeGreaterThan(10);
  }, 180_000);

  it("runs the example when no project is named, and gives the same page again", async () => {
    const { code } = await demo("--out", "out/again.html");
    expect(code).toBe(0);
    const [again, whole] = ["again", "whole"].map((name) => readFileSync(join(work, `out/${name}.html`), "utf8"));
    expect(again).toBe(whole);
  }, 180_000);
});

describe("the demonstration refuses, in one message and without a page,", () => {
  it("a project file that isn't there", () => refused(["monitor/nowhere.json", ...OUT], ["monitor/nowhere.json", /there is no such file/], demo));

  it("a folder in place of a project file", () => refused(["monitor", ...OUT], ["monitor", /is a folder/]));

  it("an empty project file", async () => {
    writeFileSync(join(work, "monitor/empty.json"), "");
    await refused(["monitor/empty.json", ...OUT], [/empty\.json/]);
  });

  it("a project file that breaks off, with the line", () => refused([changed("broken.json", (text) => text.slice(0, 300)), ...OUT], [/broken\.json:4/]));

  it("an unknown key, with the line and the keys that are known", () =>
    refused([changed("colour.json", (text) => text.replace('"ratedImpedance": 4,', '"ratedImpedance": 4, "colour": "red",')), ...OUT], [/colour\.json:5/, /"colour"/, /"ratedImpedance"/]));

  it("a designator that stands twice", () => refused([changed("twice.json", (text) => text.replace('"name": "C2"', '"name": "C1"')), ...OUT], [/twice\.json:\d+/, /"C1"/, /Rename/]));

  it("a negative resistance", () => refused([changed("negative.json", (text) => text.replace('"1.5 Ω"', '"-1.5 Ω"')), ...OUT], [/negative\.json:\d+/, /"R1"/, /-1\.5 Ω/]));

  it("a driver without an impedance", () =>
    refused([changed("unknown.json", (text) => text.replace(/"impedance": \{ "file": "data\/tweeter-impedance.*\n/, "")), ...OUT], [/unknown\.json:\d+/, /tweeter/, /impedance/]));

  it("a measured file that is missing", () => refused([changed("missing.json", (text) => text.replace("woofer-h+20.txt", "woofer-h+21.txt")), ...OUT], [/data\/woofer-h\+21\.txt/, /woofer, measurements\[0\]\.files\[8\]/]));

  it("text in a number column, with file and line", async () => {
    changedFile("woofer-h+20.txt", "loud.txt", 100, ([frequency, , phase]) => [frequency!, "loud", phase!]);
    await refused([changed("loud.json", (text) => text.replace("woofer-h+20.txt", "loud.txt")), ...OUT], [/data\/loud\.txt:100/, /"loud"/]);
  });

  it("a frequency of 0 Hz, with file and line", async () => {
    changedFile("woofer-h+20.txt", "zero.txt", 7, ([, level, phase]) => ["0", level!, phase!]);
    await refused([changed("zero.json", (text) => text.replace("woofer-h+20.txt", "zero.txt")), ...OUT], [/data\/zero\.txt:7/, /frequency/]);
  });

  it("responses without a common time zero, when they are to be added", () =>
    refused([changed("clock.json", (text) => text.replaceAll('"timeZero": { "common": true }', '"timeZero": { "common": false }')), ...OUT], [/data\/woofer-h-60\.txt/, /time zero/, /delay/]));

  it("a measured band narrower than the one to be judged", () =>
    refused([changed("wide.json", (text) => text.replace('"band": { "from": 300', '"band": { "from": 100')), ...OUT], [/data\/woofer-h-60\.txt|woofer/, /100 Hz/]));

  it("a flag that it doesn't know, saying which it knows", () => refused(["--colour", "red"], [/--colour/, /Usage: .*--out report\.html/]));

  it("a flag without its value", () => refused(["monitor/project.json", "--out"], [/--out/, /Usage/]));

  it("two projects", () => refused(["a.json", "b.json", ...OUT], [/one project file at a time/, /a\.json, b\.json/]));

  it("a folder for the page that isn't there", () => refused(["monitor/project.json", "--out", "nowhere/report.html"], [/there is no folder .*nowhere/]));

  it("a folder in place of the page", () => refused(["monitor/project.json", "--out", "out"], [/is a folder/]));

  it("to write the page over what it is made from", async () => {
    const before = readFileSync(join(work, "monitor/project.json"), "utf8");
    await refused(["monitor/project.json", "--out", "monitor/project.json"], [/made from/]);
    await refused(["monitor/project.json", "--out", "monitor/data/woofer-h000.txt"], [/made from/]);
    expect(readFileSync(join(work, "monitor/project.json"), "utf8")).toBe(before);
  });
});
