// Tests src/parts/custom/: custom-part.ts, laws.ts
// Laws made by hand or read from JSON: what each value may be, to the limit itself, how many laws there may be and how deep, and between which terminals they lie.
import { DividingNetworkError, inductor, networkFromJSON, resistor, solve, valueAt, type Entries } from "dividing-network";
import { capacitive, fractional, inductive, inParallel, inSeries, part, resistive, type LawData } from "dividing-network/parts";
import { expandPart } from "../../../src/parts/internal";
import { blocksDirectCurrent, describePart, describe as kindOf } from "../../../src/parts/describe";
import { describe, expect, it } from "vitest";

function refusal(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error.message;
    throw error;
  }
  return "taken";
}
/** As JSON holds it, and as plain data by hand. */
const fromJson = (law: object) => () =>
  networkFromJSON({
    parts: [
      { name: "X1", kind: "custom", title: "x", branches: [{ from: 0, to: 1, law }], nodes: ["a", "gnd"] },
      { name: "R1", kind: "resistor", resistance: 1, nodes: ["in", "a"] },
    ],
  });
const byHand = (law: object) => () => part({ title: "x", branches: [{ law: law as LawData }] });

describe("a law as plain data", () => {
  it.each<[string, (value: number) => object, readonly number[], readonly number[]]>([
    ["value", (value) => ({ law: "resistance", name: "r", value }), [0, 1e-9, 1e9], [-1e-9, NaN, Infinity]],
    ["value", (value) => ({ law: "inductance", name: "l", value }), [0, 1], [-1e-9, NaN, Infinity]],
    ["value", (value) => ({ law: "capacitance", name: "c", value }), [1e-12, 1], [0, -1e-9, NaN, Infinity]],
    ["k", (k) => ({ law: "fractional", name: "", k, n: 0.5 }), [1e-9, 1e9], [0, -1, NaN, Infinity]],
    ["n", (n) => ({ law: "fractional", name: "", k: 1, n }), [1e-9, 0.5, 1], [0, -0.5, 1.0000001, NaN]],
  ])("has a %s within its range, by hand and from JSON", (name, law, taken, refused) => {
    for (const value of taken) for (const make of [byHand, fromJson]) expect(refusal(make(law(value))), String(value)).toBe("taken");
    for (const value of refused)
      for (const make of [byHand, fromJson]) expect(refusal(make(law(value))), String(value)).toContain(`branches[0].law.${name}"`);
  });

  it("is wrong at the place where it is wrong, and by what it was asked to be", () => {
    const nested = { law: "series", of: [resistive(1), { law: "parallel", of: [{ law: "resistance", name: "a", value: -1 }] }] };
    expect(refusal(byHand(nested))).toContain('"branches[0].law[1][0].value"');
    for (const none of [null, [], [resistive(1)], "resistance", 3, { law: "magic" }, { name: "r", value: 1 }])
      expect(refusal(byHand(none as object))).toContain('"branches[0].law" must be a law, got');
    for (const of of [undefined, [], "ab", { length: 1 }])
      expect(refusal(byHand({ law: "series", of }))).toContain("must be at least one law");
    for (const unknown of [
      { law: "resistance", name: "r", value: 1, k: 1 },
      { law: "fractional", name: "", k: 1, n: 1, value: 1 },
      { law: "parallel", of: [resistive(1)], name: "x" },
    ])
      expect(refusal(byHand(unknown))).toContain("branches[0].law");
  });

  it("may be fifty laws in all, ten deep in one another, no more", () => {
    const beside = (count: number) => inParallel(...Array.from({ length: count }, (_, k) => resistive(count, `r${k}`)));
    // The one that holds them is one of them.
    expect(
      solve({ X1: [part({ title: "x", branches: [{ law: beside(49) }] }), "in", "gnd"] } as Entries, [1000]).impedance.re[0],
    ).toBeCloseTo(1, 12);
    expect(refusal(() => beside(50))).toContain("at most 50 laws");
    expect(refusal(() => beside(51))).not.toBe("taken");
    // Over all groups together.
    const group = (name: string, count: number) => inSeries(...Array.from({ length: count }, (_, k) => resistive(1, `${name}${k}`)));
    expect(refusal(() => inSeries(group("a", 23), group("b", 24)))).toBe("taken");
    expect(refusal(() => inSeries(group("a", 24), group("b", 24)))).toContain("at most 50 laws");
    const deep = (times: number): object => {
      let law: object = resistive(1);
      for (let k = 0; k < times; k++) law = { law: "series", of: [law] };
      return law;
    };
    expect(refusal(byHand(deep(10)))).toBe("taken");
    expect(refusal(byHand(deep(11)))).toContain("10 deep");
  });

  it("has a name that is a word, or as a power of frequency none", () => {
    for (const name of ["r", "coreLoss", "R2d2", "a".repeat(40)]) expect(resistive(1, name)).toMatchObject({ name });
    for (const name of ["", "2r", "a b", "ä", "a_b", "r!", " r", "a".repeat(41), 3 as unknown as string])
      for (const make of [() => resistive(1, name), () => inductive(1, name), () => capacitive(1, name)])
        expect(refusal(make), name).toContain('"name" must be a word');
    expect(fractional({ k: 1, n: 0.5 })).toEqual(fractional({ k: 1, n: 0.5, name: "" }));
    expect(refusal(() => fractional({ k: 1, n: 0.5, name: "a b" }))).toContain('"name"');
    expect(
      expandPart(part({ title: "x", branches: [{ law: fractional({ k: 1, n: 0.5, name: "eddy" }) }] })).branches[0]!.law.parameters,
    ).toEqual(["eddyK", "eddyN"]);
    expect(expandPart(part({ title: "x", branches: [{ law: fractional({ k: 1, n: 0.5 }) }] })).branches[0]!.law.parameters).toEqual([
      "k",
      "n",
    ]);
  });
});

