// What differs between two networks, part by part.
import { describe, expect, it } from "vitest";
import { capacitor, coupling, driverImpedance, inductor, resistor } from "dividing-network/parts";
import type { Entries } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { frequencyResponse } from "dividing-network/response";
import { changedParts, turned } from "../../src/report/network-changes";

const grid = logGrid(20, 20_000, 50);
const measured = (ohms: number) =>
  driverImpedance(
    frequencyResponse(
      grid,
      grid.map(() => ohms),
      grid.map(() => 0),
    ),
  );
const base = (): Entries => ({
  L1: [inductor("1 mH", { dcr: 0.3 }), "in", "w"],
  woofer: [measured(6), "w", "gnd"],
  C1: [capacitor("10 µF"), "in", "t"],
  tweeter: [measured(5), "t", "gnd"],
});

describe("what differs between two networks", () => {
  it("is nothing between equals, however they were made", () => {
    expect(changedParts(base(), base())).toEqual([]);
  });

  it.each<readonly [string, Entries, readonly string[]]>([
    ["a value", { L1: [inductor("1.1 mH", { dcr: 0.3 }), "in", "w"] }, ["L1"]],
    ["a loss", { L1: [inductor("1 mH", { dcr: 0.2 }), "in", "w"] }, ["L1"]],
    ["a kind", { C1: [resistor(10), "in", "t"] }, ["C1"]],
    ["a node", { C1: [capacitor("10 µF"), "in", "u"] }, ["C1"]],
    ["a driver's polarity", { tweeter: [measured(5), "gnd", "t"] }, ["tweeter"]],
    ["a driver's measured impedance", { tweeter: [measured(5.1), "t", "gnd"] }, ["tweeter"]],
    ["a part that is new", { R1: [resistor(1), "t", "gnd"] }, ["R1"]],
    ["nothing: a capacitor lies the other way round", { C1: [capacitor("10 µF"), "t", "in"] }, []],
    ["nothing: a coil by itself lies the other way round", { L1: [inductor("1 mH", { dcr: 0.3 }), "w", "in"] }, []],
  ])("is %s", (_what, change, names) => {
    expect(changedParts({ ...base(), ...change }, base())).toEqual(names);
  });

  it("is a coil that lies the other way round where it is coupled, and a coupling", () => {
    const coupled = { ...base(), L2: [inductor("1 mH"), "t", "gnd"], K1: [coupling(0.1), "L1", "L2"] } as Entries;
    expect(changedParts({ ...coupled, L2: [inductor("1 mH"), "gnd", "t"] } as Entries, coupled)).toEqual(["L2"]);
    expect(changedParts({ ...coupled, K1: [coupling(0.2), "L1", "L2"] } as Entries, coupled)).toEqual(["K1"]);
    // A coupling that is gained or lost: the coils lie elsewhere.
    const { K1: _lost, ...apart } = coupled;
    expect(changedParts(apart as Entries, coupled)).toEqual(["L1", "L2"]);
    expect(changedParts(coupled, apart as Entries)).toEqual(["L1", "L2", "K1"]);
  });

  it("isn't a node that bears another name, in a chain of them and behind parts that changed", () => {
    const chain = (a: string, b: string, value: number): Entries => ({
      R1: [resistor(1), "in", a],
      L1: [inductor(value), a, b],
      C1: [capacitor("10 µF"), b, "gnd"],
      tweeter: [measured(5), b, "gnd"],
    });
    expect(changedParts(chain("x", "y", 1e-3), chain("p", "q", 1e-3))).toEqual([]);
    expect(changedParts(chain("x", "y", 1e-3), chain("p", "q", 2e-3))).toEqual(["L1"]);
    expect(changedParts({ ...chain("x", "y", 1e-3), tweeter: [measured(5), "gnd", "y"] } as Entries, chain("p", "q", 1e-3))).toEqual([
      "tweeter",
    ]);
    // The capacitor moved to the other node, whatever that is called.
    expect(changedParts({ ...chain("x", "y", 1e-3), C1: [capacitor("10 µF"), "x", "gnd"] } as Entries, chain("p", "q", 1e-3))).toEqual([
      "C1",
    ]);
  });

  it("isn't found through what every object has", () => {
    expect(changedParts({ constructor: [resistor(1), "in", "gnd"] } as unknown as Entries, {} as Entries)).toEqual(["constructor"]);
    expect(turned("constructor", {} as Entries, {} as Entries)).toBeUndefined();
  });
});

describe("whether a driver is turned", () => {
  const at = (plus: string, minus: string) => ({ d: [measured(6), plus, minus] }) as unknown as Entries;
  it.each<readonly [string, string, string, string, boolean | undefined]>([
    ["t", "gnd", "gnd", "x", true],
    ["t", "gnd", "x", "gnd", false],
    ["gnd", "t", "gnd", "x", false],
    ["in", "x", "y", "gnd", false],
    ["in", "x", "x", "in", true],
    ["a", "b", "b", "a", true],
    ["a", "b", "a", "b", false],
    ["a", "b", "c", "d", undefined],
    ["t", "gnd", "a", "b", undefined],
  ])("from %s, %s to %s, %s", (plus, minus, otherPlus, otherMinus, answer) => {
    expect(turned("d", at(plus, minus), at(otherPlus, otherMinus))).toBe(answer);
    expect(turned("d", at(otherPlus, otherMinus), at(plus, minus))).toBe(answer);
  });
});
