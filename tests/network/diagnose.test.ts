// Tests src/network/: check-entries.ts, coupled-coils.ts, join.ts, positive-definite.ts, state.ts
// Tests src/numeric/: union-find.ts
// Wrong networks are refused in words that name the node and the part, with a code for programs and a hint for people;
// nothing that is given, however odd, gets anything but the library's own error out of the library.
import { DividingNetworkError } from "dividing-network/errors";
import { compile, diagnose, fragment, join, network, solve, type Entries, type NetworkIssue } from "dividing-network/network";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";

const r = resistor(8);
/** Entries as they come from a place that the compiler doesn't see. */
const given = (entries: unknown): Entries => entries as Entries;

function refused(work: () => unknown): DividingNetworkError {
  try {
    work();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}

/** The errors of a network, each with a code, a sentence and a hint, and the same from every door of the solver. */
function errorsOf(entries: unknown): readonly NetworkIssue[] {
  const issues = diagnose(given(entries)).filter(({ severity }) => severity === "error");
  for (const door of [() => network(given(entries) as never), () => solve(given(entries), [100]), () => compile(given(entries))]) {
    const error = refused(door);
    expect(error.issues.map(({ code }) => code)).toEqual(issues.map(({ code }) => code));
    for (const issue of issues) {
      expect(error.message).toContain(issue.message);
      expect(error.message).toContain(issue.hint);
      expect(issue.hint).not.toBe("");
      expect(issue.message).not.toContain(issue.hint);
    }
  }
  return issues;
}

describe("diagnose", () => {
  it("finds nothing wrong with a network that works", () => {
    expect(
      diagnose({
        C1: [capacitor("6.8 µF"), "in", "t"],
        L1: [inductor("0.3 mH"), "t", "gnd"],
        tweeter: [driverImpedance({ re: 5 }), "t", "gnd"],
      }),
    ).toEqual([]);
  });

  it("names each node without a path to gnd, and its parts", () => {
    const issues = errorsOf({ R1: [r, "in", "gnd"], L1: [inductor("1 mH"), "a", "b"], C1: [capacitor("1 µF"), "b", "a"] });
    expect(issues.map(({ code, node, parts }) => [code, node, parts])).toEqual([
      ["no-path-to-gnd", "a", ["L1", "C1"]],
      ["no-path-to-gnd", "b", ["L1", "C1"]],
    ]);
    expect(issues[0]!.message).toBe('node "a" has no path to "gnd"');
    expect(issues[0]!.hint).toContain("L1, C1");
  });

  it("asks for a path to gnd on the far side of a transformer too", () => {
    for (const part of [transformer({ ratio: 2 }), transformer({ primaryInductance: 1e-3, secondaryInductance: 1e-3, k: 0.9 })]) {
      const issues = errorsOf({ T1: [part, "in", "gnd", "s", "u"], R1: [r, "s", "u"] });
      expect(issues.map(({ code, node }) => [code, node])).toEqual([
        ["no-path-to-gnd", "s"],
        ["no-path-to-gnd", "u"],
      ]);
      expect(diagnose({ T1: [part, "in", "gnd", "s", "u"], R1: [r, "s", "u"], R2: [r, "u", "gnd"] })).toEqual([]);
    }
  });

  it("asks for a path to gnd at 0 Hz, where capacitors are open, only when 0 Hz is asked for", () => {
    const entries = { C1: [capacitor("1 µF"), "in", "m"], C2: [capacitor("1 µF"), "m", "gnd"] } as const;
    expect(diagnose(entries)).toEqual([]);
    const [issue] = diagnose(entries, { zeroFrequency: true });
    expect(issue).toMatchObject({ code: "no-path-to-gnd", node: "m", parts: ["C1", "C2"], severity: "error" });
    expect(issue!.message).toContain("zero frequency");
    expect(refused(() => solve(entries, [0, 100])).message).toContain(issue!.message);
    expect(diagnose({ C1: [capacitor("1 µF"), "in", "t"], tweeter: [r, "t", "gnd"] }, { zeroFrequency: true })).toEqual([]);
  });

  it("names the parts of a path that shorts the source, and no others", () => {
    const issues = errorsOf({
      R1: [r, "in", "gnd"],
      W1: [resistor(0), "in", "a"],
      W2: [inductor(0), "b", "a"],
      W3: [resistor(0), "gnd", "b"],
      W4: [resistor(0), "a", "d"],
      R2: [r, "d", "gnd"],
    });
    expect(issues).toHaveLength(1);
    expect(issues[0]).toMatchObject({ code: "shorted-source", node: "in", parts: ["W1", "W2", "W3"] });
    expect(issues[0]!.message).toContain('"W1", "W2", "W3" join "in" and "gnd" with 0 Ω');
    expect(errorsOf({ W1: [resistor(0), "gnd", "in"] })[0]).toMatchObject({ code: "shorted-source", parts: ["W1"] });
    expect(errorsOf({ P: [lPad({ attenuationDb: 0, load: 8 }), "in", "gnd", "x"], R1: [r, "x", "gnd"] })[0]).toMatchObject({
      code: "shorted-source",
      parts: ["P"],
    });
  });

  it("names a part whose ends are at one node", () => {
    expect(errorsOf({ R1: [r, "in", "gnd"], L9: [inductor("1 mH"), "in", "in"] })[0]).toMatchObject({
      code: "part-across-one-node",
      node: "in",
      parts: ["L9"],
    });
    expect(errorsOf({ R1: [r, "in", "gnd"], P1: [lPad({ attenuationDb: 3, load: 8 }), "in", "gnd", "gnd"] })[0]).toMatchObject({
      code: "part-across-one-node",
      node: "gnd",
      parts: ["P1"],
    });
    expect(errorsOf({ R1: [r, "in", "a"], R2: [r, "a", "gnd"], T1: [transformer({ ratio: 2 }), "in", "gnd", "a", "a"] })[0]).toMatchObject({
      code: "part-across-one-node",
      node: "a",
      parts: ["T1"],
    });
  });

  it("misses the amplifier's terminal and the return by name", () => {
    const codes = (entries: unknown) => errorsOf(entries).map(({ code }) => code);
    expect(codes({ R1: [r, "inn", "gnd"] })).toContain("no-input");
    expect(codes({ R1: [r, "in", "ground"] })).toContain("no-gnd");
    expect(codes({ R1: [r, "a", "b"] })).toEqual(["no-input", "no-gnd"]);
    expect(codes({})).toEqual(["empty-network"]);
    expect(codes({ K1: [coupling(0.1), "L1", "L2"] })).toEqual(["coupling-to-no-coil"]);
  });

  it("tells a name that is a part and a node", () => {
    expect(errorsOf({ a: [r, "in", "a"], R2: [r, "a", "gnd"] })[0]).toMatchObject({ code: "name-collision", node: "a", parts: ["a"] });
    expect(errorsOf({ gnd: [r, "in", "gnd"] })[0]).toMatchObject({ code: "name-collision", parts: ["gnd"] });
  });

  it("warns of an end where nothing else is connected, and lets it pass", () => {
    const dangling = { R1: [r, "in", "gnd"], L1: [inductor("1 mH"), "in", "wofer"] } as const;
    expect(diagnose(dangling)).toMatchObject([{ code: "open-end", node: "wofer", parts: ["L1"], severity: "warning" }]);
    expect(solve(dangling, [100]).voltage("wofer").re[0]).toBe(1);
    expect(solve(dangling, [100]).current("L1").re[0]).toBe(0);
  });

  it("lists everything that is wrong at once, in one error", () => {
    const error = refused(() => network(given({ a: [r, "in", "a"], R2: [r, "a", "a"], R3: [r, "x", "y"] }) as never));
    expect(error.code).toBe("invalid-network");
    expect(error.issues.map(({ code }) => code)).toEqual(["name-collision", "no-gnd", "part-across-one-node"]);
    expect(error.message).toContain("3 things are wrong");
  });

  it("refuses unknown and wrong options, and nothing else", () => {
    expect(refused(() => diagnose({ R1: [r, "in", "gnd"] }, { zeroFreqency: true } as never)).code).toBe("unknown-option");
    expect(refused(() => diagnose({ R1: [r, "in", "gnd"] }, { zeroFrequency: "yes" } as never)).code).toBe("invalid-argument");
    expect(refused(() => diagnose({ R1: [r, "in", "gnd"] }, null as never)).code).toBe("invalid-argument");
  });
});

describe("impossible couplings", () => {
  const coils = { L1: [inductor("1 mH"), "in", "a"], L2: [inductor("2 mH"), "a", "gnd"], L3: [inductor("3 mH"), "a", "gnd"] } as const;

  it("to something that is no coil are refused by name, with the coils that there are", () => {
    for (const [target, words] of [
      ["L9", "not there"],
      ["a", "not there"],
      ["R1", "a resistor"],
    ] as const) {
      const [issue] = errorsOf({ ...coils, R1: [r, "in", "gnd"], K1: [coupling(0.1), "L1", target] });
      expect(issue).toMatchObject({ code: "coupling-to-no-coil", parts: ["K1"] });
      expect(issue!.message).toContain(words);
      expect(issue!.hint).toContain("L1, L2, L3");
    }
    expect(errorsOf({ ...coils, K1: [coupling(0.1), "L1", "L1"] })[0]).toMatchObject({ code: "coupling-to-no-coil", parts: ["K1"] });
    expect(errorsOf({ ...coils, K1: [coupling(0.1), "L1", "L2", "L3"] })[0]).toMatchObject({ code: "coupling-to-no-coil", parts: ["K1"] });
    expect(errorsOf({ ...coils, K1: [coupling(0.1), "L1"] })[0]).toMatchObject({ code: "coupling-to-no-coil", parts: ["K1"] });
  });

  it("given twice, out of range, or of a coil of 0 H are refused", () => {
    expect(errorsOf({ ...coils, K1: [coupling(0.1), "L1", "L2"], K2: [coupling(0.2), "L2", "L1"] })[0]).toMatchObject({
      code: "coupled-twice",
      parts: ["K1", "K2"],
    });
    for (const k of [1, -1, 1.5, NaN, Infinity, "0.5", undefined, null]) {
      expect(errorsOf({ ...coils, K1: [{ kind: "coupling", k }, "L1", "L2"] })[0]).toMatchObject({
        code: "coupling-factor",
        parts: ["K1"],
      });
    }
    expect(errorsOf({ ...coils, L4: [inductor(0, { dcr: 1 }), "a", "gnd"], K1: [coupling(0.1), "L1", "L4"] })[0]).toMatchObject({
      code: "coupling-factor",
      parts: ["K1", "L4"],
    });
  });

  it("that together would store negative energy are refused with the couplings that do", () => {
    const [issue] = errorsOf({
      ...coils,
      K1: [coupling(0.9), "L1", "L2"],
      K2: [coupling(0.9), "L2", "L3"],
      K3: [coupling(-0.5), "L1", "L3"],
    });
    expect(issue).toMatchObject({ code: "inductance-matrix", parts: ["K1", "K2", "K3"] });
    expect(issue!.message).toContain("negative energy");
    expect(
      diagnose({ ...coils, K1: [coupling(0.9), "L1", "L2"], K2: [coupling(0.9), "L2", "L3"], K3: [coupling(0.8), "L1", "L3"] }),
    ).toEqual([]);
  });
});

describe("malformed entries", () => {
  it.each([
    ["no array", "R1"],
    ["a number", 3],
    ["null", null],
    ["an empty array", []],
    ["a part alone", [r]],
    ["a node that is no text", [r, "in", 0]],
    ["a node without a name", [r, "in", ""]],
    ["a hole for a node", [r, , "gnd"]],
    ["an array without end", new Array(2 ** 32 - 1)],
  ])("%s for an entry are refused by designator", (_, entry) => {
    const [issue] = errorsOf({ R1: entry });
    expect(issue).toMatchObject({ code: "malformed-network", parts: ["R1"] });
    expect(issue!.message).toContain('"R1"');
  });

  it("with too few or too many nodes are told how many terminals the part has", () => {
    expect(errorsOf({ R1: [r, "in"] })[0]!.message).toBe('"R1" has 2 terminals, got 1 nodes (in)');
    expect(errorsOf({ P1: [lPad({ attenuationDb: 3, load: 8 }), "in", "gnd"] })[0]!.message).toContain("3 terminals");
    expect(errorsOf({ T1: [transformer({ ratio: 2 }), "in", "gnd", "s"] })[0]!.message).toContain("4 terminals");
  });

  it.each([
    ["nothing", undefined],
    ["null", null],
    ["text", "resistor"],
    ["a function", resistor],
    ["an unknown kind", { kind: "diode" }],
    ["an inherited kind", { kind: "toString" }],
    ["a kind that is no text", { kind: ["resistor"] }],
  ])("with %s for a part are refused by designator", (_, part) => {
    expect(errorsOf({ X1: [part, "in", "gnd"] })[0]).toMatchObject({ code: "unknown-part", parts: ["X1"] });
  });

  it("as something other than a plain object are refused", () => {
    for (const entries of [
      undefined,
      null,
      1,
      "R1",
      [],
      [[r, "in", "gnd"]],
      new Map([["R1", [r, "in", "gnd"]]]),
      new Date(),
      () => ({ R1: [r, "in", "gnd"] }),
    ]) {
      expect(errorsOf(entries)[0]).toMatchObject({ code: "malformed-network" });
    }
    // A part that is written to the prototype would silently not be there.
    expect(errorsOf({ __proto__: [r, "in", "gnd"], R1: [r, "in", "gnd"] })[0]).toMatchObject({ code: "malformed-network" });
  });

  it("are refused by fragment and join too", () => {
    for (const work of [
      () => fragment(null as never),
      () => fragment({ R1: null } as never),
      () => join({} as never, 3 as never),
      () => join([] as never, {} as never),
    ]) {
      expect(refused(work).code).toBe("malformed-network");
    }
  });

  it("more than a solver can number are refused instead of taking for ever", () => {
    const chain = Object.fromEntries(Array.from({ length: 3000 }, (_, i) => [`R${i}`, [r, i === 0 ? "in" : `n${i - 1}`, `n${i}`]]));
    expect(errorsOf({ ...chain, R: [r, "n2999", "gnd"] })[0]!.code).toBe("too-many-nodes");
  });
});

describe("hand-made parts", () => {
  const bad = [NaN, Infinity, -Infinity, -1, 1e-200, 1e200, "8", null, undefined, 8n, Symbol("8"), [8]];

  it.each([
    ["resistance", (value: unknown) => ({ kind: "resistor", resistance: value })],
    ["inductance", (value: unknown) => ({ kind: "inductor", inductance: value, dcr: 0 })],
    ["dcr", (value: unknown) => ({ kind: "inductor", inductance: 1e-3, dcr: value })],
    ["capacitance", (value: unknown) => ({ kind: "capacitor", capacitance: value, esr: 0, dissipationFactor: 0 })],
    ["esr", (value: unknown) => ({ kind: "capacitor", capacitance: 1e-6, esr: value, dissipationFactor: 0 })],
    ["dissipationFactor", (value: unknown) => ({ kind: "capacitor", capacitance: 1e-6, esr: 0, dissipationFactor: value })],
    ["series", (value: unknown) => ({ kind: "l-pad", series: value, shunt: 1 })],
    ["le", (value: unknown) => ({ kind: "driver", model: { re: 5, le: value, re2: 0, le2: 0, k: 0, n: 0, fs: 0, qms: 0, qes: 0 } })],
  ])("with an impossible %s are refused with the designator, the value's name and what was got", (name, make) => {
    for (const value of bad) {
      const part = make(value);
      const terminals = part.kind === "l-pad" ? ["in", "t", "gnd"] : ["in", "gnd"];
      const [issue] = errorsOf({ X1: [part, ...terminals] });
      expect(issue).toMatchObject({ code: "invalid-part", parts: ["X1"] });
      expect(issue!.message).toContain(name);
    }
  });

  it("of other kinds are refused too", () => {
    for (const ratio of [0, NaN, Infinity])
      expect(errorsOf({ T1: [{ kind: "transformer", ratio }, "in", "gnd", "s", "gnd"], R1: [r, "s", "gnd"] })[0]).toMatchObject({
        code: "invalid-part",
        parts: ["T1"],
      });
    for (const part of [
      { kind: "driver" },
      { kind: "driver", model: {} },
      { kind: "driver", model: null },
      { kind: "driver", model: { re: 5, le: 0, re2: 0, le2: 0, k: 0, n: 0, fs: 100, qms: 2, qes: 0 } },
    ]) {
      expect(errorsOf({ X1: [part, "in", "gnd"] })[0]).toMatchObject({ code: "invalid-part", parts: ["X1"] });
    }
    const array = (...values: number[]) => Float64Array.of(...values);
    for (const response of [
      null,
      {},
      { frequencies: [1, 2], re: [1, 1], im: [0, 0] },
      { frequencies: array(2, 1), re: array(1, 1), im: array(0, 0) },
      { frequencies: array(1, 2), re: array(1, NaN), im: array(0, 0) },
      { frequencies: array(1), re: array(1, 2), im: array(0) },
    ]) {
      expect(errorsOf({ X1: [{ kind: "driver", response }, "in", "gnd"] })[0]).toMatchObject({ code: "invalid-response", parts: ["X1"] });
    }
  });
});

describe("names", () => {
  it("of a prototype are names like others", () => {
    const names = ["__proto__", "constructor", "toString", "hasOwnProperty", "valueOf"];
    const entries: Record<string, unknown> = {};
    names.forEach((name, i) =>
      Object.defineProperty(entries, name, { value: [resistor(2 ** i), "in", i === 0 ? "prototype" : "gnd"], enumerable: true }),
    );
    Object.defineProperty(entries, "R9", { value: [resistor(1), "prototype", "gnd"], enumerable: true });
    const made = network(given(entries));
    expect(Object.keys(made)).toEqual([...names, "R9"]);
    const sweep = solve(made, [100]);
    expect(sweep.current("__proto__").re[0]).toBeCloseTo(0.5, 15);
    names.slice(1).forEach((name, i) => expect(sweep.current(name).re[0]).toBeCloseTo(2 ** -(i + 1), 15));
    expect(refused(() => sweep.voltage("isPrototypeOf")).code).toBe("unknown-name");
    const joined = join(given({ constructor: [r, "in", "gnd"] }), given({ toString: [r, "in", "gnd"] }));
    expect(Object.keys(joined)).toEqual(["constructor", "toString"]);
    expect(({} as Record<string, unknown>)["R9"]).toBeUndefined();
  });

  it("that aren't there are refused with those that are", () => {
    const sweep = solve({ C1: [capacitor("1 µF"), "in", "t"], tweeter: [r, "t", "gnd"] }, [100]);
    for (const name of ["tweeetr", "", "constructor", Symbol("t"), null, undefined, {}, 7] as never[]) {
      expect(refused(() => sweep.voltage(name))).toMatchObject({ code: "unknown-name" });
      expect(refused(() => sweep.current(name))).toMatchObject({ code: "unknown-part" });
      expect(refused(() => sweep.voltageBetween(name, "in"))).toMatchObject({ code: "unknown-node" });
    }
    const error = refused(() => sweep.voltage("tweeetr" as never));
    expect(error.message).toContain('"tweeetr"');
    expect(error.hint).toBe("Nodes: gnd, in, t; parts: C1, tweeter");
    expect(refused(() => sweep.current("in" as never)).hint).toBe("Parts: C1, tweeter");
  });

  it("shared by two pieces are refused by join, each with the positions of both", () => {
    const low = { L1: [inductor("1 mH"), "in", "w"], woofer: [r, "w", "gnd"] } as const;
    const error = refused(() => join(given(low), given({ woofer: [r, "w2", "gnd"], L1: [r, "in", "w2"], R3: [r, "in", "w2"] })));
    expect(error.code).toBe("duplicate-designator");
    expect(error.message).toContain('join: pieces 1 and 2 both have a part named "woofer"; pieces 1 and 2 both have a part named "L1"');
    const apart = given({ R9: [r, "in", "w"] });
    expect(refused(() => join(apart, given(low), given({ R8: [r, "in", "w"] }), given({ woofer: [r, "w", "gnd"] }))).message).toContain(
      'join: pieces 2 and 4 both have a part named "woofer"',
    );
    expect(error.hint).not.toBe("");
    const own = (name: string) => given(Object.defineProperty({}, name, { value: [r, "in", "gnd"], enumerable: true }));
    expect(refused(() => join(own("__proto__"), own("__proto__"))).code).toBe("duplicate-designator");
    expect(Object.keys(join(own("__proto__"), own("R1")))).toEqual(["__proto__", "R1"]);
  });

  it("of any number of pieces stand in one network, in the order of the pieces", () => {
    const piece = (name: string) => given({ [name]: [r, "in", "gnd"] });
    expect(Object.keys(join(piece("R3"), piece("R1"), piece("R2")))).toEqual(["R3", "R1", "R2"]);
    expect(join(piece("R1"))).toEqual(piece("R1"));
    expect(Object.keys(join(...Array.from({ length: 40 }, (_, k) => piece(`R${k}`))))).toHaveLength(40);
    expect(refused(() => (join as () => unknown)()).message).toContain("at least one piece");
  });
});

describe("what a sweep is told", () => {
  const entries = { R1: [r, "in", "gnd"] } as const;

  it("is refused when the frequencies are no ascending numbers of 0 Hz or more", () => {
    for (const frequencies of [
      [],
      null,
      "100",
      [100, 100],
      [200, 100],
      [-1],
      [NaN],
      [Infinity],
      [1e-200],
      [1e200],
      ["100"],
      {},
      new Array(2 ** 32 - 1),
    ]) {
      expect(refused(() => solve(entries, frequencies as never)).message).toContain("frequencies");
    }
  });

  it("is refused when the source impedance is none", () => {
    for (const sourceImpedance of [
      -1,
      NaN,
      "0.1 mH",
      null,
      [],
      { resistence: 1 },
      { resistance: -1 },
      { inductance: "1 µF" },
      { frequencies: [1, 2] },
    ]) {
      expect(refused(() => solve(entries, [100], { sourceImpedance } as never)).message).toMatch(/solve|resample/);
    }
    const measured = { frequencies: Float64Array.of(50, 60), re: Float64Array.of(1, 1), im: Float64Array.of(0, 0) };
    const error = refused(() => solve(entries, [100], { sourceImpedance: measured }));
    expect(error.message).toContain("sourceImpedance");
    expect(error.message).toContain("100 Hz");
    expect(refused(() => solve(entries, [50], { sourceImpedance: { ...measured, re: Float64Array.of(-8, 1) } })).code).toBe("no-solution");
  });

  it("outside a measured impedance's band is refused with the part and the band", () => {
    const response = { frequencies: Float64Array.of(50, 60), re: Float64Array.of(8, 9), im: Float64Array.of(0, 0) };
    for (const frequency of [0, 40, 100]) {
      const error = refused(() => solve({ woofer: [driverImpedance(response), "in", "gnd"] }, [frequency]));
      expect(error.code).toBe("outside-measured-band");
      expect(error.message).toMatch(/"woofer".*50 Hz to 60 Hz/);
    }
    // So also where the solver works by rows.
    expect(
      refused(() =>
        solve({ T1: [transformer({ ratio: 2 }), "in", "gnd", "s", "gnd"], woofer: [driverImpedance(response), "s", "gnd"] }, [100]),
      ).message,
    ).toContain('"woofer"');
  });
});

describe("random garbage", () => {
  const name = fc.oneof(
    fc.constantFrom("in", "gnd", "a", "b", "L1", "R1", "__proto__", "constructor", ""),
    fc.string({ maxLength: 3 }),
    fc.anything(),
  );
  const number = fc.oneof(fc.double(), fc.constantFrom(0, 1, 8, 1e-3, 1e-6, -1, NaN, Infinity), fc.anything());
  const values = fc.record(
    {
      resistance: number,
      inductance: number,
      dcr: number,
      capacitance: number,
      esr: number,
      dissipationFactor: number,
      series: number,
      shunt: number,
      ratio: number,
      k: number,
      primaryInductance: number,
      secondaryInductance: number,
      primaryResistance: number,
      secondaryResistance: number,
      model: fc.anything(),
      response: fc.anything(),
    },
    { requiredKeys: [] },
  );
  const part = fc.oneof(
    fc.constantFrom<unknown>(
      r,
      resistor(0),
      inductor(1e-3),
      inductor(1e-3, { dcr: 0.1 }),
      capacitor(1e-6),
      lPad({ attenuationDb: 3, load: 8 }),
      transformer({ ratio: 2 }),
      coupling(0.5),
      driverImpedance({ re: 5 }),
    ),
    fc
      .tuple(fc.constantFrom("resistor", "inductor", "capacitor", "driver", "l-pad", "transformer", "coupling", "diode"), values)
      .map(([kind, rest]) => ({ ...rest, kind })),
    fc.anything(),
  );
  const entry = fc.oneof(
    fc.tuple(part, name, name),
    fc.tuple(part, name, name, name, name),
    fc.array(fc.oneof(part, name), { maxLength: 6 }),
    fc.anything(),
  );
  const entries = fc.oneof(
    fc.dictionary(fc.oneof(fc.constantFrom("R1", "L1", "L2", "K1", "a"), fc.string({ maxLength: 3 })), entry, { maxKeys: 6 }),
    fc.anything(),
  );
  const likely = fc.dictionary(
    fc.constantFrom("R1", "L1", "L2", "K1", "C1", "T1", "P1"),
    fc.tuple(part, fc.constantFrom("in", "gnd", "a", "b", "L1", "L2"), fc.constantFrom("in", "gnd", "a", "b", "L1", "L2")),
    { minKeys: 1, maxKeys: 6 },
  );
  const frequencies = fc.oneof(
    fc.constantFrom<unknown>([100, 1000], [0, 1], Float64Array.of(10, 20)),
    fc.array(fc.double(), { maxLength: 4 }),
    fc.anything(),
  );
  const options = fc.oneof(fc.constant(undefined), fc.record({ sourceImpedance: fc.oneof(number, fc.anything()) }), fc.anything());

  /** Runs it; whatever is thrown must be the library's own error. */
  function own(work: () => void): void {
    try {
      work();
    } catch (error) {
      if (!(error instanceof DividingNetworkError)) throw error;
      expect(error.code).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(error.message).not.toBe("");
    }
  }

  it("gets nothing but a DividingNetworkError, or finite numbers, out of solve, network, join and fragment", () => {
    fc.assert(
      fc.property(fc.oneof(entries, likely), entries, frequencies, options, name, (first, second, grid, more, asked) => {
        own(() => void network(first as never));
        own(() => void fragment(first as never));
        own(() => void join(first as never, second as never));
        own(() => {
          const sweep = solve(first as never, grid as never, more as never);
          const all = [
            sweep.admittance,
            sweep.sourceCurrent,
            ...[
              "in",
              ...Object.keys(first as object).filter(
                (key) => (first as Record<string, readonly [{ kind: string }]>)[key]![0].kind !== "coupling",
              ),
            ].map((each) => sweep.voltage(each as never)),
          ];
          for (const { re, im } of all) expect([...re, ...im].every((value) => Number.isFinite(value))).toBe(true);
          own(() => void sweep.impedance);
          own(() => void sweep.voltage(asked as never));
          own(() => void sweep.current(asked as never));
        });
      }),
      { numRuns: cases(3000) },
    );
  });

  it("is listed by diagnose, which throws only for its options", () => {
    fc.assert(
      fc.property(fc.oneof(entries, likely), fc.boolean(), (any, zeroFrequency) => {
        for (const issue of diagnose(any as never, { zeroFrequency })) {
          expect(issue.code).toMatch(/^[a-z]+(-[a-z]+)*$/);
          expect(issue.message).not.toBe("");
          expect(issue.hint).not.toBe("");
        }
      }),
      { numRuns: cases(3000) },
    );
  });
});
