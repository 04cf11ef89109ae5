// Tests src/network/solve/: sweep-behind.ts
// Where the power goes: closed forms, and the balance of the source's power with the sum of all parts.
import { dissipation, network, solve, type Dissipation, type Entries, type Sweep } from "dividing-network/network";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nodesOf, randomNetwork, seeded } from "../support/random-network";
import { cases } from "../support/cases";

const near = (found: number, wanted: number, relative = 1e-14) =>
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(relative * Math.abs(wanted));

/** The worst mismatch between the source and the sum of the parts as the report itself gives them, over `scale`. */
function mismatch({ power, source, sourceImpedance }: Dissipation, scale: (i: number) => number): number {
  return Math.max(
    ...source.map(
      (watts, i) => Math.abs(watts - sourceImpedance[i]! - Object.values(power).reduce((sum, own) => sum + own[i]!, 0)) / scale(i),
    ),
  );
}

describe("dissipation", () => {
  it("of an L-pad is that of its two resistors", () => {
    const k = 10 ** (10 / 20);
    const padded = network({ P1: [lPad({ attenuationDb: 10, load: 8 }), "in", "t", "gnd"], tweeter: [resistor(8), "t", "gnd"] });
    const { power, share, source } = dissipation(solve(padded, [100, 1000]), { voltage: "4 V" });
    near(source[1]!, 2);
    near(power.tweeter[1]!, 2 / k ** 2);
    near(power.P1[1]!, 2 - 2 / k ** 2, 1e-13);
    near(share.tweeter[0]!, 1 / k ** 2);
  });

  it("of a lossless coil or capacitor is exactly 0, and of a lossy one |I|² times its resistance", () => {
    const entries = network({
      C1: [capacitor(10e-6), "in", "a"],
      L1: [inductor(1e-3), "a", "b"],
      L2: [inductor(0.5e-3, { dcr: 0.4 }), "b", "c"],
      C2: [capacitor(1e-5, { dissipationFactor: 0.01 }), "c", "d"],
      R1: [resistor(6), "d", "gnd"],
    });
    const sweep = solve(entries, [500, 2000]);
    const { power } = dissipation(sweep, { voltage: 1 });
    const square = sweep.current("R1").re.map((re, i) => re ** 2 + sweep.current("R1").im[i]! ** 2);
    expect([...power.C1, ...power.L1]).toEqual([0, 0, 0, 0]);
    for (const i of [0, 1]) {
      near(power.L2[i]!, 0.4 * square[i]!, 1e-13);
      near(power.R1[i]!, 6 * square[i]!, 1e-13);
      near(power.C2[i]!, (0.01 / (2 * Math.PI * sweep.frequencies[i]! * 1e-5)) * square[i]!, 1e-12);
    }
  });

  it("counts the source's own impedance: matched, each half gets a quarter of V²/R", () => {
    const { power, source, sourceImpedance, share } = dissipation(
      solve({ R1: [resistor(8), "in", "gnd"] }, [100], { sourceImpedance: { resistance: 8, inductance: 0 } }),
      { voltage: 10 },
    );
    near(source[0]!, 6.25);
    near(sourceImpedance[0]!, 3.125);
    near(power.R1[0]!, 3.125);
    near(share.R1[0]!, 0.5);
  });

  it("of coupled coils is the heat in each one's own resistance, and balances over the group", () => {
    const entries = network({
      L1: [inductor(1e-3, { dcr: 0.3 }), "in", "gnd"],
      L2: [inductor(2e-3, { dcr: 0.5 }), "s", "gnd"],
      K1: [coupling(0.8), "L1", "L2"],
      R1: [resistor(4), "s", "gnd"],
    });
    const sweep = solve(entries, [0, 300, 3000]);
    const report = dissipation(sweep, { voltage: 1 });
    const square = (part: "L1" | "L2", i: number) => sweep.current(part).re[i]! ** 2 + sweep.current(part).im[i]! ** 2;
    for (const i of [1, 2]) {
      near(report.power.L1[i]!, 0.3 * square("L1", i));
      near(report.power.L2[i]!, 0.5 * square("L2", i));
    }
    expect([report.power.L1[0], report.power.L2[0], report.power.R1[0]]).toEqual([1 / 0.3, 0, 0]);
    expect(Math.max(...report.imbalance)).toBeLessThan(1e-14);
  });

  it("of transformers: none in an ideal one, two windings' heat in a real one", () => {
    const ideal = dissipation(solve({ T1: [transformer({ ratio: 2 }), "in", "gnd", "s", "gnd"], R1: [resistor(4), "s", "gnd"] }, [50]), {
      voltage: 8,
    });
    expect(ideal.power.T1[0]).toBe(0);
    near(ideal.power.R1[0]!, 4, 1e-13);
    near(ideal.source[0]!, 4, 1e-13);
    const windings = transformer({
      primaryInductance: 0.1,
      secondaryInductance: 0.025,
      k: 0.99,
      primaryResistance: 0.5,
      secondaryResistance: 0.2,
    });
    const real = dissipation(solve({ T1: [windings, "in", "gnd", "s", "gnd"], R1: [resistor(4), "s", "gnd"] }, [50, 500]), { voltage: 8 });
    for (const i of [0, 1]) {
      expect(real.power.T1[i]!).toBeGreaterThan(0.1);
      near(real.power.T1[i]! + real.power.R1[i]!, real.source[i]!, 1e-12);
    }
  });

  it("knows drivers by their parameters and as measured", () => {
    const grid = [100, 200, 400];
    const dome = driverImpedance({ re: 5, le: 1e-4, fs: 200, qms: 3, qes: 1 });
    const measured = driverImpedance(solve({ d: [dome, "in", "gnd"] }, grid).impedance);
    const of = (part: typeof dome) => dissipation(solve({ R1: [resistor(2), "in", "a"], d: [part, "a", "gnd"] }, grid), { voltage: 2.83 });
    of(dome).power.d.forEach((watts, i) => near(of(measured).power.d[i]!, watts, 1e-13));
    near(of(dome).share.R1[1]! / of(dome).share.d[1]!, 2 / 20, 1e-13);
    const steep = frequencyResponse([100, 400], [3, 30], [0, 10]);
    expect(dissipation(solve({ d: [driverImpedance(steep), "in", "gnd"] }, [200]), { voltage: 1 }).imbalance[0]).toBeLessThan(1e-15);
  });

  it("is 0 everywhere, with shares of 0, where no power flows", () => {
    const { source, share, imbalance } = dissipation(solve({ C1: [capacitor(1e-6), "in", "gnd"] }, [0, 100]), { voltage: 1 });
    expect([...source, ...share.C1, ...imbalance]).toEqual([0, 0, 0, 0, 0, 0]);
  });

  it("balances to 1e-12 of the sum of |branch powers| on random networks over 12 decades", () => {
    let worst = 0;
    fc.assert(
      fc.property(fc.nat(), (seed) => {
        const random = seeded(seed);
        const entries: Entries = randomNetwork(random, {
          nodes: 1 + Math.floor(random() * 9),
          decades: 12,
          loss: random() < 0.3 ? 0.5 : 1,
          couplings: Math.floor(random() * 3),
        });
        const frequency = 10 ** (random() * 6 - 1);
        const sweep: Sweep = solve(
          entries,
          [frequency],
          random() < 0.5 ? {} : { sourceImpedance: { resistance: 10 ** (random() * 6 - 3), inductance: 1e-6 } },
        );
        const report = dissipation(sweep, { voltage: 3 });
        const size = (response: { readonly re: Float64Array; readonly im: Float64Array }) => Math.hypot(response.re[0]!, response.im[0]!);
        const parts = Object.keys(entries).filter((name) => entries[name]![0].kind !== "coupling");
        const scale =
          9 * (size(sweep.sourceCurrent) + parts.reduce((sum, name) => sum + size(sweep.voltage(name)) * size(sweep.current(name)), 0));
        const miss = scale > 0 ? mismatch(report, () => scale) : 0;
        worst = Math.max(worst, miss);
        expect(miss).toBeLessThanOrEqual(1e-12);
        expect(report.imbalance[0]!).toBeLessThanOrEqual(1e-12);
        for (const own of Object.values(report.power)) expect(own[0]!).toBeGreaterThanOrEqual(0);
        const shares = Object.values(report.share).reduce((sum, own) => sum + own[0]!, 0);
        expect(shares).toBeLessThanOrEqual(1 + 1e-12);
      }),
      { numRuns: cases(500) },
    );
    expect(worst).toBeGreaterThan(0);
  });

  it("changes nothing in the sweep and refuses what isn't one", () => {
    const entries = network({ R1: [resistor(8), "in", "a"], C1: [capacitor(1e-5, { esr: 0.1 }), "a", "gnd"] });
    const sweep = solve(entries, [100, 200]);
    const before = [
      sweep.frequencies.slice(),
      ...nodesOf(entries).flatMap((node) => [sweep.voltage(node as "a").re.slice(), sweep.voltage(node as "a").im.slice()]),
    ];
    dissipation(sweep, { voltage: 2 });
    expect([
      sweep.frequencies,
      ...nodesOf(entries).flatMap((node) => [sweep.voltage(node as "a").re, sweep.voltage(node as "a").im]),
    ]).toEqual(before);
    const code = (wanted: string) => expect.objectContaining({ code: wanted });
    expect(() => dissipation({ ...sweep }, { voltage: 1 })).toThrow(code("invalid-argument"));
    expect(() => dissipation(null as never, { voltage: 1 })).toThrow(code("invalid-argument"));
    expect(() => dissipation(sweep, { voltage: 0 })).toThrow(code("invalid-argument"));
    expect(() => dissipation(sweep, {} as never)).toThrow(code("invalid-argument"));
    expect(() => dissipation(sweep, { voltage: 1, power: 2 } as never)).toThrow(code("unknown-option"));
  });
});