describe("a part of one's own", () => {
  const r = (name: string) => resistive(1, name);

  it("has a title of 1 to 80 characters and 1 to 12 branches", () => {
    const titled = (title: unknown) => refusal(() => part({ title: title as string, branches: [{ law: r("r") }] }));
    expect([titled("x"), titled("x".repeat(80))]).toEqual(["taken", "taken"]);
    for (const title of ["", "  ", "x".repeat(81), undefined, 7]) expect(titled(title)).toContain('"title"');
    // Only the first may touch terminal 0: the rest lie between the others.
    const branches = (count: number) =>
      Array.from({ length: count }, (_, k) => (k === 0 ? { law: r("r0") } : { from: 1, to: 2 + (k % 2), law: r(`r${k}`) }));
    expect(refusal(() => part({ title: "x", terminals: 4, branches: branches(12) }))).toBe("taken");
    expect(refusal(() => part({ title: "x", terminals: 4, branches: branches(13) }))).toContain("1 to 12 branches");
    expect(refusal(() => part({ title: "x", branches: "no" as never }))).toContain("branches");
  });

  it("has two, three or four terminals, each with a branch, the first branch from terminal 0 on and no other there", () => {
    const two = { from: 0, to: 1, law: r("a") };
    const made = (terminals: number, ...branches: readonly object[]) =>
      refusal(() => part({ title: "x", terminals: terminals as 4, branches: branches as never }));
    expect(made(3, two, { from: 1, to: 2, law: r("b") })).toBe("taken");
    expect(made(3, two, { from: 2, to: 1, law: r("b") })).toBe("taken");
    for (const terminals of [1, 5, 2.5, NaN]) expect(made(terminals, two)).toContain('"terminals"');
    for (const [from, to] of [
      [0, 2],
      [-1, 1],
      [0, 0.5],
    ] as const)
      expect(made(2, { from, to, law: r("a") })).toContain("branches[0]");
    expect(made(2, { from: 1, to: 1, law: r("a") })).toContain("both ends at 1");
    expect(made(3, { from: 1, to: 2, law: r("a") }, { from: 0, to: 1, law: r("b") })).toContain("must begin at terminal 0");
    expect(made(3, { from: 1, to: 0, law: r("a") }, { from: 1, to: 2, law: r("b") })).toContain("must begin at terminal 0");
    expect(made(3, two, { from: 0, to: 2, law: r("b") })).toContain('only "branches[0]"');
    expect(made(3, two, { from: 2, to: 0, law: r("b") })).toContain('only "branches[0]"');
    expect(made(4, two, { from: 1, to: 2, law: r("b") })).toContain("none at terminal 3");
    expect(made(2, two, { from: 1, to: 0, law: r("b") })).toContain('only "branches[0]"');
    expect(made(3, two, { from: 1, to: 2, law: r("a") })).toContain("name of its own");
    expect(made(2, { ...two, width: 3 })).toContain("branches[0]");
  });

  it("says its values in words as the trade writes them, the first one with its title", () => {
    const law = inSeries(
      inductive("1 mH"),
      inParallel(resistive("0.3 Ω", "dcr"), capacitive("10 pF", "stray")),
      fractional({ k: 0.012345, n: 0.7 }),
      fractional({ k: 2, n: 0.5, name: "eddy" }),
    );
    const made = part({ title: "Cored coil", branches: [{ law }] });
    expect(describePart(made)).toEqual(["Cored coil 1 mH", "dcr 0.3 Ω, stray 10 pF, K(jω)ⁿ K 0.01235, n 0.7, eddy K 2, n 0.5"]);
    const kind = kindOf(made);
    expect(kind.terminals!(made)).toBeUndefined();
    expect(kind.remark!(made)).toBe("Cored coil");
    expect(kind.heats!(made)).toBe(false);
    expect(kind.symbols(made)).toEqual([{ suffix: "", symbol: "box", value: "1 mH", from: 0, to: 1 }]);
    const pad = part({
      title: "Pad",
      terminals: 3,
      branches: [
        { law: inParallel(resistive(2, "series"), capacitive("4.7 µF", "bypass")) },
        { from: 2, to: 1, law: capacitive("1 µF", "shunt") },
      ],
    });
    expect(kind.heats!(pad)).toBe(true);
    expect(kind.terminals!(pad)).toEqual(["terminal 1", "terminal 2", "terminal 3"]);
    expect(kind.symbols(pad)).toEqual([
      { suffix: "1", symbol: "resistor", value: "2 Ω", from: 0, to: 1 },
      { suffix: "2", symbol: "capacitor", value: "1 µF", from: 2, to: 1 },
    ]);
  });

  it("tells whether it lets direct current through", () => {
    const of = (law: LawData) => blocksDirectCurrent(part({ title: "x", branches: [{ law }] }));
    expect(of(capacitive(1e-6))).toBe(true);
    expect(of(inSeries(resistive(1), capacitive(1e-6)))).toBe(true);
    expect(of(inParallel(resistive(1), capacitive(1e-6)))).toBe(false);
    expect(of(fractional({ k: 1, n: 0.5 }))).toBe(false);
    expect(of(inductive(1e-3))).toBe(false);
  });
});

