// What networkToSpice writes, read by an independent general circuit simulator (eecircuit-engine, a SPICE-class engine in WebAssembly): the engine must
// accept it, operating point and all, and give the solver's voltages. 1e-6 of a voltage is the bar, as in tests/network/simulator-oracle.test.ts, beside
// what the netlist itself states: 1e-6 Ω and 10¹² Ω for the operating point, and the error of what is approximated.
import { Simulation } from "eecircuit-engine";
import { networkToSpice, solve, type Entries, type SpiceOptions } from "dividing-network/network";
import {
  capacitive,
  capacitor,
  coupling,
  driverImpedance,
  inductive,
  inductor,
  inParallel,
  inSeries,
  lPad,
  part,
  resistive,
  resistor,
  transformer,
} from "dividing-network/parts";
import { frequencyResponse, valueAt } from "dividing-network/response";
import { logGrid } from "dividing-network/numeric";
import { beforeAll, describe, expect, it } from "vitest";
import { nodesOf, randomNetwork, seeded } from "../../support/random-network";

const simulation = new Simulation();

beforeAll(() => simulation.start(), 120_000);

interface Simulated {
  readonly frequencies: Float64Array;
  column(name: string): { readonly re: readonly number[]; readonly im: readonly number[] } | undefined;
}

async function simulate(netlist: string): Promise<Simulated> {
  simulation.setNetList(netlist);
  const result = await simulation.runSim();
  if (result.dataType !== "complex") throw new Error(`${simulation.getError().join("\n")}\n${netlist}`);
  const columns = new Map(result.data.map(({ name, values }) => [name.toLowerCase(), values]));
  return {
    frequencies: Float64Array.from(columns.get("frequency")!, ({ real }) => real),
    column(name) {
      const values = columns.get(name.toLowerCase());
      return values && { re: values.map(({ real }) => real), im: values.map(({ img }) => img) };
    },
  };
}

/** The largest difference of any node's voltage between the solver and the simulator, as a share of the largest voltage at that frequency. */
async function worst(entries: Entries, options: SpiceOptions = {}): Promise<number> {
  const simulated = await simulate(networkToSpice(entries, options));
  const sweep = solve(
    entries,
    simulated.frequencies,
    options.sourceImpedance === undefined ? {} : { sourceImpedance: options.sourceImpedance },
  );
  const names = nodesOf(entries);
  const largest = simulated.frequencies.map((_, i) =>
    Math.max(...names.map((name) => Math.hypot(sweep.voltage(name).re[i]!, sweep.voltage(name).im[i]!))),
  );
  let [found, miss] = [0, 0];
  for (const name of names) {
    const ours = sweep.voltage(name);
    const theirs = simulated.column(`v(${name})`);
    if (theirs === undefined) continue;
    found++;
    largest.forEach((scale, i) => (miss = Math.max(miss, Math.hypot(ours.re[i]! - theirs.re[i]!, ours.im[i]! - theirs.im[i]!) / scale)));
  }
  expect(found).toBe(names.length);
  return miss;
}

