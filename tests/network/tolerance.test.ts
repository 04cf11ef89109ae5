// Tests src/network/scatter/: deviations.ts, level-limits.ts, named-outputs.ts, toleranced-values.ts, yield.ts
// Tests src/network/solve/: source.ts
// Tests src/network/spice/: section.ts
// What scatters, how, and how often it keeps within limits: against closed forms and exact probabilities.
import { network, solve, tolerance, type Entries } from "dividing-network/network";
import { capacitor, coupling, driverImpedance, inductor, lPad, resistor, transformer } from "dividing-network/parts";
import { levelDb, magnitude } from "dividing-network/response";
import { logGrid } from "dividing-network/numeric";
import { describe, expect, it } from "vitest";
import { seededRandom, xoshiro128 } from "../../src/numeric/random";
import { deviations, type Distribution } from "../../src/network/scatter/deviations";
import { yieldOf } from "../../src/network/scatter/yield";

const dB = (ratio: number) => 20 * Math.log10(ratio);
const divider = network({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] });
const threeParts = network({
  C1: [capacitor("6.8 µF", { esr: 0.02 }), "in", "a"],
  L1: [inductor("0.33 mH", { dcr: 0.24 }), "a", "gnd"],
  P1: [lPad({ attenuationDb: 4, load: 6 }), "a", "t", "gnd"],
  tweeter: [driverImpedance({ re: 5.1, le: 45e-6, fs: 820, qms: 2.1, qes: 1.4 }), "t", "gnd"],
});
const grid = logGrid(100, 20_000, 40);

describe("the random numbers", () => {
  it("are those of xoshiro128**, written again in big integers", () => {
    const mask = 0xffffffffn;
    const rotate = (x: bigint, k: bigint) => ((x << k) | (x >> (32n - k))) & mask;
    const s = [1n, 2n, 3n, 4n];
    const oracle = () => {
      const result = (rotate((s[1]! * 5n) & mask, 7n) * 9n) & mask;
      const t = (s[1]! << 9n) & mask;
      s[2]! ^= s[0]!;
      s[3]! ^= s[1]!;
      s[1]! ^= s[2]!;
      s[0]! ^= s[3]!;
      s[2]! ^= t;
      s[3] = rotate(s[3]!, 11n);
      return Number(result);
    };
    const next = xoshiro128(Uint32Array.of(1, 2, 3, 4));
    const words = Array.from({ length: 1000 }, () => next());
    expect(words).toEqual(Array.from({ length: 1000 }, oracle));
    // By hand from the formula: rotl(2·5, 7)·9, then rotl(0·5, 7)·9.
    expect(words.slice(0, 2)).toEqual([11520, 0]);
  });

  it("repeat for a seed, differ between seeds, and fill [0, 1) evenly", () => {
    const take = (seed: number, count: number) => Array.from({ length: count }, seededRandom(seed));
    expect(take(7, 100)).toEqual(take(7, 100));
    expect(take(7, 1)).not.toEqual(take(8, 1));
    const bins = new Array<number>(20).fill(0);
    for (const x of take(1, 100_000)) bins[Math.floor(20 * x)]!++;
    // χ² of 19 degrees of freedom: 43.8 is its 99.9 % point.
    expect(bins.reduce((sum, count) => sum + (count - 5000) ** 2 / 5000, 0)).toBeLessThan(43.8);
  });

  it("scatter as their distribution says: mean 0 and variance 1/3, 1/6, and a ninth less what the cut at three deviations takes", () => {
    // Variance of a normal variable cut off at ±3: 1 − 6·φ(3)/(2Φ(3) − 1), computed from φ(3) = 0.00443184841 and 2Φ(3) − 1 = 0.99730020.
    const cut = 1 - (6 * (Math.exp(-4.5) / Math.sqrt(2 * Math.PI))) / 0.9973002039367398;
    for (const [distribution, variance] of [
      ["uniform", 1 / 3],
      ["triangular", 1 / 6],
      ["normal", cut / 9],
    ] as [Distribution, number][]) {
      const draw = deviations(seededRandom(3), distribution);
      const count = 200_000;
      const all = Array.from({ length: count }, () => draw());
      const mean = all.reduce((sum, x) => sum + x, 0) / count;
      expect(Math.max(...all.map(Math.abs).slice(0, 10_000))).toBeLessThanOrEqual(1);
      expect(Math.abs(mean)).toBeLessThan(4 * Math.sqrt(variance / count));
      expect(all.reduce((sum, x) => sum + x * x, 0) / count / variance).toBeCloseTo(1, 2);
    }
  });
});

