// Tests src/alignments/: views.ts
// Tests src/assessment/: views.ts
// Tests src/design/: views.ts
// Tests src/loudspeaker/: views.ts
// Tests src/network/: views.ts
// Tests src/project/: views.ts
// Tests src/response/: views.ts
// Values show themselves: in a terminal in a few lines, in a notebook as Markdown, and to programs not at all.
import { execFileSync } from "node:child_process";
import { deepStrictEqual } from "node:assert";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { inspect } from "node:util";
import { build } from "esbuild";
import { describe, expect, it } from "vitest";
import { fragment, frequencyResponse, network, networkFromJSON, networkToJSON, resistor } from "dividing-network";
import { listed, shown } from "../../src/errors/internal";
import { loaded, values } from "../support/values-to-show";
import { root } from "../support/program";

const node = Symbol.for("nodejs.util.inspect.custom");
const deno = Symbol.for("Deno.customInspect");
const notebook = Symbol.for("Jupyter.display");
const all = { ...values, loaded: await loaded };
const kinds = Object.entries(all) as [string, object][];
const asked = (value: object, key: symbol): unknown => (value as Record<symbol, () => unknown>)[key]!();

describe("in a terminal", () => {
  it.each(kinds.filter(([kind]) => kind !== "working"))("a value prints in at most a dozen lines: %s", (_kind, value) => {
    const lines = inspect(value).split("\n");
    expect(lines.length).toBeLessThanOrEqual(12);
    for (const line of lines) expect(line.length).toBeLessThanOrEqual(400);
    expect(asked(value, deno)).toBe(inspect(value));
  });

  it.each<[kind: keyof typeof all, ...says: RegExp[]]>([
    ["response", /^FrequencyResponse: 400 points, 100 Hz to 20 kHz$/m, /−20 dB to −20 dB/, /no-data up to 250 Hz: gate of 4 ms/],
    ["impulse", /3 samples at 48 kHz/, /largest 1 at −979\.2 µs/],
    ["network", /^Network: 4 parts$/m, /L1 +Coil 0\.424 mH, DCR 0\.2 Ω +in – w/, /tweeter +Driver Re 8 Ω +gnd – t/],
    ["long", /200 parts/, /and 190 more$/],
    ["joined", /L1 +Coil 1 mH +in – a/],
    ["compiled", /Compiled network: 4 parts, 4 nodes/, /nodes: gnd, in, w, t/],
    ["sweep", /Sweep: 400 points/, /parts: L1, woofer, C1, tweeter/],
    ["loudspeaker", /2 drivers/, /tweeter at \[0, 0, 0\] m/],
    // 0.1 Pa/V for 2.83 V is 20 lg(0.283/20e-6) = 83.0 dB, of which the coil's 0.2 Ω takes 0.2 dB at low frequencies.
    ["prediction", /for 2\.83 V/, /1 m, azimuth 0°, elevation 0°: 82\.8 to 83\.01 dB re 20 µPa/],
    ["place", /tweeter: 53\.47 to 82\.92 dB/],
    ["comparison", /^Comparison: The new network is better/, /worse in no topic/],
    ["assessment", /^Assessment: at 1 m, judged from 300 Hz to 10 kHz$/m, /least \|Z\| \d\.\d+ Ω at/, /crossovers: woofer to tweeter at/],
    ["spread", /^Spread: 100 loudspeakers drawn$/m, /keep/],
    // Linkwitz–Riley ways sum to 1 at every frequency, and their power falls to half at the corner.
    ["crossoverSum", /level of the sum 0\.00 to 0\.00 dB, power −3\.01 to 0\.00 dB/],
    ["minimumPhase", /^MinimumPhaseResult: 400 points/, /falls by 0 dB per octave below the data, 12 above/],
    ["picture", /^Picture: On <axis>, \d+ × \d+$/m, /ask: \.svg/],
    ["single", /magnitude 0\.5 \(−6\.021 dB re 1/],
    ["finding", /^Finding: better \(on the axis, sensitivity-2\.83V\)/],
    ["project", /Invented two-way/, /drivers: woofer, tweeter/],
    ["loaded", /files read: 4/, /notes: 0/],
    // A third order Butterworth function has one pair of Q 1 and a single pole.
    ["filter", /3 poles, 3 zeros/, /2\.5 kHz Q 1, 2\.5 kHz$/m, /zeros: 3 at 0/],
    // Its pairs have Q = 1/(2 cos 67.5°) and 1/(2 cos 22.5°).
    ["prototype", /butterworth, order 4/, /Q 1\.307.*Q 0\.5412/],
    ["ladder", /C1 .*series, L2 .*shunt, C3 .*load 6 Ω/],
    ["crossover", /linkwitz-riley, order 4, 2\.5 kHz/, /polarity of the high-pass driver: same/],
    ["working", /^1\. 1 − 1\/k/],
  ])("%s says what a person wants", (kind, ...says) => {
    for (const words of says) expect(inspect(all[kind])).toMatch(words);
  });

  it("a value prints in the same way within another, indented", () => {
    const text = inspect({ outer: { response: values.response } }, { breakLength: 200 });
    expect(text).toContain("response: FrequencyResponse: 400 points");
    for (const line of inspect(values.response).split("\n")) expect(text).toContain(line);
  });

  it("Node prints the same by itself, from a program that imports the library", async () => {
    const names = Object.keys(values);
    const built = await build({
      stdin: {
        contents: `import { values } from "./tests/support/values-to-show"; for (const name of ${JSON.stringify(names)}) { console.log("=== " + name); console.log(values[name]); }`,
        resolveDir: root,
        loader: "ts",
      },
      alias: { "dividing-network": resolve(root, "src") },
      bundle: true,
      format: "esm",
      platform: "node",
      target: "es2022",
      write: false,
      logLevel: "silent",
    });
    const folder = mkdtempSync(join(tmpdir(), "shown-"));
    try {
      const file = join(folder, "show.mjs");
      writeFileSync(file, built.outputFiles[0]!.text);
      const printed = execFileSync(process.execPath, [file], { encoding: "utf8" });
      expect(printed).toBe(
        Object.entries(values)
          .map(([name, value]) => `=== ${name}\n${inspect(value)}\n`)
          .join(""),
      );
    } finally {
      rmSync(folder, { recursive: true });
    }
  }, 60_000);

  it("names cannot steer the terminal, nor make more lines", () => {
    const text = inspect(network({ "R\u001b[31m\n1": [resistor(1), "in", "gnd"] }));
    expect(text).not.toContain("\u001b");
    expect(text.split("\n")).toHaveLength(2);
  });

  it("prints values that are 0 or cannot be written in full", () => {
    expect(inspect(frequencyResponse([0], [0], [0]))).toMatch(/1 point, 0 Hz\n.*−∞ dB/);
    expect(inspect(frequencyResponse([1, 2], [Number.MIN_VALUE, Number.MAX_VALUE], [0, 0]))).toMatch(/dB re 1/);
    expect(inspect(fragment({}))).toBe("Network: 0 parts");
  });
});

describe("in a notebook", () => {
  it("workings, networks, ladders, findings and comparisons answer with Markdown", () => {
    for (const kind of ["working", "network", "ladder", "finding", "findings", "comparison"] as const) {
      const answer = asked(values[kind], notebook) as Record<string, string>;
      expect(Object.keys(answer), kind).toEqual(["text/markdown", "text/plain"]);
      expect(answer["text/plain"]).toBe(inspect(values[kind]));
    }
    const table = (asked(values.long, notebook) as Record<string, string>)["text/markdown"]!.split("\n");
    expect(table).toHaveLength(202);
    expect(table[2]).toBe("| R0 | Resistor 1 Ω | in – n1 |");
  });

  it("a name cannot break out of the table", () => {
    const odd = network({ "<b>|\nx": [resistor(1), "in", "gnd"] });
    expect((asked(odd, notebook) as Record<string, string>)["text/markdown"]!.split("\n")[2]).toBe(
      "| \\<b\\>\\| x | Resistor 1 Ω | in – gnd |",
    );
  });
});

describe("to programs", () => {
  it.each(kinds)("nothing is there to be seen: %s", (_kind, value) => {
    expect(Object.isFrozen(value)).toBe(true);
    const symbols = Object.getOwnPropertySymbols(value).filter((symbol) => [node, deno, notebook].includes(symbol));
    for (const symbol of symbols) expect(Object.prototype.propertyIsEnumerable.call(value, symbol)).toBe(false);
    expect(Object.getOwnPropertySymbols({ ...value })).toEqual([]);
    expect(JSON.stringify(value) ?? "").not.toContain("inspect");
  });

  it("values that hold no functions are cloned as they were, and equal their clones and plain data", () => {
    for (const kind of [
      "response",
      "impulse",
      "network",
      "loudspeaker",
      "filter",
      "prototype",
      "finding",
      "findings",
      "project",
      "working",
    ] as const) {
      const clone: unknown = structuredClone(values[kind]);
      expect(clone, kind).toEqual(values[kind]);
      expect(clone, kind).toStrictEqual(values[kind]);
      deepStrictEqual(clone, values[kind]);
    }
    expect(networkFromJSON(networkToJSON(values.network))).toStrictEqual(values.network);
  });
});

describe("shown and listed", () => {
  it("show any object and change none of its keys", () => {
    const value = Object.freeze(shown({ a: 1 }, { text: ({ a }) => `a is ${a}` }));
    expect(inspect(value)).toBe("a is 1");
    expect(value).toStrictEqual({ a: 1 });
    expect(notebook in value).toBe(false);
  });

  it("list names on one line and count the rest", () => {
    expect(listed([])).toBe("none");
    expect(listed(["a", "b"])).toBe("a, b");
    expect(listed(["a\nb", "c", "d"], 2)).toBe("a b, c and 1 more");
    expect(listed(["x".repeat(100)])).toBe(`${"x".repeat(59)}…`);
  });
});
