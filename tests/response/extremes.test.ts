// Tests src/response/: crossings.ts, magnitude-curve.ts
import { logGrid } from "dividing-network/numeric";
import { crossings, extremes, frequencyResponse, responseOf, type FrequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { errorOf } from "./closed-forms";

const omega = 2 * Math.PI * 1000;
/** ω₀²/(s² + sω₀/Q + ω₀²), sampled. */
const lowPassOf = (q: number, grid: Float64Array): FrequencyResponse => {
  const side = Math.sqrt(1 - 1 / (4 * q * q));
  const poles = [1, -1].map((sign) => ({ re: -omega / (2 * q), im: sign * omega * side }));
  return responseOf({ zeros: [], poles, gain: omega * omega }, grid);
};
const grid = logGrid(50, 20000, 415);
const real = (f: readonly number[], values: readonly number[]): FrequencyResponse =>
  frequencyResponse(
    f,
    values,
    values.map(() => 0),
  );

describe("where a magnitude turns", () => {
  it.each([1, 2, 4])("a resonance of Q %s peaks at f₀√(1 − 1/2Q²) with Q/√(1 − 1/4Q²), between the samples", (q) => {
    const { maxima, minima, highest } = extremes(lowPassOf(q, grid));
    expect(minima).toEqual([]);
    expect(maxima).toHaveLength(1);
    expect(maxima[0]!.frequency / (1000 * Math.sqrt(1 - 1 / (2 * q * q)))).toBeCloseTo(1, 3);
    expect(maxima[0]!.magnitude / (q / Math.sqrt(1 - 1 / (4 * q * q)))).toBeCloseTo(1, 4);
    expect(highest).toEqual(maxima[0]);
    expect(grid).not.toContain(maxima[0]!.frequency);
  });

  it("a null between two samples is found where the two parts pass through zero, which no sample shows", () => {
    // 1 − (f/f₀)² on both sides of f₀ = 1050 Hz, without a sample there.
    const f = logGrid(200, 5000, 60);
    const notch = frequencyResponse(
      f,
      f.map((hz) => 1 - (hz / 1050) ** 2),
      f.map(() => 0),
    );
    const { lowest, minima } = extremes(notch);
    expect(lowest.frequency / 1050).toBeCloseTo(1, 3);
    expect(lowest.magnitude).toBeLessThan(1e-6);
    expect(minima).toEqual([lowest]);
  });

  it("edges of the band are no turns, but lowest and highest take them in", () => {
    const falling = lowPassOf(0.6, grid);
    const { minima, maxima, lowest, highest } = extremes(falling, { from: "1 kHz", to: 12345 });
    expect([minima, maxima]).toEqual([[], []]);
    expect([highest.frequency, lowest.frequency]).toEqual([1000, 12345]);
  });

  it("turns alternate, and a ripple below the prominence asked for is none", () => {
    const f = logGrid(100, 10000, 241);
    const db = f.map((hz) => 0.2 * Math.sin(6 * Math.PI * Math.log10(hz / 100)) - 3 * Math.cos(2 * Math.PI * Math.log10(hz / 100)));
    const rippled = frequencyResponse(
      f,
      db.map((level) => 10 ** (level / 20)),
      f.map(() => 0),
    );
    const all = extremes(rippled);
    const large = extremes(rippled, { prominenceDb: 2 });
    expect(large.maxima).toHaveLength(2);
    expect(large.minima).toHaveLength(1);
    expect(all.maxima.length).toBeGreaterThanOrEqual(2);
    for (const each of large.maxima) expect(all.maxima).toContainEqual(each);
  });

  it("a constant has no turns", () =>
    expect(
      extremes(
        frequencyResponse(
          grid,
          grid.map(() => 3),
          grid.map(() => -4),
        ),
      ),
    ).toMatchObject({ minima: [], maxima: [] }));

  it("refuses a band without samples, and edges in the wrong order", () => {
    const response = lowPassOf(1, grid);
    expect(errorOf(() => extremes(response, { from: 10 })).code).toBe("outside-band");
    expect(errorOf(() => extremes(response, { from: 2000, to: 1000 })).code).toBe("invalid-argument");
    expect(errorOf(() => extremes(response, { prominenceDb: 0 })).code).toBe("invalid-argument");
  });

  it("refuses a magnitude that no number can hold", () => {
    const large = [1.7e308, 1.7e308, 1.7e308];
    expect(errorOf(() => extremes(frequencyResponse([100, 200, 400], large, large))).code).toBe("overflow");
  });
});

describe("where a level is crossed", () => {
  it("a first-order high-pass crosses each level once, at f₀/√(10^(−L/10) − 1)", () => {
    const highPass = responseOf({ zeros: [{ re: 0, im: 0 }], poles: [{ re: -omega, im: 0 }], gain: 1 }, grid);
    for (const level of [-20, -6, -3.0103, -1]) {
      const [first, ...rest] = crossings(highPass, level);
      expect(first!.frequency / (1000 / Math.sqrt(10 ** (-level / 10) - 1))).toBeCloseTo(1, 5);
      expect(first!.direction).toBe("rising");
      expect(rest).toEqual([]);
    }
  });

  it("a resonance that stands above the level crosses it twice, at the roots of the biquadratic", () => {
    // |H|² = 1/((1 − u)² + u/Q²) = 2 with u = (f/f₀)² and Q = 2
    const [b, c] = [-(2 - 1 / 4), 1 - 0.5];
    const roots = [-1, 1].map((sign) => 1000 * Math.sqrt((-b + sign * Math.sqrt(b * b - 4 * c)) / 2));
    const found = crossings(lowPassOf(2, grid), 10 * Math.log10(2));
    expect(found.map(({ direction }) => direction)).toEqual(["rising", "falling"]);
    found.forEach(({ frequency }, k) => expect(frequency / roots[k]!).toBeCloseTo(1, 4));
    expect(crossings(lowPassOf(2, grid), 20 * Math.log10(2.1))).toEqual([]);
  });

  it("the reference and the band count", () => {
    const response = real([100, 200, 400, 800], [1, 2, 4, 8]);
    expect(crossings(response, 0, { reference: 3 })[0]!.frequency).toBeCloseTo(300, 6);
    expect(crossings(response, 0, { reference: 3, from: 350 })).toEqual([]);
  });

  it("what only touches the level, or begins on it, doesn't cross", () => {
    expect(crossings(real([100, 200, 400, 800, 1600], [1, 1, 1, 1, 1]), 0)).toEqual([]);
    expect(crossings(real([100, 200, 400], [1, 2, 4]), 0)).toEqual([]);
  });

  it("refuses a level that is no number", () =>
    expect(errorOf(() => crossings(real([100, 200], [1, 2]), NaN)).code).toBe("invalid-argument"));

  it("a hair below a peak and above a dip is met twice, wherever between the samples that lies", () => {
    const coarse = logGrid(50, 20000, 90);
    const peak = extremes(lowPassOf(2, coarse)).highest;
    const around = crossings(lowPassOf(2, coarse), 20 * Math.log10(peak.magnitude) - 1e-7);
    expect(around.map(({ direction }) => direction)).toEqual(["rising", "falling"]);
    for (const { frequency } of around) expect(frequency / peak.frequency).toBeCloseTo(1, 3);
    expect(around[0]!.frequency).toBeLessThan(peak.frequency);
    expect(around[1]!.frequency).toBeGreaterThan(peak.frequency);
    const dipped = frequencyResponse(
      coarse,
      coarse.map(() => 1),
      coarse.map((f) => Math.log(f / 1010)),
    );
    const dip = extremes(dipped).lowest;
    expect(crossings(dipped, 20 * Math.log10(dip.magnitude) + 1e-7).map(({ direction }) => direction)).toEqual(["falling", "rising"]);
    expect(crossings(dipped, 20 * Math.log10(dip.magnitude) - 1e-7)).toEqual([]);
  });
});