describe("the yield's interval", () => {
  it("solves Wilson's equation: at its ends the share found is 1.96 standard errors away", () => {
    for (const [passed, samples] of [
      [81, 263],
      [15, 148],
      [1, 29],
      [950, 1000],
    ] as const) {
      const { share, interval, confidence } = yieldOf(passed, samples);
      expect([share, confidence]).toEqual([passed / samples, 0.95]);
      for (const end of interval) expect(Math.abs(end - share) / Math.sqrt((end * (1 - end)) / samples)).toBeCloseTo(1.959963984540054, 9);
    }
  });

  it("has the digits recalled from Newcombe (1998), method 3: from memory, recomputed above", () => {
    const published = {
      "81/263": ["0.2553", "0.3662"],
      "15/148": ["0.0624", "0.1605"],
      "0/20": ["0.0000", "0.1611"],
      "1/29": ["0.0061", "0.1718"],
    };
    for (const [fraction, ends] of Object.entries(published)) {
      const [passed, samples] = fraction.split("/").map(Number) as [number, number];
      yieldOf(passed, samples).interval.forEach((end, side) => expect(Math.abs(end - Number(ends[side]))).toBeLessThanOrEqual(0.5e-4));
    }
    expect(yieldOf(20, 20).interval[1]).toBe(1);
  });
});

