// Tests src/network/scatter/: extreme-along.ts, worst-place.ts
// The worst cases of `tolerance` against closed forms and dense grids of values, computed here by the formulas of the circuits.
import { capacitor, driverImpedance, inductor, network, resistor, tolerance } from "dividing-network";
import { seededRandom } from "../../src/numeric/random";
import { extremeAlong } from "../../src/network/scatter/extreme-along";
import { describe, expect, it } from "vitest";

const dB = (ratio: number): number => 20 * Math.log10(ratio);
type C = readonly [re: number, im: number];
const divide = ([a, b]: C, [c, d]: C): C => [(a * c + b * d) / (c * c + d * d), (b * c - a * d) / (c * c + d * d)];
const parallel = (x: C, y: C): C =>
  divide([1, 0], [divide([1, 0], x)[0] + divide([1, 0], y)[0], divide([1, 0], x)[1] + divide([1, 0], y)[1]]);

describe("the worst cases of a series trap across the load", () => {
  const [R, L, C, r, load] = [4, 0.5e-3, 10e-6, 0.15, 8];
  const resonance = 1 / (2 * Math.PI * Math.sqrt(L * C));
  const trap = network({
    R1: [resistor(R), "in", "t"],
    L1: [inductor(L, { dcr: r }), "t", "x"],
    C1: [capacitor(C), "x", "gnd"],
    tweeter: [resistor(load), "t", "gnd"],
  });
  const frequencies = [0.9, 0.95, 0.98, 1, 1.02, 1.05, 1.1].map((ratio) => ratio * resonance);
  const level = (f: number, l: number, c: number): number => {
    const z = parallel([r, 2 * Math.PI * f * l - 1 / (2 * Math.PI * f * c)], [load, 0]);
    const [re, im] = divide(z, [R + z[0], z[1]]);
    return dB(Math.hypot(re, im));
  };
  const { bands } = tolerance(trap, frequencies, {
    outputs: ["t"],
    tolerances: { L1: 0.1, C1: 0.05 },
    corners: true,
    samples: 3000,
    percentiles: [0, 1, 50, 100],
  });
  const { lowest, highest } = bands.t.corners!;

  it("hold the nominal and every percentile", () => {
    frequencies.forEach((_, i) => {
      for (const value of [bands.t.nominal[i]!, ...bands.t.percentiles.map((curve) => curve[i]!)]) {
        expect(value).toBeGreaterThanOrEqual(lowest[i]!);
        expect(value).toBeLessThanOrEqual(highest[i]!);
      }
    });
  });

  it("reach the null wherever the tolerances let the trap resonate there: r ∥ load behind R", () => {
    const null_ = 1 / (1 / r + 1 / load);
    frequencies.forEach((f, i) => {
      // Resonance at f asks L·C = 1/ω²; 0.9 × 0.95 … 1.1 × 1.05 of the nominal product can be had.
      const wanted = (resonance / f) ** 2;
      if (wanted > 0.86 && wanted < 1.15) expect(lowest[i]).toBeCloseTo(dB(null_ / (R + null_)), 9);
      else expect(lowest[i]!).toBeGreaterThan(dB(null_ / (R + null_)) + 0.01);
    });
  });

  it("are not exceeded on a dense grid of values, and the highest is reached there", () => {
    frequencies.forEach((f, i) => {
      let [least, most] = [Infinity, -Infinity];
      for (let a = -200; a <= 200; a++) {
        for (let b = -200; b <= 200; b++) {
          const value = level(f, L * (1 + (0.1 * a) / 200), C * (1 + (0.05 * b) / 200));
          [least, most] = [Math.min(least, value), Math.max(most, value)];
        }
      }
      expect(least).toBeGreaterThan(lowest[i]! - 1e-9);
      expect(most).toBeLessThan(highest[i]! + 1e-9);
      expect(most).toBeGreaterThan(highest[i]! - 1e-6);
    });
  });
});

describe("the worst cases of an impedance at a driver's resonance", () => {
  it("are the peak itself where the resonance can be moved onto the frequency", () => {
    const driver = network({ d: [driverImpedance({ re: 6, fs: 800, qms: 3, qes: 1.5 }), "in", "gnd"] });
    const { bands } = tolerance(driver, [780, 820], {
      outputs: ["impedance"],
      tolerances: { d: { fs: 0.05 } },
      corners: true,
      samples: 100,
    });
    for (const highest of bands.impedance.corners!.highest) expect(highest).toBeCloseTo(6 * (1 + 3 / 1.5), 6);
  });
});

