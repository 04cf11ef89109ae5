// Tests src/network/kernels/: machine.ts, plain-run.ts, recipe.ts, table.ts
// Tests src/network/solve/: branch-current.ts, currents.ts, memory.ts, source-scale.ts
// A sweep computes what it is asked for, in pieces that keep the memory bounded, and neither what was asked before nor the pieces
// show in the answers.
import fc from "fast-check";
import {
  capacitor,
  compile,
  coupling,
  dissipation,
  driverImpedance,
  frequencyResponse,
  inductor,
  logGrid,
  network,
  phaseDegrees,
  resistor,
  solve,
  valueAt,
  type Entries,
  type Sweep,
} from "dividing-network";
import { sumObjective, tolerance } from "dividing-network/network";
import { describe, expect, it, vi } from "vitest";
import { plainMachine, sharedMachine, wasmMachine } from "../../src/network/kernels/machine";
import { cases } from "../support/cases";
import { nodesOf, randomNetwork, seeded } from "../support/random-network";

/** A low-pass of so many sections. */
function ladder(sections: number): Entries {
  return Object.fromEntries(
    Array.from({ length: sections }, (_, k): [string, Entries[string]][] => [
      [`L${k}`, [inductor(1e-3, { dcr: 0.1 }), k === 0 ? "in" : `n${k - 1}`, `n${k}`]],
      [`C${k}`, [capacitor(1e-6, { esr: 0.01 }), `n${k}`, "gnd"]],
    ]).flat(),
  );
}

/** What a call makes the kernels do: how often they are run over a grid, and how many operations on a point that is. */
function work(call: () => void): { readonly runs: number; readonly operations: number } {
  const run = vi.spyOn(sharedMachine(), "run");
  call();
  const { calls } = run.mock;
  const found = {
    runs: calls.length,
    operations: calls.reduce((sum, [code, end, size]) => sum + ((end - code) / 16) * (size / 8), 0),
  };
  run.mockRestore();
  return found;
}

const bits = ({ re, im }: { readonly re: Float64Array; readonly im: Float64Array }) =>
  Buffer.from(new Uint8Array(Float64Array.of(...re, ...im).buffer));
const everyName = (entries: Entries) => [
  ...nodesOf(entries),
  ...Object.keys(entries).filter((name) => entries[name]![0].kind !== "coupling"),
];
const voltageOf = (sweep: Sweep, name: string) => sweep.voltage(name as never);

describe("a sweep computes what is asked for", () => {
  const entries = ladder(60);
  const grid = logGrid(20, 20_000, 100);

  it("one voltage costs one elimination and one way back", () => {
    const one = work(() => void solve(entries, grid).voltage("n59"));
    const all = work(() => void dissipation(solve(entries, grid), { voltage: 1 }));
    expect(one.runs).toBe(1);
    expect(one.operations).toBeLessThan(0.6 * all.operations);
    // 60 coils and capacitors filled in, 60 nodes eliminated, 59 voltages on the way: no more than four operations a node.
    expect(one.operations / 100).toBeLessThan(4.5 * 60);
  });

  it("the impedance and the source's current need no voltage", () => {
    const { runs, operations } = work(() => {
      const sweep = solve(entries, grid);
      void [sweep.impedance, sweep.admittance, sweep.sourceCurrent];
    });
    expect(runs).toBe(1);
    expect(operations / 100).toBeLessThan(3.5 * 60);
  });

  it("nothing costs nothing, and an answer costs nothing a second time", () => {
    expect(work(() => void solve(entries, grid)).runs).toBe(0);
    const sweep = solve(entries, grid, { sourceImpedance: 0.1 });
    const first = sweep.voltage("n3");
    expect(work(() => expect(sweep.voltage("n3")).toBe(first)).runs).toBe(0);
  });

  it("a hundred and eighty questions share a few runs", () => {
    const sweep = solve(entries, grid);
    const { runs } = work(() => {
      for (const name of everyName(entries)) voltageOf(sweep, name);
      for (const name of Object.keys(entries)) sweep.current(name);
    });
    expect(runs).toBeLessThan(12);
  });

  it("all branches at once share one", () => {
    expect(work(() => void dissipation(solve(entries, grid), { voltage: 1 })).runs).toBe(1);
  });

  it("a compiled network that is asked the same again needs one run for all of it", () => {
    const compiled = compile(entries);
    const names = ["n59", "n30", "L7", "n11"];
    const ask = () => {
      const sweep = compiled.sweep(grid);
      for (const name of names) voltageOf(sweep, name);
      return sweep.impedance;
    };
    ask();
    expect(work(() => void ask()).runs).toBe(1);
    // Fewer questions later cost less again, after one sweep that still expected all of them.
    const single = () => void compiled.sweep(grid).voltage("n59");
    single();
    expect(work(single)).toEqual(work(() => void solve(entries, grid).voltage("n59")));
  });
});

