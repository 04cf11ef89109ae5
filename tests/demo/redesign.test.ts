// The command's --redesign, on the example with a drawer of a few parts, as its user runs it.
import { build } from "esbuild";
import { execFile } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));
let work: string;

beforeAll(async () => {
  work = mkdtempSync(join(tmpdir(), "redesign-"));
  cpSync(join(root, "examples/desk-monitor"), join(work, "monitor"), { recursive: true });
  cpSync(join(root, "package.json"), join(work, "package.json"));
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
  writeFileSync(join(work, "command.mjs"), outputFiles[0]!.text);
});

afterAll(() => rmSync(work, { recursive: true, force: true }));

const run = (...given: readonly string[]) =>
  new Promise<{ readonly code: number; readonly stdout: string; readonly stderr: string }>((done) => {
    execFile(process.execPath, ["command.mjs", ...given], { cwd: work, env: { ...process.env, NO_COLOR: "1" } }, (error, stdout, stderr) =>
      done({ code: error === null ? 0 : Number(error.code), stdout, stderr }),
    );
  });

const HEAD = "name,kind,value,tolerance,dcr,dissipation factor,power,voltage,current,price,count";
/** A drawer of its own for the example. */
const drawer = (...lines: readonly string[]) => writeFileSync(join(work, "monitor/drawer.csv"), `${[HEAD, ...lines].join("\n")}\n`);
const FEW = [
  "coil a,inductor,0.33 mH,3 %,0.18 Ω,,,,8 A,4.3,4",
  "coil b,inductor,0.68 mH,3 %,0.28 Ω,,,,8 A,5.5,2",
  "film a,capacitor,6.8 µF,5 %,,0.002,,250 V,,3.8,6",
  "film b,capacitor,10 µF,5 %,,0.002,,250 V,,5.1,6",
  "wire a,resistor,2.2 Ω,5 %,,,20 W,,,0.9,6",
  "lone,resistor,3.3 Ω,5 %,,,20 W,,,0.9,1",
] as const;

describe("the command's --redesign", () => {
  it("designs from the project's drawer, prints the front with its proofs, and judges the nearest with the hand-made beside it", async () => {
    drawer(...FEW);
    const { code, stdout, stderr } = await run("monitor/project.json", "--redesign", "3", "--out", "page.html");
    expect(stderr).toBe("");
    expect(code).toBe(0);
    expect(stdout).toContain("Designing networks of at most 3 parts from drawer.csv, for a pair");
    // This bundle lies without the script of the workers, as the source does.
    const cores = availableParallelism();
    expect(stdout).toContain(cores === 1 ? "on 1 core …" : `on 1 core of ${cores} (workers need the built package`);
    const rows = [...stdout.matchAll(/^ *(\d) +(\d+\.\d\d) +(\d+\.\d) +(\d+\.\d\d) /gm)];
    expect(rows.length).toBeGreaterThan(0);
    // Only what is in the drawer twice: of "lone" there is one.
    expect(stdout).toMatch(/film [ab]|coil [ab]/);
    expect(stdout).not.toContain("lone");
    // Of third-octave powers nothing is proven, and it says so.
    expect(stdout.replace(/\s+/g, " ")).toMatch(/\d parts: best found of [\d,]+ networks of up to \d parts \(\d+ topologies\); no proof/);
    const nearest = rows.reduce((best, row) => (Number(row[2]) < Number(best[2]) ? row : best));
    expect(stdout).toContain(`the one of ${nearest[1]!} parts that is nearest to the goal`);
    const page = readFileSync(join(work, "page.html"), "utf8");
    expect(page.includes("Third number: by hand.")).toBe(true);
    expect(page.includes("How far the search for the proposed network went: best found of")).toBe(true);
    // What is proposed is what was designed: its parts are those of the drawer.
    expect(/film [ab]/.test(page)).toBe(true);
  });

  it("says what stands against it where the drawer can't make a network that keeps the limits, and writes no page", async () => {
    drawer("coil c,inductor,2.2 mH,3 %,0.6 Ω,,,,8 A,4.3,4", "film c,capacitor,47 µF,5 %,,0.002,,250 V,,3.8,6");
    const { code, stdout, stderr } = await run("monitor/project.json", "--redesign", "2", "--out", "none.html");
    expect(code).toBe(1);
    expect(`${stdout}${stderr}`).toMatch(/none of the \d+ networks of the simplest topology \(nor of any other\) keeps the goal's limits/);
    expect(`${stdout}${stderr}`).toMatch(/relax one limit so far|Give other candidates/);
    expect(() => readFileSync(join(work, "none.html"))).toThrow();
  });

  it("refuses a number of parts that makes no sense, and a drawer without coils and capacitors", async () => {
    expect(await run("monitor/project.json", "--redesign", "1")).toMatchObject({
      code: 1,
      stderr: expect.stringContaining("2 to 20") as string,
    });
    drawer("wire a,resistor,2.2 Ω,5 %,,,20 W,,,0.9,6");
    expect(await run("monitor/project.json", "--redesign", "3", "--out", "none.html")).toMatchObject({
      code: 1,
      stderr: expect.stringMatching(/must hold coils or capacitors/) as string,
    });
  });
});
