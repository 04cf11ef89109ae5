// Tests src/errors/: said-by.ts
// Tests src/network/: same-data.ts
// Tests src/network/json/: entry-json.ts, network-from-json.ts, network-to-json.ts, read-part-json.ts, write-part-json.ts
// Tests src/parts/: json-kinds.ts
// Networks as JSON: what is written is read back, bit for bit; what is wrong is said with its place.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "dividing-network/errors";
import { fragment, network, networkFromJSON, networkToJSON, solve, type Entries, type NetworkJSON } from "dividing-network/network";
import { readPartJSON, writePartJSON } from "../../src/network/internal";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { arbitraryNetwork } from "../support/arbitrary-network";
import { randomNetwork, seeded } from "../support/random-network";

const curve = frequencyResponse([20, 200, 20000], [6.1, 1 / 3 + 5, 7], [0.1, -2, Math.PI], [{ kind: "smoothed", note: "1/24 octave" }]);
const everyKind = network({
  R1: [resistor(0.1 + 0.2), "in", "a"],
  L1: [inductor("0.47 mH"), "a", "b"],
  L2: [inductor(1 / 3e3, { dcr: "0.24 Ω" }), "b", "c"],
  K1: [coupling(-1 / 7), "L1", "L2"],
  C1: [capacitor("6.8 µF"), "c", "gnd"],
  C2: [capacitor(Math.PI * 1e-6, { esr: "15 mΩ" }), "c", "gnd"],
  C3: [capacitor(1e-6, { dissipationFactor: 0.1 / 3 }), "c", "gnd"],
  P1: [lPad({ attenuationDb: 10 / 3, load: 7.77 }), "c", "d", "gnd"],
  T1: [transformer({ ratio: -1 / 3 }), "c", "gnd", "e", "gnd"],
  T2: [transformer({ primaryInductance: 0.01, secondaryInductance: 1 / 300, k: 0 }), "c", "gnd", "f", "gnd"],
  T3: [
    transformer({ primaryInductance: 0.01, secondaryInductance: 1 / 300, k: 0.99, primaryResistance: 0.3, secondaryResistance: 0.7 }),
    "c",
    "gnd",
    "g",
    "gnd",
  ],
  plain: [driverImpedance({ re: "5.1 Ω" }), "d", "gnd"],
  lossy: [driverImpedance({ re: 5 + 1e-15, le: 45e-6, re2: 3.3, le2: 1 / 7e3, fs: 820.1, qms: 2.1, qes: 1.4 }), "e", "gnd"],
  power: [driverImpedance({ re: 5.1, k: 0.02 / 3, n: 0.7 }), "f", "gnd"],
  measured: [driverImpedance(curve), "g", "gnd"],
  twin: [driverImpedance(curve), "g", "gnd"],
});

