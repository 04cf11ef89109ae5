// Tests src/network/scatter/: factors-within.ts, varying-network.ts
// Tests src/network/solve/: write-value.ts
// Factors of couplings and ratios of transformers that scatter: against L1 + L2 ± 2M and mesh equations by hand, solutions of 50 digits, and networks drawn anew over arbitrary ones.
import { capacitor, coupling, inductor, network, resistor, solve, transformer, type Entries } from "dividing-network";
import { spread } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import { tolerance } from "dividing-network/network";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { circuitOf } from "../../src/network/circuit";
import { tolerancedValues, varyingNetwork } from "../../src/network/internal";
import { arbitraryNetwork } from "../support/arbitrary-network";
import { cases } from "../support/cases";
import { solvePrecisely } from "../support/precise";
import { flat } from "../support/synthetic";
import { uniform } from "../support/uniform";

const dB = (ratio: number) => 20 * Math.log10(ratio);
const [omega, r] = [2 * Math.PI * 1000, 4];
const series = (k: number, turned = false) =>
  network({
    L1: [inductor(1e-3), "in", "m"],
    L2: [inductor(0.4e-3), ...(turned ? (["d", "m"] as const) : (["m", "d"] as const))],
    cone: [resistor(r), "d", "gnd"],
    K1: [coupling(k), "L1", "L2"],
  });
const ohms = (k: number) => Math.hypot(r, omega * (1.4e-3 + 2 * k * Math.sqrt(0.4e-6)));