describe("a simulator reads what networkToSpice writes", () => {
  it("and gives the voltages of random networks, with and without coupled coils", async () => {
    let miss = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const random = seeded(seed);
      const entries = randomNetwork(random, { nodes: 1 + Math.floor(random() * 9), decades: 2, couplings: seed % 3 });
      miss = Math.max(miss, await worst(entries, { band: { from: 20, to: 20_000 } }));
    }
    expect(miss).toBeLessThan(1e-6);
  });

  it("and those of pads, transformers, drivers, connections of 0 Ω and a source with an impedance", async () => {
    const driver = driverImpedance({ re: 5.1, le: "45 µH", re2: 2.2, le2: "0.1 mH", fs: "820 Hz", qms: 2.1, qes: 1.4 });
    const entries: Entries = {
      S1: [resistor(0), "in", "a"],
      C1: [capacitor("6.8 µF", { esr: "0.1 Ω" }), "a", "b"],
      L1: [inductor("0.33 mH", { dcr: "0.24 Ω" }), "b", "gnd"],
      L2: [inductor("1 mH", { dcr: "0.4 Ω" }), "a", "w"],
      K1: [coupling(-0.05), "L1", "L2"],
      pad: [lPad({ attenuationDb: 4, load: 6 }), "b", "c", "gnd"],
      tweeter: [driver, "gnd", "c"],
      T1: [transformer({ ratio: -1.5 }), "w", "gnd", "x", "b"],
      R2: [resistor(7), "x", "b"],
      T2: [
        transformer({ primaryInductance: "5 mH", secondaryInductance: "2 mH", k: 0.97, primaryResistance: 0.3, secondaryResistance: 0.2 }),
        "w",
        "gnd",
        "z",
        "gnd",
      ],
      woofer: [driverImpedance({ re: 3.3, k: 0.4, n: 1 }), "z", "gnd"],
    };
    expect(await worst(entries)).toBeLessThan(1e-6);
    expect(await worst(entries, { sourceImpedance: { resistance: 0.2, inductance: "2 µH" } })).toBeLessThan(1e-6);
  });

  it("and those of parts of one's own, whose laws stand in series and in parallel", async () => {
    const cored = part({
      title: "Cored coil",
      branches: [
        {
          law: inSeries(
            inParallel(inductive("1 mH"), resistive("150 Ω", "coreLoss")),
            resistive("0.3 Ω", "dcr"),
            inParallel(capacitive("10 µF"), resistive("20 Ω", "across")),
          ),
        },
      ],
    });
    const three = part({
      title: "Tee",
      terminals: 3,
      branches: [
        { from: 0, to: 1, law: resistive("2 Ω") },
        { from: 1, to: 2, law: inParallel(capacitive("4 µF"), inSeries(resistive("5 Ω", "leg"), inductive("2 mH"))) },
      ],
    });
    expect(
      await worst({ X1: [cored, "in", "w"], R1: [resistor(6), "w", "gnd"], X2: [three, "w", "t", "gnd"], R2: [resistor(8), "t", "gnd"] }),
    ).toBeLessThan(1e-6);
  });

  it("with coils without resistance on both sides of an ideal transformer, in parallel, and as small as a wire's", async () => {
    const sides: Entries = {
      R1: [resistor(4), "in", "a"],
      L1: [inductor(1e-3), "a", "gnd"],
      T1: [transformer({ ratio: 2 }), "a", "gnd", "b", "gnd"],
      L2: [inductor(2e-3), "b", "gnd"],
      R2: [resistor(8), "b", "gnd"],
    };
    expect(await worst(sides)).toBeLessThan(2e-6);
    expect(
      await worst({
        ...sides,
        T2: [transformer({ ratio: 3 }), "b", "gnd", "c", "d"],
        L3: [inductor(1e-3), "c", "d"],
        R3: [resistor(8), "d", "gnd"],
      }),
    ).toBeLessThan(2e-6);
    const small: Entries = { L1: [inductor(2e-8), "in", "a"], L2: [inductor(3e-8), "in", "a"], L3: [inductor(1e-8), "a", "gnd"] };
    expect(await worst(small)).toBeLessThan(5e-6);
  });

  it("where the operating point is no solution by itself: nodes behind capacitors, coils without resistance across the source, doubled connections", async () => {
    const entries: Entries = {
      L1: [inductor("1 mH"), "in", "gnd"],
      L2: [inductor("2 mH"), "in", "gnd"],
      C1: [capacitor("10 µF"), "in", "a"],
      C2: [capacitor("22 µF"), "a", "b"],
      R1: [resistor(4), "b", "c"],
      C3: [capacitor("33 µF"), "c", "gnd"],
      S1: [resistor(0), "a", "d"],
      S2: [resistor(0), "d", "a"],
      R2: [resistor(8), "d", "gnd"],
      T1: [transformer({ ratio: 2 }), "in", "gnd", "s", "b"],
      R3: [resistor(3), "s", "b"],
    };
    const text = networkToSpice(entries);
    expect(text).toContain("no path for direct current");
    expect(text).toContain("for the operating point alone");
    expect(text).toContain("VS2 is left out");
    expect(await worst(entries)).toBeLessThan(1e-6);
  });

  it("within the stated error, where a law is no circuit's", async () => {
    const noisy = seeded(7);
    const grid = logGrid(18, 22_000, 400);
    const drawn = driverImpedance({ re: 3.5, k: 0.011, n: 0.72, fs: 62, qms: 4, qes: 0.9 });
    const exact = solve({ D: [drawn, "in", "gnd"] }, grid).impedance;
    const curve = frequencyResponse(
      grid,
      exact.re.map((value) => value * (1 + 0.002 * (noisy() - 0.5))),
      exact.im.map((value) => value * (1 + 0.002 * (noisy() - 0.5))),
    );
    const parts = {
      lossy: capacitor("10 µF", { dissipationFactor: 0.008 }),
      coil: driverImpedance({ re: 0.001, k: 0.03, n: 0.6 }),
      measured: driverImpedance(curve),
    };
    for (const [name, part] of Object.entries(parts)) {
      const entries: Entries = { D: [part, "in", "gnd"] };
      const text = networkToSpice(entries);
      const stated = Number(/within ([\d.]+) %/.exec(text)![1]) / 100;
      const simulated = await simulate(text);
      const { impedance } = solve(
        entries,
        simulated.frequencies.filter((frequency) => frequency <= 20_000),
      );
      const current = simulated.column("i(vin)")!;
      let error = 0;
      impedance.frequencies.forEach((_, i) => {
        const size = current.re[i]! ** 2 + current.im[i]! ** 2;
        error = Math.max(
          error,
          Math.hypot(-current.re[i]! / size - impedance.re[i]!, current.im[i]! / size - impedance.im[i]!)
            / Math.hypot(impedance.re[i]!, impedance.im[i]!),
        );
      });
      // Two digits are stated, on another grid than the simulator's.
      expect([name, error < 1.1 * stated + 1e-5, stated < 0.02]).toEqual([name, true, true]);
      expect(valueAt(impedance, 1000).abs()).toBeGreaterThan(0.1);
    }
  });
});