describe("the worst cases of more values than all corners are looked at for", () => {
  it("are those of a divider by closed form: seven resistors above at one end, seven below at the other", () => {
    const name = (k: number) => (k === 0 ? "in" : k === 14 ? "gnd" : `n${k}`);
    const chain = network(
      Object.fromEntries(Array.from({ length: 14 }, (_, k) => [`R${k}`, [resistor(k + 1), name(k), name(k + 1)] as const])),
    );
    const { bands } = tolerance(chain, [100], { outputs: ["n7"], byKind: { resistor: 0.1 }, corners: true, samples: 10 });
    // 1 + … + 7 = 28 Ω above, 8 + … + 14 = 77 Ω below.
    const level = (above: number, below: number) => dB((77 * below) / (28 * above + 77 * below));
    const { lowest, highest } = bands["n7"]!.corners!;
    expect(lowest[0]).toBeCloseTo(level(1.1, 0.9), 10);
    expect(highest[0]).toBeCloseTo(level(0.9, 1.1), 10);
  });

  it("are searched for in steps that tell how far they are, and stop when they are told to", () => {
    const divider = network({ R1: [resistor(2), "in", "a"], R2: [resistor(6), "a", "gnd"] });
    const seen: (readonly [number, number])[] = [];
    const signal = { aborted: false };
    const options = { outputs: ["a", "impedance"], corners: true, samples: 16 } as const;
    tolerance(divider, [100, 200, 300], { ...options, onProgress: (done, total) => void seen.push([done, total]) });
    // 16 samples; then 2 outputs × 2 ends × 3 frequencies.
    expect(seen.map(([done]) => done)).toEqual([0, ...Array.from({ length: 13 }, (_, k) => 16 + k)]);
    expect(seen.every(([, total]) => total === 28)).toBe(true);
    const stopped = () => tolerance(divider, [100, 200, 300], { ...options, signal, onProgress: (done) => (signal.aborted = done >= 20) });
    expect(stopped).toThrow(expect.objectContaining({ code: "aborted" }) as Error);
  });
});

describe("the extreme of a function on −1 … 1", () => {
  const random = seededRandom(5);
  const draw = (): number => 2 * random() - 1;

  it("of a ratio of quadratics is that of a dense grid, for seeded bilinear functions with nulls and peaks", () => {
    for (let run = 0; run < 400; run++) {
      const [a, b, c, d] = Array.from({ length: 4 }, (): C => [draw(), draw()]) as [C, C, C, C];
      const f = (x: number): number =>
        ((a[0] + b[0] * x) ** 2 + (a[1] + b[1] * x) ** 2) / ((2 + c[0] + d[0] * x) ** 2 + (c[1] + d[1] * x) ** 2);
      const dense = Array.from({ length: 20_001 }, (_, k) => f(-1 + k / 10_000));
      const [least, most] = [Math.min(...dense), Math.max(...dense)];
      const [low, high] = [extremeAlong(f, -1), extremeAlong(f, 1)];
      expect(low.value).toBeLessThanOrEqual(least + 1e-9 * most);
      expect(high.value).toBeGreaterThanOrEqual(most * (1 - 1e-9));
      for (const { at, value } of [low, high]) {
        expect(Math.abs(at)).toBeLessThanOrEqual(1);
        expect(value).toBe(f(at));
      }
    }
  });

  it("of a function that is no such ratio is found by searching", () => {
    const bump = (x: number): number => 1 / (0.01 + (x - 0.3337) ** 4);
    expect(extremeAlong(bump, 1).value).toBeCloseTo(100, 6);
    expect(extremeAlong((x) => 2 - bump(x) / 100, -1).value).toBeCloseTo(1, 6);
  });

  it("of a constant is the constant", () => {
    expect(extremeAlong(() => 3, 1)).toEqual({ at: 0, value: 3 });
    expect(extremeAlong(() => 0, -1)).toEqual({ at: 0, value: 0 });
  });
});