const throughText = (json: unknown): unknown => JSON.parse(JSON.stringify(json));
const failure = (step: () => unknown): DividingNetworkError => {
  try {
    step();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
};
const wrongPart = (part: unknown): DividingNetworkError =>
  failure(() => networkFromJSON({ parts: [{ name: "R0", kind: "resistor", resistance: 8, nodes: ["in", "gnd"] }, part] }));

describe("a network through JSON", () => {
  it("comes back equal, every kind of part", () => {
    const again = networkFromJSON(throughText(networkToJSON(everyKind)));
    expect(again).toEqual(everyKind);
    expect(Object.keys(again)).toEqual(Object.keys(everyKind));
    expect(Object.isFrozen(again) && Object.isFrozen(again["L2"]) && Object.isFrozen(again["L2"]![0])).toBe(true);
  });

  it("answers as the one that was written, to the last bit", () => {
    const grid = [20, 333, 20000];
    const [before, after] = [everyKind as Entries, networkFromJSON(throughText(networkToJSON(everyKind)))].map((each) => solve(each, grid));
    expect(after!.impedance).toEqual(before!.impedance);
    expect(after!.current("lossy")).toEqual(before!.current("lossy"));
  });

  it("is written as people write it: parts in their order, values with their units, no zero that may be left out", () => {
    const { parts } = networkToJSON(everyKind);
    expect(parts[1]).toEqual({ name: "L1", kind: "inductor", inductance: "0.47 mH", nodes: ["a", "b"] });
    expect(parts[3]).toEqual({ name: "K1", kind: "coupling", k: -1 / 7, coils: ["L1", "L2"] });
    expect(parts[5]).toMatchObject({ esr: "15 mΩ" });
    expect(parts.find(({ name }) => name === "plain")).toEqual({ name: "plain", kind: "driver", re: "5.1 Ω", nodes: ["d", "gnd"] });
    expect(parts[0]).toMatchObject({ resistance: "0.30000000000000004 Ω" });
  });

  it("loses no bit of any value", () => {
    const value = fc.double({ min: 1e-28, max: 1e28, noNaN: true });
    fc.assert(
      fc.property(value, value, uniform(-0.999, 0.999), (size, loss, k) => {
        const given = network({
          R1: [resistor(size), "in", "a"],
          L1: [inductor(size, { dcr: loss }), "a", "gnd"],
          L2: [inductor(size), "a", "gnd"],
          K1: [coupling(k), "L1", "L2"],
          C1: [capacitor(size, { esr: loss }), "a", "gnd"],
          D1: [driverImpedance({ re: size, le: loss, fs: size, qms: loss, qes: size, k: loss, n: 0.5 + k / 3 }), "a", "gnd"],
        });
        const again = networkFromJSON(throughText(networkToJSON(given)));
        expect(again).toEqual(given);
      }),
      { numRuns: cases(300) },
    );
  });

  it("comes back equal from seeded networks of any topology", () => {
    for (let seed = 1; seed <= 60; seed++) {
      const random = seeded(seed);
      const given = network(randomNetwork(random, { nodes: 1 + (seed % 9), loss: 0.5, couplings: seed % 4 }));
      expect(networkFromJSON(throughText(networkToJSON(given))), `seed ${seed}`).toEqual(given);
    }
  });

  it("comes back equal from arbitrary networks, coupled ones among them", () => {
    fc.assert(
      fc.property(arbitraryNetwork({ coupled: true }), (entries) => {
        const json = networkToJSON(entries);
        const again = networkFromJSON(throughText(json));
        expect(again).toEqual(entries);
        expect(networkToJSON(again)).toEqual(json);
      }),
      { numRuns: cases(200) },
    );
  });

  it("keeps names that have a meaning to programs", () => {
    const odd = network(
      Object.fromEntries([
        ["__proto__", [resistor(1), "in", "constructor"]],
        ["toString", [resistor(2), "constructor", "gnd"]],
        ["", [resistor(3), "in", "gnd"]],
      ]) as Entries,
    );
    const again = networkFromJSON(throughText(networkToJSON(odd)));
    expect(Object.keys(again)).toEqual(["__proto__", "toString", ""]);
    expect(Object.getOwnPropertyDescriptor(again, "__proto__")!.value).toEqual([{ kind: "resistor", resistance: 1 }, "in", "constructor"]);
  });
});

describe("measured drivers in JSON", () => {
  it("name their data, which are written once beside the parts", () => {
    const json = networkToJSON(everyKind);
    expect(json.parts.filter((part) => part.kind === "driver" && part.response !== undefined)).toEqual([
      { name: "measured", kind: "driver", response: "measured", nodes: ["g", "gnd"] },
      { name: "twin", kind: "driver", response: "measured", nodes: ["g", "gnd"] },
    ]);
    expect(Object.keys(json.responses!)).toEqual(["measured"]);
  });

  it("take data that are kept elsewhere, in both directions", () => {
    const responses = { cone: curve };
    const json = networkToJSON(everyKind, { responses });
    expect(json.responses).toBeUndefined();
    expect(json.parts.at(-1)).toMatchObject({ response: "cone" });
    expect(networkFromJSON(throughText(json), { responses })).toEqual(everyKind);
  });

  it("get another name where theirs is taken by other data", () => {
    const other = frequencyResponse([20, 20000], [5, 5], [0, 0]);
    const json = networkToJSON({ measured: [driverImpedance(curve), "in", "gnd"] }, { responses: { measured: other } });
    expect(json.parts[0]).toMatchObject({ response: "measured 2" });
    expect(networkFromJSON(throughText(json), { responses: { measured: other } })).toEqual({
      measured: [{ kind: "driver", response: curve }, "in", "gnd"],
    });
  });

  it("are refused without their data, with two, and with data that no driver has", () => {
    const json = networkToJSON({ cone: [driverImpedance(curve), "in", "gnd"] });
    expect(failure(() => networkFromJSON({ parts: json.parts })).message).toMatch(
      /parts\[0\]\.response of "cone" must name a measured impedance, got "cone"/,
    );
    expect(failure(() => networkFromJSON(json, { responses: { cone: curve } })).message).toMatch(
      /responses\["cone"\] is given as an option too/,
    );
    const negative = frequencyResponse([20, 20000], [-5, 5], [0, 0]);
    expect(failure(() => networkFromJSON({ parts: json.parts }, { responses: { cone: negative } })).message).toMatch(
      /parts\[0\]\.response of "cone" can't be a driver's impedance: .*real part above 0/,
    );
    expect(failure(() => networkFromJSON({ ...json, responses: { cone: { frequencies: [1], re: ["1"], im: [0] } } })).message).toMatch(
      /responses\["cone"\]: "re" must be an array of numbers/,
    );
  });
});

describe("what networkFromJSON refuses, and how it says so", () => {
  it.each<[string, unknown, RegExp]>([
    [
      "a missing value",
      { name: "C1", kind: "capacitor", nodes: ["in", "gnd"] },
      /parts\[1\]\.capacitance of "C1" is missing\. Write a number in F, or text with its unit/,
    ],
    [
      "a wrong unit",
      { name: "L1", kind: "inductor", inductance: "6.8 µF", nodes: ["in", "gnd"] },
      /parts\[1\]\.inductance of "L1" must be an inductance/,
    ],
    [
      "a value out of range",
      { name: "R1", kind: "resistor", resistance: -1, nodes: ["in", "gnd"] },
      /parts\[1\]\.resistance of "R1" must be a finite number at least 0 Ω, got -1/,
    ],
    [
      "an unknown key",
      { name: "R1", kind: "resistor", resistance: 1, esl: 0, nodes: ["in", "gnd"] },
      /parts\[1\]\.esl of "R1" isn't a known key\. Known keys are "name", "kind", "resistance", "power", "tolerance", "nodes"/,
    ],
    [
      "an unknown kind",
      { name: "R1", kind: "coil", nodes: ["in", "gnd"] },
      /parts\[1\]\.kind of "R1" must be one of "resistor", .*got "coil"/,
    ],
    ["no kind", { name: "R1", nodes: ["in", "gnd"] }, /parts\[1\]\.kind of "R1" is missing/],
    [
      "too few nodes",
      { name: "R1", kind: "resistor", resistance: 1, nodes: ["in"] },
      /parts\[1\]\.nodes of "R1" must have exactly 2 entries, got 1/,
    ],
    [
      "a node that is no text",
      { name: "R1", kind: "resistor", resistance: 1, nodes: ["in", 3] },
      /parts\[1\]\.nodes\[1\] of "R1" must be a text, got 3/,
    ],
    [
      "a name given twice",
      { name: "R0", kind: "resistor", resistance: 1, nodes: ["in", "gnd"] },
      /parts\[1\]\.name of "R0" stands already at parts\[0\]/,
    ],
    ["no name", { kind: "resistor", resistance: 1, nodes: ["in", "gnd"] }, /parts\[1\]\.name is missing/],
    [
      "two descriptions of one loss",
      { name: "C1", kind: "capacitor", capacitance: 1e-6, esr: 1, dissipationFactor: 0.1, nodes: ["in", "gnd"] },
      /parts\[1\] of "C1" isn't a capacitor that can be made: "esr" and "dissipationFactor"/,
    ],
    ["a driver of which nothing is known", { name: "D1", kind: "driver", nodes: ["in", "gnd"] }, /parts\[1\] of "D1" must have "re"/],
    [
      "a driver both measured and by parameters",
      { name: "D1", kind: "driver", re: 5, response: "x", nodes: ["in", "gnd"] },
      /parts\[1\] of "D1" has "response" and "re"/,
    ],
    [
      "a driver with half a resonance",
      { name: "D1", kind: "driver", re: 5, fs: 50, nodes: ["in", "gnd"] },
      /isn't a driver that can be made: "fs" needs "qms", "qes"/,
    ],
    [
      "a transformer without values",
      { name: "T1", kind: "transformer", nodes: ["in", "gnd", "a", "gnd"] },
      /must have "ratio", or two windings/,
    ],
    ["a part that is no object", "R1", /parts\[1\] must be an object \{ … \}, got "R1"/],
  ])("%s", (_title, part, message) => {
    const error = wrongPart(part);
    expect(error.code).toBe("invalid-network-json");
    expect(error.message).toMatch(message);
    expect(error.issues).toHaveLength(1);
  });

  it("lists all that is wrong at once", () => {
    const parts = [
      { name: "R1", kind: "resistor", nodes: ["in"] },
      { name: "C1", kind: "capacitor", capacitance: 0, nodes: ["in", "gnd"] },
    ];
    expect(failure(() => networkFromJSON({ parts, part: 1 })).issues.map(({ message }) => message.split(" ")[0])).toEqual([
      "the",
      "parts[0].resistance",
      "parts[0].nodes",
      "parts[1].capacitance",
    ]);
  });

  it("refuses what is no network at all, and a network that can't be solved", () => {
    for (const json of [null, 3, "{}", [], {}, { parts: {} }, { parts: [], responses: [] }])
      expect(() => networkFromJSON(json)).toThrow(DividingNetworkError);
    expect(failure(() => networkFromJSON({ parts: [{ name: "R1", kind: "resistor", resistance: 1, nodes: ["a", "gnd"] }] })).code).toBe(
      "invalid-network",
    );
    expect(() => networkToJSON(fragment({ R1: [resistor(1), "a", "b"] }))).toThrow(/network/);
  });

  it("throws nothing but its own error for any JSON", () => {
    const key = fc.constantFrom("name", "kind", "nodes", "coils", "resistance", "re", "response", "k", "__proto__");
    const value = fc.oneof(
      fc.constantFrom("resistor", "driver", "coupling", "in", "gnd", "1 Ω", "__proto__", -0, null),
      fc.jsonValue({ maxDepth: 1 }),
      fc.constant(["in", "gnd"]),
    );
    const part = fc.oneof(
      fc.jsonValue({ maxDepth: 1 }),
      fc.array(fc.tuple(key, value)).map((pairs) => Object.fromEntries(pairs) as unknown),
    );
    fc.assert(
      fc.property(fc.array(part), (parts) => {
        try {
          networkFromJSON({ parts });
        } catch (error) {
          expect(error, String(error)).toBeInstanceOf(DividingNetworkError);
        }
      }),
      { numRuns: cases(500) },
    );
  });
});

describe("a part that no constructor makes", () => {
  it("is refused by networkToJSON rather than written as another", () => {
    const pad = { ...lPad({ attenuationDb: 6, load: 8 }), series: 3 };
    expect(failure(() => networkToJSON({ P1: [pad, "in", "a", "gnd"], R1: [resistor(8), "a", "gnd"] })).code).toBe("unwritable-part");
  });
});

describe("one part in JSON", () => {
  it("is read into SI, and written back in the same text", () => {
    const json = {
      name: "T",
      kind: "transformer",
      primaryInductance: "10 mH",
      secondaryInductance: "2 mH",
      k: 0.99,
      primaryResistance: "1 Ω",
      nodes: ["in", "gnd", "a", "gnd"],
    };
    const { part } = readPartJSON(json);
    expect(part).toEqual({ ...json, primaryInductance: 0.01, secondaryInductance: 0.002, primaryResistance: 1 });
    expect(writePartJSON(part!)).toEqual(json);
  });

  it("changes nothing of what it is given", () => {
    const json: NetworkJSON = Object.freeze({
      parts: Object.freeze([
        Object.freeze({ name: "R1", kind: "resistor" as const, resistance: "4R7", nodes: Object.freeze(["in", "gnd"]) }),
      ]),
    });
    expect(networkFromJSON(json)).toEqual({ R1: [{ kind: "resistor", resistance: 4.7 }, "in", "gnd"] });
  });
});