describe("a coupling's factor", () => {
  it("scatters between the ends that L1 + L2 ± 2M has, where it is named", () => {
    for (const turned of [false, true]) {
      const sign = turned ? -1 : 1;
      const { bands } = tolerance(series(0.3, turned), [1000], {
        outputs: ["impedance", "cone"],
        tolerances: { K1: 0.2 },
        corners: true,
        samples: 400,
        percentiles: [0, 50, 100],
      });
      const ends = [ohms(sign * 0.24), ohms(sign * 0.36)].sort((a, b) => a - b);
      expect(bands.impedance.nominal[0]).toBeCloseTo(ohms(sign * 0.3), 10);
      expect(bands.impedance.corners!.lowest[0]).toBeCloseTo(ends[0]!, 9);
      expect(bands.impedance.corners!.highest[0]).toBeCloseTo(ends[1]!, 9);
      const [least, , most] = bands.impedance.percentiles.map(([value]) => value!);
      expect(least).toBeGreaterThan(ends[0]!);
      expect(most).toBeLessThan(ends[1]!);
      expect(most! - least!).toBeGreaterThan(0.95 * (ends[1]! - ends[0]!));
      // The current through all of it makes the cone's voltage.
      expect(bands.cone.corners!.highest[0]).toBeCloseTo(dB(r / ends[0]!), 9);
    }
  });

  it("stays where nothing names it, by kind as by default", () => {
    for (const options of [{ byKind: { inductor: 0 } }, { tolerances: {} }]) {
      const { bands } = tolerance(series(0.3), [1000], { outputs: ["impedance"], samples: 20, percentiles: [0, 100], ...options });
      for (const [value] of bands.impedance.percentiles) expect(value).toBeCloseTo(ohms(0.3), 12);
    }
    const same = tolerance(series(0.3), [1000], { outputs: ["cone"], samples: 50 });
    expect(same).toEqual(tolerance(series(0.3), [1000], { outputs: ["cone"], samples: 50, byKind: { resistor: 0.05, inductor: 0.05 } }));
  });

  it("holds where its ends are too tight for the elimination of nodes, to the solutions of 50 digits", () => {
    const entries = (k: number) =>
      network({
        L1: [inductor(1e-3, { dcr: 0.1 }), "in", "gnd"],
        L2: [inductor(4e-3, { dcr: 0.2 }), "s", "gnd"],
        C1: [capacitor(2e-6), "s", "q"],
        load: [resistor(8), "q", "gnd"],
        K1: [coupling(k), "L1", "L2"],
      });
    const { bands } = tolerance(entries(0.93), [300, 3000], {
      outputs: ["q"],
      tolerances: { K1: { k: 0.07 } },
      corners: true,
      samples: 10,
    });
    [300, 3000].forEach((f, i) => {
      const levels = [0.93 * 0.93, 0.93 * 1.07].map((k) => {
        const [re, im] = solvePrecisely(entries(k), f).voltage("q");
        return dB(re.pow(2).plus(im.pow(2)).sqrt().toNumber());
      });
      expect(bands.q.corners!.lowest[i]).toBeLessThanOrEqual(Math.min(...levels) + 1e-9);
      expect(bands.q.corners!.highest[i]).toBeGreaterThanOrEqual(Math.max(...levels) - 1e-9);
    });
  });

  it("is refused a tolerance by which two coils, or three together, could store negative energy", () => {
    const refused = expect.objectContaining({ code: "invalid-argument" });
    const run = (entries: Entries, tolerances: Record<string, number>) => () =>
      tolerance(entries, [1000], { outputs: ["impedance"], tolerances, samples: 5 });
    expect(run(series(0.9), { K1: 0.2 })).toThrow(refused);
    expect(run(series(-0.9), { K1: 0.2 })).toThrow(/K1/);
    expect(run(series(0.9), { K1: 0.1 })).not.toThrow();
    const three = {
      ...series(0.7),
      L3: [inductor(1e-3), "m", "gnd"],
      K2: [coupling(0.6), "L1", "L3"],
      K3: [coupling(-0.1), "L2", "L3"],
    } as unknown as Entries;
    // 1 + 2·k12·k13·k23 − k12² − k13² − k23² is 0.056 as drawn, and below 0 with K1 and K2 at 1.05 of theirs.
    expect(run(three, { K1: 0.01 })).not.toThrow();
    expect(run(three, { K1: 0.05, K2: 0.05 })).toThrow(/K1 and K2|K1, K2/);
  });

  it("is refused exactly where one of all combinations of ends can't be, over arbitrary factors of four coils", () => {
    const pairs = [0, 1, 2, 3].flatMap((j) => Array.from({ length: j }, (_, i) => [i, j] as const));
    const determinantsHold = (k: readonly number[]) => {
      // Sylvester: all leading minors above 0, each by Gauss without pivoting.
      const a = [0, 1, 2, 3].map((i) =>
        [0, 1, 2, 3].map((j) => (i === j ? 1 : k[pairs.findIndex(([p, q]) => p === Math.min(i, j) && q === Math.max(i, j))]!)),
      );
      for (let p = 0; p < 4; p++) {
        if (!(a[p]![p]! > 1e-9)) return a[p]![p]! > -1e-9 ? undefined : false;
        for (let i = p + 1; i < 4; i++) {
          const factor = a[i]![p]! / a[p]![p]!;
          for (let j = p; j < 4; j++) a[i]![j]! -= factor * a[p]![j]!;
        }
      }
      return true;
    };
    let [kept, refused] = [0, 0];
    fc.assert(
      fc.property(fc.array(uniform(-0.9, 0.9), { minLength: 6, maxLength: 6 }), uniform(0, 0.6), (factors, size) => {
        const nominal = determinantsHold(factors);
        fc.pre(nominal === true);
        const ends = Array.from({ length: 64 }, (_, bits) =>
          determinantsHold(factors.map((k, i) => k * (1 + ((bits >> i) & 1 ? size : -size)))),
        );
        fc.pre(!ends.includes(undefined));
        const entries = {
          ...Object.fromEntries([1, 2, 3, 4].map((i) => [`L${i}`, [inductor(1e-3, { dcr: 1 }), "in", "gnd"]])),
          ...Object.fromEntries(pairs.map(([i, j], at) => [`K${i}${j}`, [coupling(factors[at]!), `L${i + 1}`, `L${j + 1}`]])),
        } as unknown as Entries;
        const byPart = Object.fromEntries(pairs.map(([i, j]) => [`K${i}${j}`, size]));
        let holds = true;
        try {
          tolerancedValues("test", circuitOf(entries), byPart, undefined);
        } catch {
          holds = false;
        }
        expect(holds).toBe(ends.every((end) => end === true));
        if (holds) kept++;
        else refused++;
      }),
      { numRuns: cases(300) },
    );
    expect(Math.min(kept, refused)).toBeGreaterThan(10);
  });
});

describe("a transformer's ratio", () => {
  const loaded = (ratio: number) =>
    network({ R1: [resistor(2), "in", "p"], T1: [transformer({ ratio }), "p", "gnd", "s", "gnd"], load: [resistor(8), "s", "gnd"] });

  it("scatters as 2 + 8n² does, whichever way it is wound, at 0 Hz too", () => {
    for (const ratio of [1.5, -1.5])
      for (const options of [{ tolerances: { T1: 0.1 } }, { tolerances: { T1: { ratio: 0.1 } } }, { byKind: { transformer: 0.1 } }]) {
        const { lowest, highest } = tolerance(loaded(ratio), [0, 1000], { outputs: ["impedance"], corners: true, samples: 20, ...options })
          .bands.impedance.corners!;
        for (const i of [0, 1]) {
          expect(lowest[i]).toBeCloseTo(2 + 8 * 1.35 ** 2, 10);
          expect(highest[i]).toBeCloseTo(2 + 8 * 1.65 ** 2, 10);
        }
      }
  });

  it("of two windings lies in their factor, which is asked for by its name", () => {
    const windings = { primaryInductance: 4e-3, secondaryInductance: 1e-3, primaryResistance: 0.5, secondaryResistance: 0.2 };
    const entries = network({
      T1: [transformer({ ...windings, k: 0.8 }), "in", "gnd", "s", "gnd"],
      R2: [resistor(4), "s", "gnd"],
    });
    const at = (k: number) => {
      // Mesh equations: 1 = Z₁I₁ + Zm I₂, 0 = Zm I₁ + (4 + Z₂) I₂, of which |V(s)| = 4 |I₂|.
      const [x1, r2, x2, m] = [omega * 4e-3, 4.2, omega * 1e-3, omega * k * 2e-3];
      return dB((4 * m) / Math.hypot(0.5 * r2 - x1 * x2 + m * m, 0.5 * x2 + x1 * r2));
    };
    const { corners } = tolerance(entries, [1000], { outputs: ["s"], tolerances: { T1: { k: 0.1 } }, corners: true, samples: 20 }).bands.s;
    expect(corners!.lowest[0]).toBeCloseTo(Math.min(at(0.72), at(0.88)), 9);
    expect(corners!.highest[0]).toBeCloseTo(Math.max(at(0.72), at(0.88)), 9);
    // A plain tolerance is that of the two inductances, as before.
    const plain = tolerancedValues("test", circuitOf(entries), { T1: 0.1 }, undefined);
    expect(plain.map(({ parameter }) => parameter)).toEqual(["primaryInductance", "secondaryInductance"]);
  });
});