describe("tolerance", () => {
  it("has the nominal curves of solve", () => {
    const { bands } = tolerance(threeParts, grid, {
      outputs: ["t", "P1", "impedance"],
      samples: 10,
      sourceImpedance: { resistance: 0.3, inductance: 2e-6 },
    });
    const sweep = solve(threeParts, grid, { sourceImpedance: { resistance: 0.3, inductance: 2e-6 } });
    levelDb(sweep.voltage("t")).forEach((level, i) => expect(bands.t.nominal[i]).toBeCloseTo(level, 11));
    levelDb(sweep.voltage("P1")).forEach((level, i) => expect(bands.P1.nominal[i]).toBeCloseTo(level, 11));
    magnitude(sweep.impedance).forEach((ohms, i) => expect(bands.impedance.nominal[i]! / ohms).toBeCloseTo(1, 13));
    expect([bands.t.unit, bands.impedance.unit]).toEqual(["dB", "Ω"]);
  });

  it("finds percentiles near their true place, for each distribution", () => {
    // |Z| = R·(1 + t·x): its 10th percentile is that of x.
    const { samples } = { samples: 20_000 };
    const truth = { uniform: -0.8, triangular: Math.sqrt(0.2) - 1, normal: -1.2757 / 3 };
    for (const distribution of ["uniform", "triangular", "normal"] as const) {
      const { bands } = tolerance({ R1: [resistor(8), "in", "gnd"] }, [100], {
        outputs: ["impedance"],
        tolerances: { R1: 0.1 },
        distribution,
        samples,
        percentiles: [0, 10, 50, 90, 100],
      });
      const [lowest, tenth, middle, ninetieth, highest] = bands.impedance.percentiles.map((curve) => (curve[0]! / 8 - 1) / 0.1);
      expect(tenth).toBeCloseTo(truth[distribution], 1);
      expect(ninetieth).toBeCloseTo(-truth[distribution], 1);
      expect(Math.abs(middle!)).toBeLessThan(0.02);
      expect(lowest!).toBeGreaterThanOrEqual(-1.0000001);
      expect(highest!).toBeLessThanOrEqual(1.0000001);
    }
  });

  it("makes one network of a sample, at all frequencies and outputs, however the grid is divided", () => {
    // 5000 samples of 2 outputs over 500 frequencies are worked through in pieces.
    const resistive = tolerance(divider, logGrid(20, 20_000, 500), {
      outputs: ["a", "impedance"],
      samples: 5000,
      percentiles: [5, 95],
      limits: { output: "a", lowerDb: -2.6 },
    });
    for (const curve of [...resistive.bands.a.percentiles, ...resistive.bands.impedance.percentiles])
      expect(Math.max(...curve) - Math.min(...curve)).toBeLessThan(1e-12);
    const alone = tolerance(divider, [1000], {
      outputs: ["a", "impedance"],
      samples: 5000,
      percentiles: [5, 95],
      limits: { output: "a", lowerDb: -2.6 },
    });
    expect(resistive.yield).toEqual(alone.yield);
    // One sample: voltage and impedance tell the same two resistances.
    const one = tolerance(divider, [1000], { outputs: ["a", "R1", "impedance"], samples: 1, tolerances: { R1: 0.2 }, percentiles: [50] });
    const [a, r1, z] = [one.bands.a, one.bands.R1, one.bands.impedance].map(({ percentiles }) => percentiles[0]![0]!);
    expect(z).not.toBe(8);
    expect(a).toBeCloseTo(dB(6 / z!), 11);
    expect(r1).toBeCloseTo(dB((z! - 6) / z!), 11);
  });

  it("has the corners of a divider: the closed form with each resistor at an end", () => {
    const { bands } = tolerance(divider, [100, 1000], {
      outputs: ["a", "impedance"],
      tolerances: { R1: 0.05, R2: 0.1 },
      corners: true,
      samples: 500,
      sourceImpedance: 0.5,
      percentiles: [0, 100],
    });
    const level = (r1: number, r2: number) => dB(r2 / (0.5 + r1 + r2));
    for (const i of [0, 1]) {
      expect(bands.a.corners!.highest[i]).toBeCloseTo(level(1.9, 6.6), 11);
      expect(bands.a.corners!.lowest[i]).toBeCloseTo(level(2.1, 5.4), 11);
      expect(bands.impedance.corners!.highest[i]).toBeCloseTo(8.7, 11);
      expect(bands.impedance.corners!.lowest[i]).toBeCloseTo(7.3, 11);
      expect(bands.a.percentiles[0]![i]!).toBeGreaterThan(bands.a.corners!.lowest[i]!);
      expect(bands.a.percentiles[1]![i]!).toBeLessThan(bands.a.corners!.highest[i]!);
    }
  });

  it("finds the worst of all corners and what is worse between them, L-pad and driver included", () => {
    const tolerances = { C1: 0.05, L1: 0.1, P1: 0.02, tweeter: { re: 0.05, fs: 0.08 } } as const;
    const { bands } = tolerance(threeParts, grid, { outputs: ["t"], tolerances, corners: true, samples: 300, percentiles: [0, 100] });
    // Every combination of ends by solve, as networks drawn anew.
    const pad = threeParts.P1[0];
    const model = { re: 5.1, le: 45e-6, fs: 820, qms: 2.1, qes: 1.4 };
    const all = Array.from({ length: 64 }, (_, bits) => {
      const at = (bit: number, relative: number) => 1 + (bits & (1 << bit) ? relative : -relative);
      return levelDb(
        solve(
          {
            C1: [capacitor(6.8e-6 * at(0, 0.05), { esr: 0.02 }), "in", "a"],
            L1: [inductor(0.33e-3 * at(1, 0.1), { dcr: 0.24 }), "a", "gnd"],
            Rs: [resistor(pad.series * at(2, 0.02)), "a", "t"],
            Rp: [resistor(pad.shunt! * at(3, 0.02)), "t", "gnd"],
            tweeter: [driverImpedance({ ...model, re: 5.1 * at(4, 0.05), fs: 820 * at(5, 0.08) }), "t", "gnd"],
          },
          grid,
        ).voltage("t"),
      );
    });
    grid.forEach((_, i) => {
      const levels = all.map((list) => list[i]!);
      const { lowest, highest } = bands.t.corners!;
      // No corner is outside, and inside the tolerances hardly more than a tenth of what the corners span is to be gained here.
      const span = Math.max(...levels) - Math.min(...levels);
      expect(highest[i]!).toBeGreaterThan(Math.max(...levels) - 1e-10);
      expect(lowest[i]!).toBeLessThan(Math.min(...levels) + 1e-10);
      expect(highest[i]!).toBeLessThan(Math.max(...levels) + 0.1 * span);
      expect(lowest[i]!).toBeGreaterThan(Math.min(...levels) - 0.1 * span);
    });
  });

  it("states a yield whose interval holds the true share for about 95 % of seeds", () => {
    // a ≥ limit ⇔ R1 ≤ 2.06 of 1.9 … 2.1: the true share is 0.8.
    const limit = { output: "a", lowerDb: dB(6 / 8.06) } as const;
    let held = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const { yield: found } = tolerance(divider, [100], { outputs: ["a"], tolerances: { R1: 0.05 }, samples: 200, seed, limits: limit });
      expect(found!.samples).toBe(200);
      if (found!.interval[0] <= 0.8 && found!.interval[1] >= 0.8) held++;
    }
    // 285 expected, standard deviation 3.8.
    expect(held).toBeGreaterThanOrEqual(272);
    expect(held).toBeLessThanOrEqual(297);
  });

  it("counts a sample as good when it keeps every limit at every frequency", () => {
    const run = (limits: Parameters<typeof tolerance<typeof divider, "a" | "impedance">>[2]["limits"] & object) =>
      tolerance(divider, [100, 1000], { outputs: ["a", "impedance"], samples: 2000, byKind: { resistor: 0.05 }, limits }).yield!;
    expect(run({ output: "a", upperDb: 0 }).share).toBe(1);
    expect(run({ output: "a", upperDb: [0, -100] }).share).toBe(0);
    const [low, high] = [run({ output: "a", lowerDb: -2.55 }).passed, run({ output: "impedance", upper: 8.1 }).passed];
    const both = run([
      { output: "a", lowerDb: [-Infinity, -2.55] },
      { output: "impedance", upper: 8.1, lower: 0 },
    ]).passed;
    expect(both).toBeLessThan(Math.min(low, high));
    expect(both).toBeGreaterThanOrEqual(low + high - 2000);
    expect(tolerance(divider, [100], { outputs: ["a"], samples: 2 })).not.toHaveProperty("yield");
  });

  it("is deterministic for a seed, and another seed gives other samples of the same thing", () => {
    const run = (seed: number) => tolerance(threeParts, grid, { outputs: ["t", "impedance"], seed, samples: 400, distribution: "normal" });
    expect(run(5)).toEqual(run(5));
    expect(run(5).bands.t.percentiles[0]).not.toEqual(run(6).bands.t.percentiles[0]);
    expect(
      Math.max(...run(5).bands.t.percentiles[1]!.map((level, i) => Math.abs(level - run(6).bands.t.percentiles[1]![i]!))),
    ).toBeLessThan(0.1);
  });

  it("takes 5 % of resistors, coils, capacitors and L-pads when nothing is said, and only what is named otherwise", () => {
    const spread = (options: object) => {
      const { bands } = tolerance(threeParts, [300, 3000], { outputs: ["t"], samples: 50, percentiles: [0, 100], ...options });
      return Math.max(...bands.t.percentiles[1]!.map((level, i) => level - bands.t.percentiles[0]![i]!));
    };
    expect(spread({})).toBeGreaterThan(0.1);
    expect(spread({})).toBe(spread({ byKind: { resistor: 0.05, inductor: 0.05, capacitor: 0.05, "l-pad": 0.05 } }));
    expect(spread({ tolerances: {} })).toBe(0);
    expect(spread({ byKind: {} })).toBe(0);
    expect(spread({ tolerances: { C1: { esr: 0.1 } } })).toBeGreaterThan(0);
    expect(spread({ tolerances: { C1: { esr: 0.1 } } })).toBeLessThan(0.01);
    expect(spread({ tolerances: { C1: 0 }, byKind: { capacitor: 0.05 } })).toBe(0);
  });

  it("goes on through 0 Hz, 0 Ω, coupled coils and measured drivers", () => {
    const measured = driverImpedance(solve({ d: [resistor(6), "in", "gnd"] }, [0, 100, 1000]).impedance);
    const entries: Entries = {
      L1: [inductor(1e-3, { dcr: 0.5 }), "in", "a"],
      L2: [inductor(1e-3, { dcr: 0.5 }), "a", "b"],
      K1: [coupling(0.2), "L1", "L2"],
      W1: [resistor(0), "b", "c"],
      d: [measured, "c", "gnd"],
    };
    const { bands } = tolerance(entries, [0, 100, 1000], {
      outputs: ["d", "W1", "impedance"],
      tolerances: { L1: { inductance: 0.1, dcr: 0.1 }, L2: 0.1, W1: 0.5 },
      samples: 200,
    });
    expect(bands.d!.percentiles[1]![0]).toBeCloseTo(dB(6 / 7), 2);
    expect(bands.d!.percentiles[0]![2]!).toBeLessThan(bands.d!.percentiles[2]![2]! - 0.05);
    expect([...bands.W1!.nominal]).toEqual([-Infinity, -Infinity, -Infinity]);
    for (const curve of [...bands.d!.percentiles, ...bands.impedance!.percentiles]) expect(curve.every(Number.isFinite)).toBe(true);
    const { corners, nominal } = tolerance(entries, [0, 100, 1000], { outputs: ["d"], tolerances: { L1: 0.1 }, corners: true, samples: 50 })
      .bands.d!;
    // More inductance, less at the driver: M = k √(L1 L2) grows as well.
    const at = (share: number) => dB(6 / Math.hypot(7, 2 * Math.PI * 1000 * (1e-3 * (1 + share) + 1e-3 + 0.4e-3 * Math.sqrt(1 + share))));
    expect(corners!.lowest[2]).toBeCloseTo(at(0.1), 9);
    expect(corners!.highest[2]).toBeCloseTo(at(-0.1), 9);
    expect(nominal[2]).toBeCloseTo(at(0), 9);
    expect(corners!.lowest[0]).toBeCloseTo(dB(6 / 7), 9);
  });

  it("takes each winding of a transformer by its own names", () => {
    const windings = { primaryInductance: 4e-3, secondaryInductance: 1e-3, k: 0.9, primaryResistance: 0.5, secondaryResistance: 0.2 };
    const entries = network({
      R1: [resistor(1), "in", "p"],
      T1: [transformer(windings), "p", "gnd", "s", "gnd"],
      R2: [resistor(4), "s", "gnd"],
    });
    const change = { primaryInductance: 0.05, primaryResistance: 0.1, secondaryInductance: 0.02, secondaryResistance: 0.2 };
    for (const [name, relative] of Object.entries(change)) {
      const { lowest, highest } = tolerance(entries, [100], {
        outputs: ["s"],
        tolerances: { T1: { [name]: relative } },
        corners: true,
        samples: 20,
      }).bands.s.corners!;
      const at = (share: number) => {
        const changed = { ...windings, [name]: windings[name as keyof typeof change] * (1 + share) };
        // Mesh equations: 1 = (1 + Z₁) I₁ + Zm I₂, 0 = Zm I₁ + (4 + Z₂) I₂, of which |V(s)| = 4 |I₂|.
        const omega = 2 * Math.PI * 100;
        const [r1, x1] = [1 + changed.primaryResistance, omega * changed.primaryInductance];
        const [r2, x2] = [4 + changed.secondaryResistance, omega * changed.secondaryInductance];
        const m = omega * 0.9 * Math.sqrt(changed.primaryInductance * changed.secondaryInductance);
        return dB((4 * m) / Math.hypot(r1 * r2 - x1 * x2 + m * m, r1 * x2 + x1 * r2));
      };
      // Each value alone moves the level one way.
      const ends = [at(-relative), at(relative)];
      expect(lowest[0], name).toBeCloseTo(Math.min(...ends), 9);
      expect(highest[0], name).toBeCloseTo(Math.max(...ends), 9);
    }
    expect(() => tolerance(entries, [100], { outputs: ["s"], tolerances: { T1: { inductance: 0.1 } } })).toThrow(
      expect.objectContaining({ code: "unknown-option" }),
    );
  });

  it("says how far it is and stops when it is told to", () => {
    const seen: [number, number][] = [];
    tolerance(divider, [100], { outputs: ["a"], samples: 100, onProgress: (done, total) => void seen.push([done, total]) });
    expect(seen[0]).toEqual([0, 100]);
    expect(seen.at(-1)).toEqual([100, 100]);
    expect(seen.map(([done]) => done)).toEqual([...seen.map(([done]) => done)].sort((a, b) => a - b));
    const signal = { aborted: false };
    const stopped = () =>
      tolerance(divider, [100], { outputs: ["a"], samples: 1000, signal, onProgress: (done) => (signal.aborted = done >= 160) });
    expect(stopped).toThrow(expect.objectContaining({ code: "aborted", message: expect.stringContaining("after 176 of 1000") as string }));
    expect(() => tolerance(divider, [100], { outputs: ["a"], signal: AbortSignal.abort() })).toThrow(
      expect.objectContaining({ code: "aborted" }),
    );
  });

  it("changes nothing that it is given, and its answer survives cloning", () => {
    const limits = { output: "t", lowerDb: Float64Array.from(grid, () => -60) } as const;
    const before = structuredClone([threeParts, grid, limits]);
    const result = tolerance(threeParts, grid, { outputs: ["t"], limits, samples: 20, corners: true });
    expect([threeParts, grid, limits]).toEqual(before);
    expect(structuredClone(result)).toEqual(result);
  });

  it("refuses what makes no sense, naming it", () => {
    const run = (options: object) => () => tolerance(threeParts, [100], { outputs: ["t"], samples: 2, ...options });
    const code = (wanted: string) => expect.objectContaining({ code: wanted });
    expect(run({ outputs: [] })).toThrow(code("invalid-argument"));
    expect(run({ outputs: ["x"] })).toThrow(code("unknown-name"));
    expect(run({ tolerances: { C9: 0.1 } })).toThrow(code("unknown-option"));
    expect(run({ tolerances: { C1: 1 } })).toThrow(code("invalid-argument"));
    expect(run({ tolerances: { C1: "5 %" } })).toThrow(code("invalid-argument"));
    expect(run({ tolerances: { C1: { dcr: 0.1 } } })).toThrow(code("unknown-option"));
    expect(run({ tolerances: { tweeter: 0.1 } })).toThrow(/by the name of the value.*fs/);
    expect(run({ byKind: { driver: 0.1 } })).toThrow(code("unknown-option"));
    expect(run({ distribution: "gauss" })).toThrow(code("invalid-argument"));
    expect(run({ samples: 0 })).toThrow(code("invalid-argument"));
    expect(run({ samples: 1e7 })).toThrow(code("invalid-argument"));
    expect(run({ seed: -1 })).toThrow(code("invalid-argument"));
    expect(run({ percentiles: [101] })).toThrow(code("invalid-argument"));
    expect(run({ percentiles: 5 })).toThrow(code("invalid-argument"));
    expect(run({ corners: "yes" })).toThrow(code("invalid-argument"));
    expect(run({ limits: { output: "a" } })).toThrow(code("invalid-argument"));
    expect(run({ limits: { output: "t", upper: 1 } })).toThrow(code("invalid-argument"));
    expect(run({ limits: { output: "t", upperDb: [1, 2] } })).toThrow(code("invalid-argument"));
    expect(run({ limits: { output: "t", upperDb: NaN } })).toThrow(code("invalid-argument"));
    expect(run({ limit: {} })).toThrow(code("unknown-option"));
    expect(() => tolerance(threeParts, [0], { outputs: ["impedance"], samples: 2 })).toThrow(code("infinite-impedance"));
  });
});