describe("a sweep's memory", () => {
  /** Bytes of arrays that a call leaves and takes: what is freed meanwhile isn't seen, what is kept is. */
  function arrayBytes(call: () => unknown): number {
    const before = process.memoryUsage().arrayBuffers;
    const kept = call();
    const after = process.memoryUsage().arrayBuffers;
    expect(kept).toBeDefined();
    return after - before;
  }

  it("holds the answer and little more: 200 nodes at 100,000 frequencies", () => {
    const grid = logGrid(20, 20_000, 100_000);
    const entries = ladder(200);
    // The grid, the voltage and the admittance that comes with it are 4 MB.
    expect(arrayBytes(() => solve(entries, grid).voltage("n199"))).toBeLessThan(40e6);
    expect(sharedMachine().memory.byteLength).toBeLessThan(40e6);
  });

  it("is bounded by pieces of the grid: a million frequencies, all 61 nodes wanted would not fit at once", () => {
    const grid = logGrid(20, 20_000, 1_000_000);
    const sweep = solve(ladder(60), grid);
    expect(arrayBytes(() => sweep.voltage("n59"))).toBeLessThan(100e6);
    expect(sharedMachine().memory.byteLength).toBeLessThan(40e6);
    const middle = grid[500_000]!;
    expect(sweep.voltage("n59").re[500_000]).toBe(solve(ladder(60), [middle]).voltage("n59").re[0]);
  });

  it("is refused in words where there isn't enough", () => {
    for (const machine of [plainMachine(), wasmMachine()!]) {
      expect(() => machine.ensure(2 ** 33)).toThrow(expect.objectContaining({ code: "out-of-memory" }) as Error);
    }
  });
});