describe("a network with other factors, ratios and values", () => {
  it("is the network drawn anew, over arbitrary ones", () => {
    fc.assert(
      fc.property(
        arbitraryNetwork({ decades: 2, kinds: ["resistor", "lossy coil", "lossy capacitor"], coupled: true, nodes: 4 }),
        uniform(-1, 1),
        fc.boolean(),
        (inner, share, behind) => {
          const build = (to: (entries: Entries) => Entries): Entries =>
            behind
              ? to({
                  Rs: [resistor(1.5), "in", "p"],
                  T1: [transformer({ ratio: 1.3 }), "p", "gnd", "s", "gnd"],
                  Rl: [resistor(9), "s", "gnd"],
                  ...Object.fromEntries(
                    Object.entries(inner).map(([name, [part, ...nodes]]) => [
                      name,
                      [part, ...nodes.map((node) => (node === "in" ? "s" : node))],
                    ]),
                  ),
                } as Entries)
              : to({ ...inner, Rl: [resistor(9), "in", "gnd"] } as Entries);
          const factor = 1 + 0.05 * share;
          const drawn = build((entries) => entries);
          const changed = build(
            (entries) =>
              Object.fromEntries(
                Object.entries(entries).map(([name, [part, ...nodes]]) => [
                  name,
                  [
                    part.kind === "coupling"
                      ? coupling(part.k * factor)
                      : part.kind === "transformer" && "ratio" in part
                        ? transformer({ ratio: part.ratio * factor })
                        : part.kind === "inductor"
                          ? { ...part, inductance: part.inductance * factor }
                          : part,
                    ...nodes,
                  ],
                ]),
              ) as Entries,
          );
          const grid = Float64Array.of(90, 700, 3000);
          const own = varyingNetwork("test", drawn, grid, ["Rl"], 0.3);
          const run = () => {
            own.run();
            return own.volts[0]!.re.slice();
          };
          const before = run();
          for (const { place, nominal } of tolerancedValues(
            "test",
            own.circuit,
            Object.fromEntries(
              Object.entries(drawn).flatMap(([name, [part]]) =>
                ["coupling", "transformer", "inductor"].includes(part.kind) ? [[name, 0.05]] : [],
              ),
            ),
            undefined,
          ))
            own.write(place, nominal * factor);
          const after = run();
          const of = (entries: Entries) => solve<Entries>(entries, grid, { sourceImpedance: 0.3 }).voltage("Rl").re;
          of(drawn).forEach((value, i) => expect(Math.abs(value - before[i]!)).toBeLessThan(1e-11));
          of(changed).forEach((value, i) => expect(Math.abs(value - after[i]!)).toBeLessThan(1e-11));
        },
      ),
      { numRuns: cases(100) },
    );
  });
});

describe("what the sound makes of it", () => {
  it("is the slope of R/√(R² + ω²L²) with L1 + L2 + 2M in it, and a deviation of a uniform one", () => {
    const box = loudspeaker({ network: series(0.3), drivers: [{ name: "cone", role: "woofer", pressures: flat }] });
    const { ranking } = spread(box, {
      goal: { frequencies: [1000], levelDb: 80 },
      tolerances: { K1: 0.01 },
      unstated: "exact",
      samples: 2,
    });
    expect(ranking).toHaveLength(1);
    expect(ranking[0]).toMatchObject({ of: ["K1"], quantity: "k", tolerance: 0.01 });
    const level = (k: number) => dB(r / ohms(k));
    const perTolerance = ((level(0.3 + 1e-6) - level(0.3 - 1e-6)) / 2e-6) * 0.003;
    expect(ranking[0]!.effectDb).toBeCloseTo(Math.abs(perTolerance) / Math.sqrt(3), 6);
  });
});
