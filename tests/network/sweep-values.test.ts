import { compile, dissipation, network, solve, type Entries } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import { frequencyResponse, valueAt } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { DividingNetworkError } from "../../src/errors";

const grid = logGrid(20, 20000, 97);
const dome = { re: 5.1, le: 45e-6, fs: 820, qms: 2.1, qes: 1.4 };
/** A way with a value of every kind: a pad, a driver, coupled coils, a transformer. */
const way = (change: Partial<Record<"C1" | "esr" | "tan" | "L1" | "dcr" | "R1" | "series" | "fs" | "qes" | "primary", number>> = {}) =>
  ({
    C1: [capacitor(change.C1 ?? 6.8e-6, { esr: change.esr ?? 0.015 }), "in", "a"],
    C2: [capacitor(1e-6, { dissipationFactor: change.tan ?? 0.001 }), "b", "gnd"],
    L1: [inductor(change.L1 ?? 0.33e-3, { dcr: change.dcr ?? 0.24 }), "a", "gnd"],
    L2: [inductor(0.2e-3, { dcr: 0.1 }), "a", "b"],
    K1: [coupling(0.1), "L1", "L2"],
    P1: [{ ...lPad({ attenuationDb: 4, load: 6 }), series: change.series ?? lPad({ attenuationDb: 4, load: 6 }).series }, "b", "c", "gnd"],
    T1: [
      transformer({
        primaryInductance: change.primary ?? 0.02,
        secondaryInductance: 0.005,
        k: 0.9,
        primaryResistance: 0.3,
        secondaryResistance: 0.2,
      }),
      "c",
      "gnd",
      "d",
      "gnd",
    ],
    R1: [resistor(change.R1 ?? 2.2), "d", "t"],
    tweeter: [driverImpedance({ ...dome, fs: change.fs ?? dome.fs, qes: change.qes ?? dome.qes }), "t", "gnd"],
  }) as const;
const errorOf = (run: () => unknown): DividingNetworkError => {
  try {
    run();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error;
    throw error;
  }
  throw new Error("nothing was thrown");
};
const numbers = (entries: Entries, sweep: ReturnType<typeof solve>): number[] =>
  [
    sweep.impedance,
    sweep.sourceCurrent,
    ...Object.keys(entries)
      .filter((name) => !name.startsWith("K"))
      .flatMap((name) => [sweep.voltage(name), sweep.current(name)]),
  ].flatMap(({ re, im }) => [...re, ...im]);

