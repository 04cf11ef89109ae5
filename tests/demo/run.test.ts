// Tests src/: command-line.ts, command-line-files.ts, command-line-task.ts, command-line-words.ts
// The program of the package as its user runs it, on the example and on projects with something wrong in them. `npm run demo` is this
// program, run from the source.
import { build } from "esbuild";
import { execFile, spawn } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));
const program = "package/dist/command-line.js";
let work: string;

beforeAll(async () => {
  work = mkdtempSync(join(tmpdir(), "demo-"));
  cpSync(join(root, "examples/desk-monitor"), join(work, "monitor"), { recursive: true });
  mkdirSync(join(work, "out"));
  // The same program in one file, so that a refusal doesn't wait for each module to be translated, where it lies in the package.
  cpSync(join(root, "examples/desk-monitor"), join(work, "package/examples/desk-monitor"), { recursive: true });
  cpSync(join(root, "package.json"), join(work, "package/package.json"));
  const { outputFiles } = await build({
    entryPoints: [join(root, "src/command-line.ts")],
    absWorkingDir: root,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20",
    write: false,
    logLevel: "silent",
  });
  mkdirSync(join(work, "package/dist"));
  writeFileSync(join(work, program), outputFiles[0]!.text);
});

afterAll(() => rmSync(work, { recursive: true, force: true }));

type Run = { readonly code: number; readonly stdout: string; readonly stderr: string };

/** Runs a program with Node; paths are relative to the working folder of these tests. */
function run(...given: readonly string[]): Promise<Run> {
  return new Promise((done) => {
    execFile(process.execPath, [...given], { cwd: work, env: { ...process.env, NO_COLOR: "1" } }, (error, stdout, stderr) =>
      done({ code: error === null ? 0 : Number(error.code), stdout, stderr }),
    );
  });
}

/** As the package's script runs it. */
const demo = (...given: readonly string[]): Promise<Run> =>
  run("--import", import.meta.resolve("tsx"), join(root, "src/command-line.ts"), ...given);

/** As the package's command runs it. */
const command = (...given: readonly string[]): Promise<Run> => run(program, ...given);

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
async function refused(
  given: readonly string[],
  message: readonly (RegExp | string)[],
  runs: (...given: readonly string[]) => Promise<Run> = command,
): Promise<void> {
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
    expect(stdout).toContain("The new network is better: on the axis");
    expect(readdirSync(join(work, "out"))).toEqual(["whole.html"]);
    const page = readFileSync(join(work, "out/whole.html"), "utf8");
    expect(page).toMatch(/^<!DOCTYPE html>[\s\S]*<\/html>\s*$/);
    expect(page).toContain("The new network is better: on the axis");
    expect(page, "nothing is fetched").not.toMatch(/\b(src|href)="(?!#)/);
    expect(page.match(/<svg/g)!.length).toBeGreaterThan(10);
    for (const title of ["As found", "Proposed"]) expect(page.split(`<title>${title}</title>`), title).toHaveLength(2);
    expect(page).toContain("The tweeter is connected the other way round: its + and − are exchanged.");
    const unchecked =
      "Ratings were checked at 14.1 V rms of the largest sine; heat and excursion under simulated programme (IEC 60268-1, levels from memory, not verified) of 10 V rms, crest factor 2. Not checked, so never passed: heat of coils: L1, L2, L3.";
    for (const text of [page, stdout.replace(/\s+/g, " ")]) expect(text.split(unchecked)).toHaveLength(2);
  }, 180_000);

  it("runs the example when no project is named, and gives the same page again", async () => {
    const { code } = await demo("--out", "out/again.html");
    expect(code).toBe(0);
    const [again, whole] = ["again", "whole"].map((name) => readFileSync(join(work, `out/${name}.html`), "utf8"));
    expect(again).toBe(whole);
  }, 180_000);
});

