// Tests src/network/solve/: answers.ts, coil-strain.ts, engine.ts, row-points.ts, row-voltages.ts
// A compiled network answers every sweep for the frequencies it is given, whatever was asked before.
import { capacitor, compile, join, network, resistor, solve } from "dividing-network";
import { describe, expect, it } from "vitest";

const highPass = network({ C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });

describe("a compiled network", () => {
  it("solves a grid anew when the same array was filled with other frequencies", () => {
    const compiled = compile(highPass);
    const grid = Float64Array.from([100, 1000]);
    const first = compiled.sweep(grid).voltage("t").re.slice();
    grid.set([2000, 4000]);
    const second = compiled.sweep(grid).voltage("t").re;
    expect([...first]).toEqual([...solve(highPass, [100, 1000]).voltage("t").re]);
    expect([...second]).toEqual([...solve(highPass, [2000, 4000]).voltage("t").re]);
  });

  it("gives each sweep arrays of its own", () => {
    const compiled = compile(highPass);
    const [a, b] = [compiled.sweep([100, 1000], { sourceImpedance: 1 }), compiled.sweep([100, 1000])];
    expect(a.voltage("t").re).not.toBe(b.voltage("t").re);
    expect(a.voltage("t").re[1]).not.toBe(b.voltage("t").re[1]);
    expect(a.impedance.re[1]).toBe(b.impedance.re[1]);
    expect(a.frequencies).not.toBe(b.frequencies);
  });

  it("believes nobody who writes to what it handed out", () => {
    const compiled = compile(highPass);
    const grid = Float64Array.from([100, 1000]);
    const { frequencies } = compiled.sweep(grid);
    frequencies.set([2000, 4000]);
    expect([...compiled.sweep(frequencies).voltage("t").re]).toEqual([...solve(highPass, [2000, 4000]).voltage("t").re]);
    expect([...compiled.sweep(grid).voltage("t").re]).toEqual([...solve(highPass, [100, 1000]).voltage("t").re]);
  });

  it("refuses frequencies out of order even where it solved the same array before", () => {
    const compiled = compile(highPass);
    const grid = Float64Array.from([100, 1000]);
    compiled.sweep(grid);
    grid.set([2000, 1000]);
    expect(() => compiled.sweep(grid)).toThrow(/ascending/);
  });

  it("keeps its order of questions out of the answers", () => {
    const [one, other] = [compile(highPass).sweep([0, 500, 5000]), compile(highPass).sweep([0, 500, 5000])];
    one.current("C1");
    expect([...one.voltage("C1").im]).toEqual([...other.voltage("C1").im]);
    expect([...one.current("tweeter").re]).toEqual([...other.current("tweeter").re]);
  });
});

describe("join", () => {
  it("takes three pieces as it takes two", () => {
    const pieces = ["a", "b", "c"].map((node) => ({ [`R${node}`]: [resistor(1), node, "gnd"] as const }));
    expect(Object.keys((join as (...parts: unknown[]) => object)(...pieces))).toEqual(["Ra", "Rb", "Rc"]);
  });
});