describe("shorts and gaps within a law", () => {
  const at = (law: LawData, frequency: number) =>
    valueAt(
      solve({ R: [resistor(8), "in", "m"], X1: [part({ title: "x", branches: [{ law }] }), "m", "gnd"] } as Entries, [
        frequency,
        frequency + 1,
      ]).impedance,
      frequency,
    );

  it("are what they are drawn out: nothing in series, all beside", () => {
    const close = (law: LawData, frequency: number, re: number, im: number) => {
      const found = at(law, frequency);
      expect(found.re).toBeCloseTo(re, 9);
      expect(found.im).toBeCloseTo(im, 9);
    };
    const x = 2 * Math.PI * 1000 * 1e-3;
    close(inSeries(resistive(0, "none"), inductive(1e-3)), 1000, 8, x);
    close(inParallel(inductive(1e-3), inSeries(resistive(0, "none"), inductive(0, "coil"))), 1000, 8, 0);
    // At 0 Hz a coil is a wire and a capacitor a gap.
    close(inParallel(inductive(1e-3), resistive(5)), 0, 8, 0);
    close(inParallel(capacitive(1e-6), resistive(5)), 0, 13, 0);
    close(inParallel(fractional({ k: 1, n: 0.5 }), resistive(5)), 0, 8, 0);
    // The square root of jω: as much resistance as reactance.
    close(fractional({ k: 0.1, n: 0.5 }), 1000, 8 + 0.1 * Math.sqrt(1000 * Math.PI), 0.1 * Math.sqrt(1000 * Math.PI));
    const coil = solve({ R: [resistor(8), "in", "m"], L: [inductor(2e-3), "m", "gnd"] } as Entries, [1000, 1001]).impedance;
    close(fractional({ k: 2e-3, n: 1 }), 1000, coil.re[0]!, coil.im[0]!);
  });
});