describe("other values in a sweep of a compiled network", () => {
  const compiled = compile(network(way()));

  it("give to the last bit what a network made with those values gives", () => {
    const values = {
      C1: "4.7 µF",
      "C1.esr": "30 mΩ",
      "C2.dissipationFactor": 0.004,
      L1: "0.5 mH",
      "L1.dcr": 0.4,
      R1: 1.5,
      "P1.series": 3,
      "T1.primaryInductance": "30 mH",
      "tweeter.fs": "900 Hz",
      "tweeter.qes": 1.1,
    } as const;
    const made = way({ C1: 4.7e-6, esr: 0.03, tan: 0.004, L1: 0.5e-3, dcr: 0.4, R1: 1.5, series: 3, fs: 900, qes: 1.1, primary: 0.03 });
    const options = { sourceImpedance: { resistance: 0.1, inductance: 1e-6 } };
    expect(numbers(made, compiled.sweep(grid, { ...options, values }) as never)).toEqual(
      numbers(made, solve(network(made), grid, options) as never),
    );
  });

  it("count for that sweep alone, whichever is asked first", () => {
    const [before, changed, after] = [compiled.sweep(grid), compiled.sweep(grid, { values: { R1: 20 } }), compiled.sweep(grid)];
    const late = changed.voltage("tweeter").re[60]!;
    expect(before.voltage("tweeter").re).toEqual(after.voltage("tweeter").re);
    expect(late).toBe(solve(network(way({ R1: 20 })), grid).voltage("tweeter").re[60]);
    expect(late).not.toBe(before.voltage("tweeter").re[60]);
  });

  it("follow the divider in closed form, at 0 Hz too", () => {
    const divider = compile(network({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] }));
    for (const r of [0.5, 6, 94]) expect(divider.sweep([0, 100], { values: { R1: r } }).voltage("a").re[0]).toBeCloseTo(6 / (6 + r), 14);
  });

  it("reach what takes the values from the sweep: the heat in a part", () => {
    const heat = dissipation(compile(network({ R1: [resistor(2), "in", "gnd"] })).sweep([100], { values: { R1: 4 } }), { voltage: 8 });
    expect(heat.power.R1[0]).toBeCloseTo(16, 12);
  });

  it("may be 0 or leave 0, where the structure is another: nodes are joined and parted", () => {
    const network0 = network({ R1: [resistor(2), "in", "a"], R2: [resistor(0), "a", "b"], R3: [resistor(6), "b", "gnd"] });
    const slider = compile(network0);
    for (const [values, share] of [
      [{ R1: 0 }, 1],
      [{ R2: 4 }, 0.5],
      [{ R1: 0, R2: 6 }, 0.5],
      [{ R2: 4 }, 0.5],
      [{}, 0.75],
    ] as const)
      expect(slider.sweep([100], { values }).voltage("b").re[0]).toBeCloseTo(share, 14);
  });

  it("that take the last loss away are looked at again: a trap without loss has no finite impedance at its resonance", () => {
    const trap = compile(
      network({ R1: [resistor(1), "in", "a"], L1: [inductor(1, { dcr: 1 }), "a", "gnd"], C1: [capacitor(1), "a", "gnd"] }),
    );
    const f = 1 / (2 * Math.PI);
    expect(trap.sweep([f], { values: { "L1.dcr": 0 } }).voltage("a").re[0]).toBeCloseTo(1, 9);
  });

  it("that short the source are refused as in any network", () => {
    const one = compile(network({ R1: [resistor(2), "in", "gnd"] }));
    expect(errorOf(() => one.sweep([100], { values: { R1: 0 } })).code).toBe("invalid-network");
  });

  it("refuse a name that isn't there, with those that are", () => {
    const loose = compile(network(way()) as Entries);
    const unknown = errorOf(() => loose.sweep(grid, { values: { C9: 1e-6 } }));
    expect(unknown.code).toBe("unknown-name");
    expect(unknown.hint).toMatch(/C1.*L1/);
    expect(errorOf(() => loose.sweep(grid, { values: { "L1.esr": 1 } })).hint).toContain('"L1" has L1.inductance, L1.dcr, L1');
    expect(errorOf(() => loose.sweep(grid, { values: { K1: 0.2 } })).code).toBe("unknown-name");
    expect(errorOf(() => loose.sweep(grid, { values: { "tweeter.k": 0.02 } })).hint).toContain("tweeter.fs");
    const measured = compile(network({ cone: [driverImpedance(frequencyResponse([20, 20000], [6, 6], [0, 0])), "in", "gnd"] }) as Entries);
    expect(errorOf(() => measured.sweep([100], { values: { "cone.re": 5 } })).hint).toBe('"cone" has no values that can be given');
  });

  it("refuse a wrong unit, a value out of range, one given twice, and what is no object", () => {
    const loose = compile(network(way()) as Entries);
    expect(errorOf(() => loose.sweep(grid, { values: { C1: "3 mH" } })).code).toBe("invalid-quantity");
    expect(errorOf(() => loose.sweep(grid, { values: { C1: 0 } })).message).toContain('"values["C1"]" must be a finite number above 0 F');
    expect(errorOf(() => loose.sweep(grid, { values: { R1: -1 } })).code).toBe("invalid-argument");
    expect(errorOf(() => loose.sweep(grid, { values: { R1: 1e40 } })).code).toBe("invalid-argument");
    expect(errorOf(() => loose.sweep(grid, { values: { R1: 1, "R1.resistance": 2 } })).message).toContain("are one value");
    expect(errorOf(() => loose.sweep(grid, { values: { "C1.dissipationFactor": 0.01 } })).message).toContain("describe the same loss");
    expect(errorOf(() => loose.sweep(grid, { values: [1] as never })).code).toBe("invalid-argument");
    expect(errorOf(() => solve(network(way()), grid, { values: { R1: 1 } } as never)).code).toBe("unknown-option");
  });

  it("are typed by what they are: a wrong name and a wrong unit don't compile", () => {
    // @ts-expect-error no such part
    expect(() => compiled.sweep(grid, { values: { C9: 1e-6 } })).toThrow();
    // @ts-expect-error a coil has no esr
    expect(() => compiled.sweep(grid, { values: { "L1.esr": 1 } })).toThrow();
    // @ts-expect-error a capacitance isn't in henries
    expect(() => compiled.sweep(grid, { values: { C1: "3 mH" } })).toThrow();
    // @ts-expect-error a coupling has no value here
    expect(() => compiled.sweep(grid, { values: { K1: 0.1 } })).toThrow();
    expect(valueAt(compiled.sweep([1000], { values: { C1: undefined } }).impedance, 1000)).toEqual(
      valueAt(compiled.sweep([1000]).impedance, 1000),
    );
  });
});