describe("the program", () => {
  it("says with --help each option that it takes, and what to type", async () => {
    const { code, stdout, stderr } = await command("--help");
    expect([code, stderr]).toEqual([0, ""]);
    for (const option of ["--out", "--example", "--help", "--version"])
      expect(stdout).toContain(`npx dividing-network ${option === "--out" ? "project.json --out" : option}`);
  });

  it("says with --version the version of the package, and nothing else", async () => {
    const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { version: string };
    expect(await command("--version")).toEqual({ code: 0, stdout: `${version}\n`, stderr: "" });
  });

  it.each([
    ["a new folder", "copies/new"],
    ["an empty folder", "empty"],
    ["a folder whose name has a space", "copies/a b"],
  ])("copies the example into %s, whole, and says what to type next", async (_what, folder) => {
    mkdirSync(join(work, "empty"), { recursive: true });
    const { code, stdout, stderr } = await command("--example", folder);
    expect([code, stderr]).toEqual([0, ""]);
    const original = join(root, "examples/desk-monitor");
    const names = readdirSync(original, { recursive: true, encoding: "utf8" }).sort();
    expect(readdirSync(join(work, folder), { recursive: true, encoding: "utf8" }).sort()).toEqual(names);
    for (const name of names.filter((each) => /\.(json|txt)$/.test(each)))
      expect(readFileSync(join(work, folder, name), "utf8") === readFileSync(join(original, name), "utf8"), name).toBe(true);
    const project = join(folder, "project.json");
    expect(stdout).toContain(`\n  npx dividing-network ${folder.includes(" ") ? `"${project}"` : project}\n`);
    expect(stdout).toContain("invented");
  });

  it("writes the page for someone who reads only its first line", async () => {
    const code = await new Promise((done) => {
      const child = spawn(process.execPath, [program, "monitor/project.json", "--out", "out/head.html"], {
        cwd: work,
        stdio: ["ignore", "pipe", "inherit"],
      });
      child.stdout.once("data", () => child.stdout.destroy());
      child.once("close", done);
    });
    expect(code).toBe(0);
    expect(readFileSync(join(work, "out/head.html"), "utf8")).toMatch(/<\/html>\s*$/);
  }, 180_000);
});

