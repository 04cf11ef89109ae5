// Tests src/project/: check-bands.ts, check-coils.ts, check-drivers.ts, check-goal.ts, check-measurements.ts, check-networks.ts
// Tests src/project/: check-spread.ts, coils-schema.ts, driver-schema.ts, fact-hints.ts, fields.ts, goal-schema.ts, issue-sentences.ts
// Tests src/project/: json-text.ts, measurement-schema.ts, parse-project.ts, part-schema.ts, relative-path.ts, spread-schema.ts
// Every mistake that a project and its files can hold gives one error that names the place, what was found, what is allowed, what to do.
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network/errors";
import { predict } from "dividing-network/loudspeaker";
import { parseProject, readProject } from "dividing-network/project";
import { load, projectData, projectFiles, reIm, wooferPressure } from "../support/fixture";

async function refusal(step: () => unknown): Promise<DividingNetworkError> {
  try {
    await step();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

// eslint-disable-next-line @typescript-eslint/no-explicit-any -- what the types forbid is what is tested
type Change = (data: any) => void;

const ofProject = (change: Change): Promise<DividingNetworkError> => {
  const data = projectData();
  change(data);
  return refusal(() => parseProject(JSON.stringify(data, null, 2), { file: "monitor.json" }));
};
const ofFiles = (changed: Readonly<Record<string, string>>, change: Change = () => undefined): Promise<DividingNetworkError> => {
  const data = projectData();
  change(data);
  return refusal(() => load(data, { ...projectFiles(), ...changed }));
};

/** Raw words of the schema library, or of a program gone wrong. */
const raw = /invalid input|invalid option|unrecognized|expected \w+, received|too (small|big)|\[object|undefined|NaN,|TypeError|zod/i;

function oneClearIssue(error: DividingNetworkError, code: string, ...parts: readonly (string | RegExp)[]): void {
  expect(error.code, error.message).toBe(code);
  expect(error.issues, error.message).toHaveLength(1);
  expect(error.message).not.toMatch(raw);
  expect(error.issues[0]!.hint, error.message).not.toBe("");
  for (const part of parts) expect(error.message).toMatch(part);
}

describe("text that is no JSON", () => {
  const cases: readonly (readonly [what: string, text: string, place: string, hint: RegExp])[] = [
    ["an empty file", "  \n", "p.json:1: the file is empty", /begins with \{ "version": 1/],
    [
      "a file that ends too early",
      '{\n  "version": 1,\n',
      "p.json:3:1: a key in double quotation marks must stand here, got the end of the text",
      /JSON/,
    ],
    [
      "a comma before the end",
      '{ "a": 1,\n }',
      'p.json:2:2: a key in double quotation marks must stand here, got "}"',
      /Remove the comma before it/,
    ],
    ["a comma before the end of a list", '{ "a": [1,] }', 'p.json:1:11: a value must stand here, got "] }"', /Remove the comma before it/],
    ["a comment", '{\n// a comment\n"a": 1 }', "p.json:2:1: a key in double quotation marks must stand here", /neither comments nor/],
    ["single quotation marks", "{ 'a': 1 }", "p.json:1:3: ", /single quotation marks/],
    ["NaN", '{ "a": NaN }', "p.json:1:8: a value must stand here", /0\.5 or 1e-3/],
    ["Infinity", '{ "a": -Infinity }', "p.json:1:8: a value must stand here", /0\.5 or 1e-3/],
    ["a number beyond a double", '{ "a": 1e999 }', "p.json:1:8: a number must be within what a double holds", /exponent/],
    ["a decimal comma", '{ "a": 0,5 }', 'p.json:1:10: a key in double quotation marks must stand here, got "5 }"', /JSON/],
    ["a number with a leading zero", '{ "a": 01 }', "p.json:1:8: a value must stand here", /0\.5/],
    ["a bare unit", '{ "a": 4.7mH }', "p.json:1:8: a value must stand here", /"0\.47 mH"/],
    ["a missing colon", '{ "a" 1 }', 'p.json:1:7: a colon must follow the key "a"', /: value/],
    ["a missing comma", '{ "a": 1\n"b": 2 }', "p.json:2:1: a comma or a closing brace must stand here", /comma between/],
    ["a missing comma in a list", '{ "a": [1 2] }', "p.json:1:11: a comma or a closing bracket must stand here", /comma between/],
    ["a text without end", '{ "a: 1 }', "p.json:1:3: a text must have a closing quotation mark", /missing "/],
    ["a text over two lines", '{ "a\nb": 1 }', "p.json:1:5: a text must end on the line", /\\n/],
    ["a wrong escape", '{ "a\\x": 1 }', "p.json:1:3: a text must have only the escapes", /forward slashes/],
    ["something after the end", "{}\n{}", "p.json:2:1: the text must end after the closing brace", /Remove/],
    ["nesting without end", "[".repeat(100_000), "p.json:1:62: arrays and objects must stand at most 60 deep", /eight/],
  ];
  it.each(cases)("%s is refused with line and column", async (_what, text, place, hint) => {
    const error = await refusal(() => parseProject(text, { file: "p.json" }));
    oneClearIssue(error, "invalid-json", hint);
    expect(error.message.slice("parseProject: ".length)).toContain(place);
    expect(error.issues[0]).toMatchObject({ file: "p.json", line: Number(place.split(":")[1]) });
  });

  it("a key that stands twice in an object is refused", async () => {
    oneClearIssue(
      await refusal(() => parseProject('{ "version": 1,\n "version": 1 }', { file: "p.json" })),
      "duplicate-key",
      /p\.json:2:2: .*"version" a second time/,
    );
  });

  it("a text above the stated size is refused before it is read", async () => {
    oneClearIssue(
      await refusal(() => parseProject(`"${"x".repeat(1_000_000)}"`, { file: "p.json" })),
      "project-too-large",
      /p\.json: .*at most 1000000 characters, got 1000002/,
    );
  });

  it("arguments of the wrong kind are refused", async () => {
    expect((await refusal(() => parseProject({} as unknown as string))).message).toMatch(
      /"text" must be the file's content as a string, got an object/,
    );
    expect((await refusal(() => parseProject("{}", { name: 1 } as object))).code).toBe("unknown-option");
    expect((await refusal(() => parseProject("{}", { file: 1 } as unknown as { file: string }))).message).toMatch(/"file" must be/);
    const without = await refusal(() => readProject(JSON.stringify(projectData()), {} as { readFile: () => Promise<string> }));
    expect(without.message).toMatch(/readProject: "readFile" must be a function that takes a relative path/);
  });
});

describe("a project that says too little, too much or something impossible", () => {
  const missing: readonly (readonly [path: string, change: Change, ask: RegExp])[] = [
    ["version", (p) => delete p.version, /Write "version": 1/],
    ["name", (p) => delete p.name, /"name": "…"/],
    ["ratedImpedance", (p) => delete p.ratedImpedance, /in Ω: "ratedImpedance": 8/],
    ["amplifier", (p) => delete p.amplifier, /"amplifier": \{ "outputResistance"/],
    ["amplifier.cableResistance", (p) => delete p.amplifier.cableResistance, /"cableResistance": "0\.1 Ω"/],
    [
      "air.temperature",
      (p) => {
        p.air = {};
      },
      /Correct it|temperature/,
    ],
    ['drivers[0].position of "woofer"', (p) => delete p.drivers[0].position, /"position": \{ "x": 0/],
    ['drivers[1].role of "tweeter"', (p) => delete p.drivers[1].role, /"role": "woofer", "midrange"/],
    ['drivers[0].impedance of "woofer"', (p) => delete p.drivers[0].impedance, /"impedance": \{ "file": .*"sameAs"/],
    ["drivers[0].name", (p) => delete p.drivers[0].name, /"name": "…"/],
    ['measurements[0].drive of "woofer"', (p) => delete p.measurements[0].drive, /"drive": \{ "voltage": 2\.83, "at": "terminals" \}/],
    ['measurements[0].drive.voltage of "woofer"', (p) => delete p.measurements[0].drive.voltage, /V rms: "voltage": 2\.83/],
    ['measurements[0].drive.at of "woofer"', (p) => delete p.measurements[0].drive.at, /"at": "terminals" when/],
    ['measurements[0].distance of "woofer"', (p) => delete p.measurements[0].distance, /in m: "distance": 1/],
    ['measurements[0].rotationCentre of "woofer"', (p) => delete p.measurements[0].rotationCentre, /"rotationCentre": \{/],
    ['measurements[1].timeZero of "tweeter"', (p) => delete p.measurements[1].timeZero, /"timeZero": \{ "common": true \}/],
    ['measurements[1].trusted of "tweeter"', (p) => delete p.measurements[1].trusted, /"trusted": \{ "from": 250/],
    ['measurements[1].smoothing of "tweeter"', (p) => delete p.measurements[1].smoothing, /"smoothing": "none"/],
    ['measurements[1].columns of "tweeter"', (p) => delete p.measurements[1].columns, /"db-degrees" \(dB re 20 µPa\)/],
    ['measurements[1].quantity of "tweeter"', (p) => delete p.measurements[1].quantity, /"quantity": "pressure"/],
    ['measurements[0].files[0].azimuth of "woofer"', (p) => delete p.measurements[0].files[0].azimuth, /degrees, positive towards/],
    ['measurements[0].files[0].file of "woofer"', (p) => delete p.measurements[0].files[0].file, /"file": "data/],
    ["networks.proposed", (p) => delete p.networks.proposed, /repeat the parts of "found"/],
    ['networks.found.parts[0].nodes of "L1"', (p) => delete p.networks.found.parts[0].nodes, /"nodes": \["in", "gnd"\]/],
    ['networks.found.parts[0].inductance of "L1"', (p) => delete p.networks.found.parts[0].inductance, /number in H/],
    ['networks.found.parts[0].kind of "L1"', (p) => delete p.networks.found.parts[0].kind, /"kind": "inductor"/],
  ];
  it.each(missing)("asks for %s", async (path, change, ask) => {
    const error = await ofProject(change);
    oneClearIssue(error, "invalid-project", ask);
    expect(error.message.replace(/^parseProject: monitor\.json:\d+: /, "")).toMatch(
      new RegExp(`^${path.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")} is missing\\. `),
    );
  });

  const wrong: readonly (readonly [what: string, change: Change, message: RegExp, hint: RegExp])[] = [
    [
      "another version",
      (p) => {
        p.version = 2;
      },
      /version must be 1, got 2/,
      /other versions/,
    ],
    [
      "an unknown key",
      (p) => {
        p.notes = "x";
      },
      /the project has an unknown key "notes"/,
      /Known keys are "version", "name"/,
    ],
    [
      "an unknown key of a part",
      (p) => {
        p.networks.found.parts[1].esl = 0;
      },
      /networks\.found\.parts\[1\] of "C1" has an unknown key "esl"/,
      /"capacitance", "esr"/,
    ],
    [
      "a key that would reach a prototype",
      (p) => Object.defineProperty(p, "__proto__", { value: { polluted: true }, enumerable: true }),
      /unknown key "__proto__"/,
      /Known keys/,
    ],
    [
      "a third network without a name",
      (p) => {
        p.networks.alternative = { parts: p.networks.proposed.parts };
      },
      /networks\.alternative/,
      /name/,
    ],
    [
      "a third network that bears the name of another column",
      (p) => {
        p.networks.alternative = { name: "Proposed", parts: p.networks.proposed.parts };
      },
      /networks\.alternative\.name of "Proposed" must differ from what the page calls the other two/,
      /by hand/,
    ],
    [
      "a third network whose driver nobody declared",
      (p) => {
        p.networks.alternative = { name: "other", parts: [{ name: "horn", kind: "driver", nodes: ["in", "gnd"] }] };
      },
      /networks\.alternative\.parts\[0\]\.name of "horn" must be the name of a driver of the project/,
      /Declare it/,
    ],
    [
      "a designator that would reach a prototype",
      (p) => {
        p.networks.found.parts[0].name = "__proto__";
      },
      /networks\.found\.parts\[0\]\.name .*must be another name/,
      /another name/,
    ],
    [
      "an empty designator",
      (p) => {
        p.networks.found.parts[0].name = "";
      },
      /networks\.found\.parts\[0\]\.name must be a name of 1 to 60 characters/,
      /Shorten or correct/,
    ],
    [
      "a designator given twice",
      (p) => {
        p.networks.found.parts[1].name = "L1";
      },
      /networks\.found\.parts\[1\]\.name of "L1" stands already at networks\.found\.parts\[0\]/,
      /Rename/,
    ],
    [
      "a driver given twice",
      (p) => p.drivers.push({ ...p.drivers[0] }),
      /drivers\[2\]\.name of "woofer" stands already at drivers\[0\]/,
      /Rename/,
    ],
    [
      "a kind of part that isn't known",
      (p) => {
        p.networks.found.parts[0].kind = "coil";
      },
      /kind of "L1" must be one of "resistor", "inductor", .*got "coil"/,
      /what the part is/,
    ],
    [
      "a part with negative resistance",
      (p) => p.networks.found.parts.push({ name: "R1", kind: "resistor", resistance: -2, nodes: ["w", "gnd"] }),
      /parts\[4\]\.resistance of "R1" must be a finite number at least 0 Ω, got -2/,
      /number in Ω/,
    ],
    [
      "a negative resistance as text",
      (p) => {
        p.networks.found.parts[0].dcr = "-1 Ω";
      },
      /dcr of "L1" must be a resistance, not negative, .*got "-1 Ω"/,
      /./,
    ],
    [
      "a capacitance of zero",
      (p) => {
        p.networks.found.parts[1].capacitance = 0;
      },
      /capacitance of "C1" must be a finite number above 0 F, got 0/,
      /number in F/,
    ],
    [
      "a decimal comma in a quantity",
      (p) => {
        p.networks.found.parts[1].capacitance = "6,8 µF";
      },
      /capacitance of "C1" must be a capacitance .*got "6,8 µF"/,
      /"6\.8 µF"/,
    ],
    [
      "a quantity of another unit",
      (p) => {
        p.networks.found.parts[0].inductance = "6.8 µF";
      },
      /inductance of "L1" must be an inductance .*got "6\.8 µF"/,
      /./,
    ],
    [
      "a quantity of another type",
      (p) => {
        p.ratedImpedance = [8];
      },
      /ratedImpedance must be a number in Ω or text with its unit, .*got an array/,
      /./,
    ],
    [
      "two descriptions of one loss",
      (p) => Object.assign(p.networks.found.parts[1], { esr: 1, dissipationFactor: 0.01 }),
      /parts\[1\] of "C1" isn't a capacitor that can be made: "esr" and "dissipationFactor" describe the same loss/,
      /data sheet/,
    ],
    [
      "a transformer without its values",
      (p) => p.networks.found.parts.push({ name: "T1", kind: "transformer", nodes: ["w", "gnd", "x", "gnd"] }),
      /parts\[4\] of "T1" must have "ratio", or two windings, whose "primaryInductance", "secondaryInductance", "k" are missing/,
      /primary to secondary turns/,
    ],
    [
      "a transformer of two descriptions",
      (p) => p.networks.found.parts.push({ name: "T1", kind: "transformer", ratio: 2, k: 0.9, nodes: ["w", "gnd", "x", "gnd"] }),
      /of "T1" isn't a transformer that can be made: unknown option "k"/,
      /./,
    ],
    [
      "too few nodes",
      (p) => {
        p.networks.found.parts[0].nodes = ["in"];
      },
      /nodes of "L1" must have exactly 2 entries, got 1/,
      /Name the node/,
    ],
    [
      "nodes that are no list",
      (p) => {
        p.networks.found.parts[0].nodes = "in";
      },
      /nodes of "L1" must be a list \[ … \], got "in"/,
      /Name the node/,
    ],
    [
      "a network of too many parts",
      (p) => {
        p.networks.found.parts = Array.from({ length: 501 }, (_, i) => ({
          name: `R${i}`,
          kind: "resistor",
          resistance: 1,
          nodes: ["in", "gnd"],
        }));
      },
      /networks\.found\.parts must have at most 500 entries, got 501/,
      /./,
    ],
    [
      "a network without a driver",
      (p) => {
        p.networks.proposed.parts.splice(2);
      },
      /networks\.proposed\.parts must hold at least one driver/,
      /"kind": "driver"/,
    ],
    [
      "a network that hangs in the air",
      (p) => {
        p.networks.found.parts[2].nodes = ["w2", "gnd2"];
      },
      /networks\.found\.parts can't be solved: node "w2" has no path to "gnd"|networks\.found\.parts can't be solved/,
      /Connect/,
    ],
    [
      "a coupling to no coil",
      (p) => p.networks.found.parts.push({ name: "K1", kind: "coupling", k: 0.1, coils: ["L1", "C1"] }),
      /can't be solved: "K1" must couple two coils .*got "C1", which is a capacitor/,
      /The coils are L1/,
    ],
    [
      "a coupling factor out of range",
      (p) => p.networks.found.parts.push({ name: "K1", kind: "coupling", k: 1, coils: ["L1", "L1"] }),
      /k of "K1" must be a finite number above -1 and below 1, got 1/,
      /./,
    ],
    [
      "a driver that isn't declared",
      (p) => p.networks.found.parts.push({ name: "horn", kind: "driver", nodes: ["w", "gnd"] }),
      /parts\[4\]\.name of "horn" must be the name of a driver of the project/,
      /"woofer", "tweeter"/,
    ],
    [
      "a driver that no network uses",
      (p) => p.drivers.push({ ...p.drivers[0], name: "horn" }),
      /drivers\[2\]\.name of "horn" is a driver that no network uses/,
      /"kind": "driver"/,
    ],
    [
      "a driver's name on another part",
      (p) =>
        p.networks.found.parts.push({ name: "horn", kind: "resistor", resistance: 8, nodes: ["w", "gnd"] })
        && p.drivers.push({ ...p.drivers[0], name: "horn" })
        && p.networks.proposed.parts.push({ name: "horn", kind: "driver", nodes: ["w", "gnd"] }),
      /kind of "horn" must be "driver", .*got "resistor"/,
      /Rename/,
    ],
    [
      "a driver named loudspeaker",
      (p) =>
        p.drivers.push({ ...p.drivers[0], name: "loudspeaker" })
        && p.networks.found.parts.push({ name: "loudspeaker", kind: "driver", nodes: ["w", "gnd"] }),
      /"loudspeaker" means the whole/,
      /Name the driver/,
    ],
    [
      "sameAs to a missing driver",
      (p) => {
        p.drivers[1] = { name: "tweeter", position: { x: 0, y: 0, z: 0 }, sameAs: "wofer" };
        p.measurements.pop();
      },
      /drivers\[1\]\.sameAs of "tweeter" must name a driver of the project, got "wofer"/,
      /"woofer", "tweeter"/,
    ],
    [
      "sameAs to itself",
      (p) => {
        p.drivers[1] = { name: "tweeter", position: { x: 0, y: 0, z: 0 }, sameAs: "tweeter" };
        p.measurements.pop();
      },
      /must name a driver that was measured/,
      /whose files/,
    ],
    [
      "sameAs and an impedance",
      (p) => {
        p.drivers[1].sameAs = "woofer";
        p.measurements.pop();
      },
      /drivers\[1\] of "tweeter" has both "impedance" and "sameAs"/,
      /Remove one/,
    ],
    [
      "a measurement of an unknown name",
      (p) => {
        p.measurements[0].of = "wofer";
      },
      /measurements\[0\]\.of must be the name of a driver, "loudspeaker", "twin" or "partner", got "wofer"/,
      /"woofer", "tweeter"/,
    ],
    [
      "a measurement of a driver that shares another's",
      (p) => {
        p.drivers[1] = { name: "tweeter", position: { x: 0, y: 0, z: 0 }, sameAs: "woofer" };
      },
      /measurements\[1\]\.of must be a driver with measurements of its own/,
      /Remove/,
    ],
    [
      "an impedance with angles",
      (p) => p.measurements.push({ of: "loudspeaker", quantity: "impedance", columns: "re-im", files: [{ file: "z.txt", azimuth: 0 }] }),
      /files\[0\] of "loudspeaker" has an unknown key "azimuth"/,
      /"file"/,
    ],
    [
      "two impedances of the whole",
      (p) => {
        for (let i = 0; i < 2; i++)
          p.measurements.push({ of: "loudspeaker", quantity: "impedance", columns: "re-im", files: [{ file: "z.txt" }] });
      },
      /measurements\[3\]\.quantity of "loudspeaker" is the second impedance/,
      /Keep one/,
    ],
    [
      "an impedance in decibels",
      (p) => {
        p.drivers[0].impedance.columns = "db-degrees";
      },
      /impedance\.columns of "woofer" must be one of "ohm-degrees", "re-im", got "db-degrees"/,
      /"ohm-degrees"/,
    ],
    [
      "the whole driven at terminals",
      (p) => p.measurements.push({ ...p.measurements[0], of: "loudspeaker" }),
      /measurements\[2\]\.drive\.at of "loudspeaker" must be "input"/,
      /amplifier without load/,
    ],
    [
      "a drive through a network that lacks the driver",
      (p) => {
        p.networks.found.parts.splice(3);
        p.networks.found.parts.splice(1, 1);
        p.measurements[1].drive.at = "input";
      },
      /drive\.at of "tweeter" must be "terminals" for a driver that networks\.found doesn't hold/,
      /Add the driver/,
    ],
    [
      "a time zero that says nothing",
      (p) => {
        p.measurements[0].timeZero = {};
      },
      /timeZero of "woofer" must have either "common" or "delay"/,
      /\{ "common": true \}/,
    ],
    [
      "a time zero that says two things",
      (p) => {
        p.measurements[0].timeZero = { common: true, delay: 0 };
      },
      /timeZero of "woofer" must have either/,
      /./,
    ],
    [
      "files without phase",
      (p) => {
        p.measurements[0].columns = "db";
      },
      /columns of "woofer" is "db", so that the files hold no phase/,
      /"minimumPhase": true and "timeZero": \{ "delay"/,
    ],
    [
      "a minimum phase without a delay",
      (p) => Object.assign(p.measurements[0], { columns: "db", minimumPhase: true }),
      /timeZero of "woofer" must state a delay/,
      /"timeZero": \{ "delay": "2\.9 ms" \}/,
    ],
    [
      "a minimum phase of files with phase",
      (p) => {
        p.measurements[0].minimumPhase = true;
      },
      /minimumPhase of "woofer" must be false/,
      /"columns": "db"/,
    ],
    [
      "slopes without minimum phase",
      (p) => {
        p.measurements[0].slopes = { low: 12 };
      },
      /slopes of "woofer" has a meaning only with "minimumPhase"/,
      /Remove/,
    ],
    [
      "one delay for different ways",
      (p) =>
        Object.assign(p.measurements[0], {
          columns: "db",
          minimumPhase: true,
          timeZero: { delay: 0.003 },
          files: [0, 30].map((elevation) => ({ azimuth: 0, elevation, file: "a.txt" })),
        }),
      /timeZero\.delay of "woofer" is one delay for places .*(mm|cm)/,
      /each file its own "delay"/,
    ],
    [
      "a file's delay beside a common time zero",
      (p) => {
        p.measurements[0].files[0].delay = 0;
      },
      /delay of "woofer" has a meaning only where "timeZero" states a delay/,
      /./,
    ],
    [
      "a place measured twice",
      (p) => p.measurements[0].files.push({ azimuth: 0, elevation: 0, file: "b.txt" }),
      /files\[1\] of "woofer" is of the same place as measurements\[0\]\.files\[0\]/,
      /Keep one/,
    ],
    [
      "a band upside down",
      (p) => {
        p.measurements[0].trusted = { from: 20000, to: 100 };
      },
      /trusted of "woofer" must have "from" below "to"/,
      /Exchange/,
    ],
    [
      "a trusted band below the gate's limit",
      (p) => Object.assign(p.measurements[0], { gate: { length: "2 ms" } }),
      /trusted\.from of "woofer" is 100 Hz, but a gate of 2 ms leaves no data below 1\/T = 500 Hz/,
      /longer gate/,
    ],
    [
      "a gate too short for what is to be assessed",
      (p) =>
        Object.assign(p, { goal: { band: { from: 300, to: 10000 } } })
        && Object.assign(p.measurements[0], { gate: { length: "2 ms" }, trusted: { from: 500, to: 20000 } }),
      /gate\.length of "woofer" is too short for goal\.band, which begins at 300 Hz/,
      /goal\.band\.from/,
    ],
    [
      "a smoothing that isn't known",
      (p) => {
        p.measurements[0].smoothing = "a bit";
      },
      /smoothing of "woofer" must be "none" or a width such as "1\/24 octave", got "a bit"/,
      /smoothed/,
    ],
    [
      "an angle out of range",
      (p) => {
        p.measurements[0].files[0].azimuth = 270;
      },
      /azimuth of "woofer" must be a finite number at least -180 degrees and at most 180 degrees, got 270/,
      /number/,
    ],
    [
      "an absolute path",
      (p) => {
        p.measurements[0].files[0].file = "/data/a.txt";
      },
      /file of "woofer" must be a relative path, .*got "\/data\/a\.txt"/,
      /project's folder/,
    ],
    [
      "the path of another drive",
      (p) => {
        p.measurements[0].files[0].file = "C:/a.txt";
      },
      /must be a relative path/,
      /project's folder/,
    ],
    [
      "an address",
      (p) => {
        p.measurements[0].files[0].file = "https:a.txt";
      },
      /must be a relative path, neither absolute nor an address/,
      /project's folder/,
    ],
    [
      "backslashes",
      (p) => {
        p.measurements[0].files[0].file = "data\\a.txt";
      },
      /must be a path with forward slashes/,
      /Write \//,
    ],
    [
      "a path out of the folder",
      (p) => {
        p.measurements[0].files[0].file = "data/../../a.txt";
      },
      /must be a path that stays within the project file's folder, got "data\/\.\.\/\.\.\/a\.txt"/,
      /project's folder/,
    ],
    [
      "a path that ends in a folder",
      (p) => {
        p.measurements[0].files[0].file = "data/";
      },
      /must be the path of a file/,
      /project's folder/,
    ],
    [
      "no files",
      (p) => {
        p.measurements[0].files = [];
      },
      /files of "woofer" must have at least 1 entry, got 0/,
      /List the measured files/,
    ],
    [
      "text in place of an object",
      (p) => {
        p.amplifier = "good";
      },
      /amplifier must be an object \{ … \}, got "good"/,
      /"outputResistance"/,
    ],
    [
      "text in place of a choice",
      (p) => {
        p.measurements[0].minimumPhase = "no";
      },
      /minimumPhase of "woofer" must be true or false, got "no"/,
      /project-file\.md/,
    ],
    [
      "null",
      (p) => {
        p.drivers = null;
      },
      /drivers must be a list \[ … \], got null/,
      /List the drivers/,
    ],
  ];
  it.each(wrong)("refuses %s", async (_what, change, message, hint) => {
    const error = await ofProject(change);
    if (error.issues.length > 1 && error.message.includes("can't be solved"))
      expect(error.issues.every((issue) => issue.code === "invalid-project")).toBe(true);
    else oneClearIssue(error, "invalid-project");
    expect(error.message).not.toMatch(raw);
    expect(error.message).toMatch(message);
    expect(error.message).toMatch(hint);
    expect(error.issues[0]!.file).toBe("monitor.json");
  });

  it("refuses what is no object", async () => {
    oneClearIssue(await refusal(() => parseProject("[1]")), "invalid-project", /project:1: the project must be an object/);
  });

  it("names the line of the value, or of what it is missing from", async () => {
    const text = JSON.stringify(projectData(), null, 2);
    const lineWith = (part: string): number => text.slice(0, text.indexOf(part)).split("\n").length;
    const wrongValue = await refusal(() => parseProject(text.replace('"10 µF"', '"10 mH"'), { file: "p.json" }));
    expect(wrongValue.issues[0]).toMatchObject({ file: "p.json", line: lineWith("10 µF"), parts: ["C1"] });
    const missingValue = await refusal(() => parseProject(text.replace('"role": "tweeter"', '"sameAs": null'), { file: "p.json" }));
    expect(missingValue.issues[0]!.line).toBe(lineWith('"role": "tweeter"'));
    const nothing = await refusal(() => parseProject("{\n\n}", { file: "p.json" }));
    expect(nothing.issues.every(({ line }) => line === 1)).toBe(true);
  });

  it("lists what is wrong, at most twenty things and how many more there are", async () => {
    const error = await ofProject((p) => {
      p.networks.found.parts = Array.from({ length: 30 }, (_, i) => ({
        name: `R${i}`,
        kind: "resistor",
        resistance: -i - 1,
        nodes: ["in", "gnd"],
      }));
    });
    expect(error.issues).toHaveLength(21);
    expect(error.issues[20]!.message).toBe("and 10 more");
  });

  it("pollutes no prototype", async () => {
    await refusal(() => parseProject('{ "__proto__": { "polluted": true }, "version": 1 }'));
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
    const data = projectData();
    for (const which of ["found", "proposed"]) {
      data.networks[which].parts[0].name = "constructor";
      data.networks[which].parts[1].name = "toString";
    }
    const { found } = await load(data);
    expect(Object.keys(found.network)).toEqual(["constructor", "toString", "woofer", "tweeter"]);
    expect(Number.isFinite(predict(found).places[0]!.sum.re[0])).toBe(true);
  });
});

describe("measured files", () => {
  it("a missing file is named with the place that names it", async () => {
    const data = projectData();
    data.measurements[0].files[0].file = "data/wofer.txt";
    const error = await refusal(() => load(data));
    oneClearIssue(
      error,
      "missing-file",
      /readProject: data\/wofer\.txt: .*ENOENT.*\(woofer, measurements\[0\]\.files\[0\]\)/,
      /capitals count/,
    );
    expect(error.issues[0]).toMatchObject({ file: "data/wofer.txt", parts: ["woofer"] });
  });

  it("several files are all named", async () => {
    const error = await ofFiles({ "data/woofer.txt": "", "data/tweeter.txt": "100 1\n" });
    expect(error.code).toBe("invalid-measurement");
    expect(error.issues.map(({ file }) => file)).toEqual(["data/woofer.txt", "data/tweeter.txt"]);
  });

  const rows = (line: string): string => `100 1 0\n200 1 0\n${line}\n20000 1 0\n25600 1 0\n`;
  const cases: readonly (readonly [what: string, text: string, code: string, message: RegExp])[] = [
    ["an empty file", "", "empty-file", /data\/woofer\.txt: .*lines of numbers/],
    ["a file of words", "no numbers\nat all\n", "empty-file", /data\/woofer\.txt/],
    ["text in a number column", rows("300 loud 0"), "not-a-number", /data\/woofer\.txt:3: .*"loud"/],
    ["NaN", rows("300 NaN 0"), "not-a-number", /data\/woofer\.txt:3: .*"NaN"/],
    ["Infinity", rows("300 1 Infinity"), "not-a-number", /data\/woofer\.txt:3: .*"Infinity"/],
    ["a number beyond a double", rows("300 1 1e999"), "number-out-of-range", /data\/woofer\.txt:3: /],
    ["a frequency of zero", "0 1 0\n100 1 0\n25600 1 0\n", "frequency-not-positive", /data\/woofer\.txt:1: a frequency must be above 0 Hz/],
    ["a negative frequency", "-5 1 0\n100 1 0\n25600 1 0\n", "frequency-not-positive", /data\/woofer\.txt:1: /],
    ["descending order", "25600 1 0\n1000 1 0\n100 1 0\n", "unsorted-frequencies", /data\/woofer\.txt:2: .*descending/],
    ["a frequency twice", rows("200 1 0"), "duplicate-frequency", /data\/woofer\.txt:3: /],
    ["a missing column", rows("300 1"), "too-few-columns", /data\/woofer\.txt:3: /],
  ];
  it.each(cases)("refuses %s with file, line and what to do", async (_what, text, code, message) => {
    const error = await ofFiles({ "data/woofer.txt": text });
    oneClearIssue(error, code, message, /\(woofer, measurements\[0\]\.files\[0\]\)/);
    expect(error.issues[0]).toMatchObject({ file: "data/woofer.txt", parts: ["woofer"] });
  });

  it("refuses five million lines", async () => {
    oneClearIssue(await ofFiles({ "data/woofer.txt": "1 2 3\n".repeat(5_000_000) }), "file-too-large", /data\/woofer\.txt: .*lines/);
  });

  it("refuses what is no text", async () => {
    oneClearIssue(
      await ofFiles({ "data/woofer.txt": 5 as unknown as string }),
      "unreadable-file",
      /data\/woofer\.txt: .*must give the file's text, got 5/,
    );
  });

  it("refuses an impedance without a resistance above zero", async () => {
    oneClearIssue(
      await ofFiles({ "data/woofer-z.txt": reIm(() => ({ re: -1, im: 0 })) }),
      "invalid-response",
      /data\/woofer-z\.txt: .*real part above 0 Ω.*\(woofer, drivers\[0\]\.impedance\)/,
    );
  });

  it("refuses a file that reaches less far than the band to be assessed, the impedance's as well", async () => {
    const narrow = [200, 1000, 5000];
    oneClearIssue(
      await ofFiles({ "data/woofer-z.txt": reIm(() => ({ re: 6, im: 0 }), narrow) }, (p) => {
        p.goal = { band: { from: 300, to: 10000 } };
      }),
      "band-too-narrow",
      /data\/woofer-z\.txt: the file reaches from 200 Hz to 5 kHz, but "goal\.band" asks for 300 Hz to 10 kHz \(woofer, drivers\[0\]\.impedance\)/,
    );
  });

  it("refuses a trusted band that wasn't measured", async () => {
    oneClearIssue(
      await ofFiles({ "data/woofer.txt": reIm(wooferPressure, [200, 1000, 5000]) }),
      "trusted-not-measured",
      /data\/woofer\.txt: the file reaches from 200 Hz to 5 kHz, but is said to be trusted from 100 Hz to 20 kHz/,
    );
  });

  it("refuses a prediction beyond the measured band, naming the file", async () => {
    const { found } = await load(projectData());
    const error = await refusal(() => predict(found, { frequencies: [50, 1000] }));
    expect(error.message).toMatch(/100 Hz/);
    const short = {
      ...projectFiles(),
      "data/woofer.txt": reIm(
        wooferPressure,
        Array.from({ length: 200 }, (_, i) => 110 + 110 * i),
      ),
    };
    const data = projectData();
    data.measurements[0].trusted = { from: 110, to: 20000 };
    const other = await refusal(async () => predict((await load(data, short)).found, { frequencies: [105, 1000] }));
    expect(other.message).toMatch(/data\/woofer\.txt/);
    expect(other.message).toMatch(/110 Hz/);
  });

  it("refuses to sum responses without a common time zero, naming file and driver", async () => {
    const data = projectData();
    data.measurements[0].timeZero = { common: false };
    const { found, notes } = await load(data);
    expect(notes.map(({ code }) => code)).toEqual(["no-common-time-zero"]);
    const error = await refusal(() => predict(found));
    expect(error.code).toBe("no-common-time-zero");
    expect(error.message).toMatch(/data\/woofer\.txt \(woofer\).*State its delay/);
  });

  it("asks for the fall beyond gated data without phase, in the words of the project file", async () => {
    const error = await ofFiles({ "data/woofer.txt": "100 80\n200 80\n300 80\n400 80\n600 80\n1000 80\n5000 80\n25600 60\n" }, (p) =>
      Object.assign(p.measurements[0], {
        columns: "db",
        minimumPhase: true,
        timeZero: { delay: 0.0029 },
        gate: { length: "4 ms" },
        trusted: { from: 250, to: 20000 },
      }),
    );
    oneClearIssue(error, "missing-tail", /data\/woofer\.txt: /, /"slopes".*\{ "low": 12 \} for a closed box/);
  });

  it("asks for the impedances over the whole band of a pressure measured through the network", async () => {
    const error = await ofFiles({ "data/tweeter-z.txt": reIm(() => ({ re: 5, im: 0 }), [200, 1000, 30000]) }, (p) => {
      p.measurements[1].drive.at = "input";
    });
    oneClearIssue(
      error,
      "outside-measured-band",
      /data\/tweeter\.txt: .*200 Hz.*\(tweeter, measurements\[1\]\.files\[0\]\)/,
      /impedances of all drivers/,
    );
  });

  it("asks for a pressure of a driver that has none, before any file is read", async () => {
    const data = projectData();
    data.measurements.pop();
    const error = await refusal(() => load(data, {}));
    oneClearIssue(
      error,
      "missing-measurement",
      /monitor\.json: drivers\[1\] of "tweeter" has no measured pressure/,
      /"of": "tweeter", "quantity": "pressure"/,
    );
  });
});