describe("pieces of a grid", () => {
  const measured = frequencyResponse([0, 20, 200, 2000, 30_000], [6, 7, 6, 8, 9], [0, 1, 0.5, 2, 8]);
  const entries = network({
    C1: [capacitor("10 µF", { esr: 0.02 }), "in", "a"],
    L1: [inductor("1 mH", { dcr: 0.1 }), "a", "gnd"],
    L2: [inductor("0.5 mH", { dcr: 0.2 }), "a", "b"],
    K1: [coupling(0.3), "L1", "L2"],
    R1: [resistor(1), "in", "a"],
    C2: [capacitor("3 µF"), "b", "gnd"],
    woofer: [driverImpedance(measured), "b", "gnd"],
    dome: [driverImpedance({ re: 5, k: 0.02, n: 0.6, fs: 700, qms: 2, qes: 1 }), "a", "gnd"],
  });

  it("don't show: every answer has the bits it has at its frequency alone", () => {
    const grid = new Float64Array(140_000);
    grid.set(logGrid(20, 20_000, 139_999), 1);
    const sweep = solve(entries, grid, { sourceImpedance: { resistance: 0.1, inductance: 1e-6 } });
    const points = [0, 1, 2, 127, 128, 131_071, 131_072, 131_073, 139_998, 139_999];
    const few = solve(
      entries,
      points.map((point) => grid[point]!),
      { sourceImpedance: { resistance: 0.1, inductance: 1e-6 } },
    );
    for (const ask of [
      (s: typeof sweep) => s.voltage("b"),
      (s: typeof sweep) => s.current("L2"),
      (s: typeof sweep) => s.current("dome"),
      (s: typeof sweep) => s.impedance,
    ]) {
      const [many, some] = [ask(sweep), ask(few)];
      points.forEach((point, k) => expect([many.re[point], many.im[point]]).toEqual([some.re[k], some.im[k]]));
    }
  });

  it("refuse at once what a measured impedance doesn't reach, on the shortest grid and on the longest", () => {
    for (const count of [2, 140_000]) {
      expect(() => solve(entries, logGrid(20, 40_000, count))).toThrow(expect.objectContaining({ code: "outside-measured-band" }) as Error);
    }
  });

  it("go on with a sum where the piece before ended", () => {
    const highPass = network({ C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(8), "t", "gnd"] });
    const grid = logGrid(200, 20_000, 400_000);
    const flat = frequencyResponse([100, 30_000], [1, 1], [0, 0]);
    const weights = grid.map((_, i) => (i % 7) / 400_000);
    const objective = sumObjective(highPass, { frequencies: grid, contributions: { tweeter: flat }, target: 0.9, weights, vary: ["C1"] });
    let sum = 0;
    grid.forEach((f, i) => {
      // |V|² of a first-order high-pass.
      const x = (2 * Math.PI * f * 8 * 9e-6) ** 2;
      sum += weights[i]! * (x / (1 + x) / 0.81 - 1) ** 2;
    });
    expect(Math.abs(objective.loss([9e-6]) / sum - 1)).toBeLessThan(1e-10);
  });

  it("scatter as one grid does", () => {
    const divider = network({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] });
    const { bands } = tolerance(divider, logGrid(20, 20_000, 140_000), { outputs: ["a"], samples: 1 });
    expect(new Set(bands.a.nominal).size).toBe(1);
  });
});

describe("answers don't hang on what else was asked for", () => {
  it("to the last bit, at and beside the resonance of traps without loss too", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e9 }),
        fc.integer({ min: 2, max: 8 }),
        fc.integer({ min: 0, max: 1 }),
        (seed, nodes, couplings) => {
          const random = seeded(seed);
          const entries: Entries = {
            ...randomNetwork(random, { nodes, decades: 2, loss: 0.5, couplings }),
            Ltrap: [inductor(1e-3), "in", "trap"],
            Ctrap: [capacitor(1e-5), "trap", "n0"],
            Rtrap: [resistor(3), "n0", "gnd"],
          };
          const resonance = 1 / (2 * Math.PI * Math.sqrt(1e-8));
          const grid = Float64Array.from(
            new Set(
              [...Array.from({ length: 40 }, (_, k) => resonance * (1 + 10 ** (-k / 3) * (k % 2 === 0 ? 1 : -1))), resonance].sort(
                (a, b) => a - b,
              ),
            ),
          );
          let all: Sweep;
          try {
            all = solve(entries, grid);
          } catch (error) {
            expect((error as { code: string }).code).toBe("no-solution");
            return;
          }
          void dissipation(all, { voltage: 1 });
          const compiled = compile(entries);
          for (const name of everyName(entries)) {
            const alone = bits(solve(entries, grid).voltage(name as never));
            expect(Buffer.compare(alone, bits(voltageOf(all, name)))).toBe(0);
            expect(Buffer.compare(alone, bits(voltageOf(compiled.sweep(grid) as Sweep, name)))).toBe(0);
          }
          expect(Buffer.compare(bits(solve(entries, grid).admittance), bits(all.admittance))).toBe(0);
        },
      ),
      { numRuns: cases(12) },
    );
  });

  it("and what lies opposite has a phase of 180°", () => {
    const sweep = solve({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] }, [10, 100, 1000]);
    expect([...phaseDegrees(sweep.voltageBetween("gnd", "a"))]).toEqual([180, 180, 180]);
    expect(valueAt(sweep.voltageBetween("gnd", "a"), 10).re).toBe(-0.75);
  });
});