describe("the demonstration refuses, in one message and without a page,", () => {
  it("a project file that isn't there", () =>
    refused(["monitor/nowhere.json", ...OUT], ["monitor/nowhere.json", /there is no such file/], demo));

  it("a folder in place of a project file", () => refused(["monitor", ...OUT], ["monitor", /is a folder/]));

  it("an empty project file", async () => {
    writeFileSync(join(work, "monitor/empty.json"), "");
    await refused(["monitor/empty.json", ...OUT], [/empty\.json/]);
  });

  it("a project file that breaks off, with the line", () =>
    refused([changed("broken.json", (text) => text.slice(0, 300)), ...OUT], [/broken\.json:4/]));

  it("an unknown key, with the line and the keys that are known", () =>
    refused(
      [changed("colour.json", (text) => text.replace('"ratedImpedance": 4,', '"ratedImpedance": 4, "colour": "red",')), ...OUT],
      [/colour\.json:5/, /"colour"/, /"ratedImpedance"/],
    ));

  it("a designator that stands twice", () =>
    refused(
      [changed("twice.json", (text) => text.replace('"name": "C2"', '"name": "C1"')), ...OUT],
      [/twice\.json:\d+/, /"C1"/, /Rename/],
    ));

  it("a negative resistance", () =>
    refused([changed("negative.json", (text) => text.replace('"1.5 Ω"', '"-1.5 Ω"')), ...OUT], [/negative\.json:\d+/, /"R1"/, /-1\.5 Ω/]));

  it("a driver without an impedance", () =>
    refused(
      [changed("unknown.json", (text) => text.replace(/"impedance": \{ "file": "data\/tweeter-impedance.*\n/, "")), ...OUT],
      [/unknown\.json:\d+/, /tweeter/, /impedance/],
    ));

  it("a measured file that is missing", () =>
    refused(
      [changed("missing.json", (text) => text.replace("woofer-left20.txt", "woofer-left21.txt")), ...OUT],
      [/data\/woofer-left21\.txt/, /woofer, measurements\[0\]\.files\[8\]/],
    ));

  it("text in a number column, with file and line", async () => {
    changedFile("woofer-left20.txt", "loud.txt", 100, ([frequency, , phase]) => [frequency!, "loud", phase!]);
    await refused(
      [changed("loud.json", (text) => text.replace("woofer-left20.txt", "loud.txt")), ...OUT],
      [/data\/loud\.txt:100/, /"loud"/],
    );
  });

  it("a frequency of 0 Hz, with file and line", async () => {
    changedFile("woofer-left20.txt", "zero.txt", 7, ([, level, phase]) => ["0", level!, phase!]);
    await refused(
      [changed("zero.json", (text) => text.replace("woofer-left20.txt", "zero.txt")), ...OUT],
      [/data\/zero\.txt:7/, /frequency/],
    );
  });

  it("responses without a common time zero, when they are to be added and the whole wasn't measured", () =>
    refused(
      [
        changed("clock.json", (text) => {
          const project = JSON.parse(text) as { measurements: { of: string; quantity: string }[] };
          project.measurements = project.measurements.filter(({ of, quantity }) => of !== "loudspeaker" || quantity !== "pressure");
          return JSON.stringify(project, null, 2).replaceAll('"common": true', '"common": false');
        }),
        ...OUT,
      ],
      [/data\/woofer-right60\.txt/, /time zero/, /delay/],
    ));

  it("a measured band narrower than the one to be judged", () =>
    refused(
      [changed("wide.json", (text) => text.replace('"band": { "from": 300', '"band": { "from": 100')), ...OUT],
      [/data\/woofer-right60\.txt|woofer/, /100 Hz/],
    ));

  it("a flag that it doesn't know, saying which it knows", () => refused(["--colour", "red"], [/--colour/, /Usage: .*--out report\.html/]));

  it("a flag without its value", () => refused(["monitor/project.json", "--out"], [/--out/, /Usage/]));

  it("to copy the example over something that is there", async () => {
    const before = readdirSync(join(work, "monitor"));
    await refused(["--example", "monitor"], [/is not empty/, /new or an empty one/]);
    await refused(["--example", "monitor/project.json"], [/a file is in its place/]);
    await refused(["--example", "monitor/project.json/below"], [/a file is in its place/]);
    expect(readdirSync(join(work, "monitor"))).toEqual(before);
  });

  it("to copy the example and judge in one go", async () => {
    await refused(["--example", "copies/both", "monitor/project.json"], [/Leave out monitor\/project\.json/]);
    await refused(["--example", "copies/both", "--out", "out/both.html"], [/Leave out --out/]);
    expect(existsSync(join(work, "copies/both"))).toBe(false);
  });

  it("an example without a folder", () => refused(["--example"], [/--example/, /Usage/]));

  it("two projects", () => refused(["a.json", "b.json", ...OUT], [/one project file at a time/, /a\.json, b\.json/]));

  it("a folder for the page that isn't there", () =>
    refused(["monitor/project.json", "--out", "nowhere/report.html"], [/there is no folder .*nowhere/]));

  it("a folder in place of the page", () => refused(["monitor/project.json", "--out", "out"], [/is a folder/]));

  it("to write the page over what it is made from", async () => {
    const before = readFileSync(join(work, "monitor/project.json"), "utf8");
    await refused(["monitor/project.json", "--out", "monitor/project.json"], [/made from/]);
    await refused(["monitor/project.json", "--out", "monitor/data/woofer-axis.txt"], [/made from/]);
    expect(readFileSync(join(work, "monitor/project.json"), "utf8")).toBe(before);
  });
});
