// Tests src/parts/: three-point-rule.ts
// The classic rule on curves of which the answer is known: a parabola over the logarithm of frequency, and the resonance of a driver without a coil, whose two points lie at √(Re·Zmax) by closed form.
// Source: after Thiele (1971) and Small (1972); f₁·f₂ = fs², (f₂ − f₁)/fs = √r₀/Qms.
import { logGrid } from "dividing-network/numeric";
import { describe, expect, it } from "vitest";
import { peakIndex, threePointRule, type ThreePointParameters } from "../../src/parts/three-point-rule";

const found = (answer: ThreePointParameters | string): ThreePointParameters => {
  if (typeof answer === "string") throw new Error(answer);
  return answer;
};
const size = (f: number, re: number, res: number, fs: number, qms: number) => {
  const x = qms * (f / fs - fs / f);
  const d = 1 + x * x;
  return Math.hypot(re + res / d, (res * x) / d);
};

describe("the three-point rule", () => {
  it("reads fs, Q and symmetry of a resonance without a coil, wherever the samples fall", () => {
    for (const [re, res, fs, qms] of [
      [6, 30, 50, 3],
      [3.2, 12, 830, 1.5],
      [7, 90, 27, 8],
    ] as const) {
      for (const shift of [0, 0.3, 0.77]) {
        const grid = logGrid((fs / 20) * 1.01 ** shift, fs * 20, 3000);
        const z = grid.map((f) => size(f, re, res, fs, qms));
        const rule = found(threePointRule(grid, z, re, peakIndex(z)));
        const qes = (qms * re) / res;
        expect(rule.re).toBe(re);
        for (const [value, wanted] of [
          [rule.fs, fs],
          [rule.zmax, re + res],
          [rule.qms, qms],
          [rule.qes, qes],
          [rule.qts, (qms * qes) / (qms + qes)],
          [rule.symmetry, 1],
          [rule.f1 * rule.f2, fs * fs],
          [(rule.f2 - rule.f1) / fs, Math.sqrt(1 + res / re) / qms],
        ] as const)
          expect(Math.abs(value / wanted - 1)).toBeLessThan(2e-5);
      }
    }
  });

  it("takes the peak from the parabola through the highest three samples, over the logarithm of frequency", () => {
    // |Z| = 40 − 60 (ln f − ln 50)²: three samples tell it exactly, uneven ones too.
    for (const steps of [
      [-0.3, 0.05, 0.2],
      [-0.11, -0.02, 0.31],
      [-0.2, 0, 0.2],
    ]) {
      const grid = [10, 20, ...steps.map((step) => 50 * Math.exp(step)), 120, 200];
      const z = grid.map((f) => Math.max(5, 40 - 60 * Math.log(f / 50) ** 2));
      const rule = found(threePointRule(grid, z, 5, 3));
      expect(rule.fs).toBeCloseTo(50, 9);
      expect(rule.zmax).toBeCloseTo(40, 9);
    }
  });

  it("reads the two points straight between samples, over the logarithms of both", () => {
    // Peak 64 Ω, Re 4 Ω: √(4·64) = 16 Ω. From 32 Ω to 8 Ω the logarithm's middle is 16 Ω, at the geometric mean of the frequencies.
    const grid = [10, 20, 30, 40, 41, 42, 60, 90, 200];
    const z = [4, 8, 32, 63, 64, 63, 32, 8, 4];
    const rule = found(threePointRule(grid, z, 4, 4));
    expect(rule.f1).toBeCloseTo(Math.sqrt(20 * 30), 1);
    expect(rule.f2).toBeCloseTo(Math.sqrt(60 * 90), 1);
    const target = Math.sqrt(4 * rule.zmax);
    const share = (Math.log(32) - Math.log(target)) / Math.log(4);
    expect(rule.f1).toBeCloseTo(30 * (20 / 30) ** share, 9);
    expect(rule.f2).toBeCloseTo(60 * (90 / 60) ** share, 9);
    expect(rule.qms).toBeCloseTo((rule.fs * Math.sqrt(rule.zmax / 4)) / (rule.f2 - rule.f1), 9);
    expect(rule.symmetry).toBeCloseTo(Math.sqrt(rule.f1 * rule.f2) / rule.fs, 12);
    // On the very first and the very last sample they are still seen.
    const tight = found(threePointRule([30, 40, 41, 42, 60], [4, 63, 64, 63, 4], 4, 2));
    expect([tight.f1 > 30 && tight.f1 < 40, tight.f2 > 42 && tight.f2 < 60]).toEqual([true, true]);
  });

  it("says why it doesn't apply: on which side |Z| doesn't fall, no peak above Re, samples too close for a Q", () => {
    const grid = [10, 20, 40, 80, 160];
    expect(threePointRule(grid, [30, 40, 60, 10, 4], 4, 2)).toMatch(
      /does not fall to √\(Re Zmax\) = 15\.\d+ Ω below the peak at \d+\.\d+ Hz/,
    );
    expect(threePointRule(grid, [4, 10, 60, 40, 30], 4, 2)).toMatch(/above the peak/);
    expect(threePointRule(grid, [30, 40, 60, 40, 30], 4, 2)).toMatch(/below the peak/);
    expect(threePointRule(grid, [4, 5, 6, 5, 4], 7, 2)).toMatch(/^the peak of 6\.\d+ Ω is not above Re = 7 Ω$/);
    expect(threePointRule(grid, [4, 5, 6, 5, 4], 5.9, 2)).toMatchObject({ re: 5.9 });
    // Two neighbours of 50 Hz in double precision: the two points are the same number.
    const step = 50 * Number.EPSILON;
    expect(threePointRule([50, 50 + step, 50 + 2 * step], [4, 64, 4], 4, 1)).toMatch(/the peak at 50\.00 Hz are too close together/);
  });

  it("looks for the peak that stands highest above both its sides, as a ratio", () => {
    expect(peakIndex([1, 2, 3, 2, 1])).toBe(2);
    // A coil that rises higher than the resonance is none: an end never is.
    expect(peakIndex([6, 30, 6, 8, 20, 60])).toBe(1);
    expect(peakIndex([60, 20, 6, 30, 6])).toBe(3);
    // A ripple of 2 on 100 is less of a peak than 3 on 1.
    expect(peakIndex([100, 110, 100, 1, 3, 1])).toBe(4);
    expect(peakIndex([1, 3, 1, 2.5, 1])).toBe(1);
    expect(peakIndex([1, 2.5, 1, 3, 1])).toBe(3);
    // Of equal ones the first.
    expect(peakIndex([1, 3, 1, 3, 1])).toBe(1);
    for (const none of [[], [5], [5, 6], [6, 5], [1, 2, 3], [3, 2, 1], [2, 2, 2], [3, 1, 3]]) expect(peakIndex(none)).toBe(-1);
  });
});
