// Tests src/: command-line-redesign.ts
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
    expect(stdout).toContain(`the one of ${nearest[1]!} parts, ${nearest[2]!} dB as drawn, that is nearest to the goal. `);
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

  /** The project, told more. */
  const telling = (name: string, more: object) => {
    const project = JSON.parse(readFileSync(join(work, "monitor/project.json"), "utf8")) as object;
    writeFileSync(join(work, "monitor", name), JSON.stringify({ ...project, ...more }));
    return `monitor/${name}`;
  };
  const plain = (text: string) => text.replace(/\s+/g, " ");

  it("chooses by what drawn loudspeakers come to, and says so in the terminal and on the page", async () => {
    drawer(...FEW);
    const asked = telling("robust.json", {
      spread: {
        drivers: { tweeter: { levelDb: 0.5 }, woofer: { levelDb: 0.5 } },
        lots: [
          ["C1", "C2"],
          ["woofer", "tweeter"],
        ],
        matched: ["C1", "tweeter"],
        samples: 40,
      },
      redesign: { robust: { by: "yield", largestLossDb: 6, samples: 4 } },
    });
    const { code, stdout, stderr } = await run(asked, "--redesign", "3", "--out", "robust.html");
    expect(stderr).toBe("");
    expect(code).toBe(0);
    expect(stdout).toContain(
      "chosen by the share of good ones (within 6 dB and all limits) of 4 loudspeakers drawn of each within the tolerances",
    );
    const rows = [...stdout.matchAll(/^ *(\d) +(\d+\.\d\d) +(\d+\.\d\d) +(\d+) % /gm)];
    const most = Math.max(...rows.map((row) => Number(row[4])));
    const [row] = rows.filter((each) => Number(each[4]) === most).sort((a, b) => Number(a[3]) - Number(b[3]));
    const says = `4 loudspeakers drawn within the tolerances lie ${row![3]} dB from the goal (root mean square); ${row![4]} % are good, within 6 dB and all limits`;
    expect(stdout).toContain(`the one of ${row![1]} parts, ${row![2]} dB as drawn, that gives most good loudspeakers: ${says}.`);
    expect(plain(stdout)).toContain('"Drawn" is the loss to be expected: root mean square over 4 loudspeakers drawn of each');
    expect(stdout).toContain(
      'What the project says of C1, C2 under "spread" (lots, matched) is left out: a designed network has parts of its own.',
    );
    // By the same measure it is then drawn often; lots of parts that it hasn't are no hindrance.
    expect(stdout).toMatch(/Of 40 loudspeakers drawn within these tolerances, .* keep: at most 6\.00 dB from the goal/);
    expect(readFileSync(join(work, "robust.html"), "utf8")).toContain(`${says}.`);
    // A flag goes before what the project states.
    drawer("coil c,inductor,2.2 mH,3 %,0.6 Ω,,,,8 A,4.3,4", "film c,capacitor,47 µF,5 %,,0.002,,250 V,,3.8,6");
    const none = await run(asked, "--redesign", "2", "--robust", "none", "--out", "robust.html");
    expect(none.stdout).toContain("from drawer.csv, for a pair, on 1 core");
  });

  it("takes two lines of the drawer in the place of one part, chosen by the loss to be expected, and says on the lists which", async () => {
    drawer(...FEW.slice(0, 2), "film c,capacitor,3.3 µF,5 %,,0.002,,250 V,,2.8,8", "film d,capacitor,4.7 µF,5 %,,0.002,,250 V,,3.1,8");
    const asked = telling("pieces.json", { goal: { band: { from: 300, to: 10_000 } }, spread: { samples: 40 } });
    const { code, stdout } = await run(asked, "--redesign", "3", "--pieces", "2", "--robust", "loss", "--out", "pieces.html");
    expect(code).toBe(0);
    expect(stdout).toContain(
      "from drawer.csv, for a pair, two lines of it in the place of one part where that is better, chosen by the loss to be expected of 64 loudspeakers drawn",
    );
    expect(stdout).toMatch(/that is nearest to the goal as it will be built: 64 loudspeakers drawn within the tolerances lie \d\.\d\d dB/);
    const page = readFileSync(join(work, "pieces.html"), "utf8");
    const [shopping, sheet] = [page.slice(page.indexOf(">Shopping list<")), page.slice(page.indexOf(">Build sheet<"))];
    const whole = /(?:2 × 3\.3|2 × 4\.7|3\.3 µF and 4\.7) µF in parallel/.exec(shopping)?.[0];
    expect(whole).toBeDefined();
    expect(sheet).toContain(whole!);
    expect(plain(stdout)).toContain("µF in parallel");
    expect((await run(telling("none.json", { stock: undefined }), "--redesign", "2", "--pieces", "2")).stderr).toMatch(
      /--pieces 2 takes two lines of a stock/,
    );
    // A project that states it designs so without a flag; here from what can't keep the limits, which ends soon.
    drawer("coil c,inductor,2.2 mH,3 %,0.6 Ω,,,,8 A,4.3,4", "film c,capacitor,47 µF,5 %,,0.002,,250 V,,3.8,6");
    const stated = await run(telling("stated.json", { redesign: { mostPieces: 2 } }), "--redesign", "2", "--out", "stated.html");
    expect(stated.stdout).toContain("two lines of it in the place of one part where that is better, on 1 core");
  });

  it("refuses flags that say how to design without --redesign, or that make no sense", async () => {
    for (const [given, words] of [
      [["--pieces", "2"], "--pieces says how to design, and goes with --redesign"],
      [["--robust", "loss"], "--robust says how to design, and goes with --redesign"],
      [["--redesign", "3", "--pieces", "3"], "1 or 2, got 3"],
      [["--redesign", "3", "--robust", "luck"], "loss, yield or none, got luck"],
      [["--redesign", "3", "--robust", "yield"], '"largestLossDb"'],
    ] as const)
      expect(await run("monitor/project.json", ...given)).toMatchObject({ code: 1, stderr: expect.stringContaining(words) as string });
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
