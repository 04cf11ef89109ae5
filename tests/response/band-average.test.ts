import { logGrid } from "dividing-network/numeric";
import { bandMeanLevelDb, bandPowerAverage, frequencyResponse, type FrequencyResponse } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { copied, errorOf, sample, secondOrder } from "./closed-forms";

const grid = logGrid(20, 20000, 240);
const real = (value: (f: number) => number, frequencies = grid): FrequencyResponse =>
  frequencyResponse(
    frequencies,
    frequencies.map(value),
    frequencies.map(() => 0),
  );

describe("band averages on a logarithmic axis", () => {
  it("of a power law are those of the integral in closed form", () => {
    // |H| = f/1000: ∫f² df/f = (b² − a²)/2, and the mean level is that of the geometric mean frequency.
    const response = real((f) => f / 1000);
    const [a, b] = [333.3, 4567.8];
    expect(bandPowerAverage(response, { from: a, to: b }) / ((b * b - a * a) / 2e6 / Math.log(b / a))).toBeCloseTo(1, 6);
    expect(bandMeanLevelDb(response, { from: a, to: b })).toBeCloseTo(20 * Math.log10(Math.sqrt(a * b) / 1000), 10);
    expect(bandMeanLevelDb(response, { from: a, to: b }, { reference: 2 })).toBeCloseTo(20 * Math.log10(Math.sqrt(a * b) / 2000), 10);
  });

  it("of a Butterworth low-pass agree with its integral", () => {
    // ∫ dx/(x(1 + x⁴)) = ¼ ln(x⁴/(1 + x⁴))
    const antiderivative = (f: number): number => Math.log((f / 1000) ** 4 / (1 + (f / 1000) ** 4)) / 4;
    const response = sample(secondOrder(1000, Math.SQRT1_2), grid);
    expect(bandPowerAverage(response, { from: 100, to: 5000 }) / ((antiderivative(5000) - antiderivative(100)) / Math.log(50))).toBeCloseTo(
      1,
      6,
    );
  });

  it("put together from two bands are that of both, wherever the band is parted", () => {
    const response = sample(secondOrder(1000, 3), grid);
    const before = copied(response);
    fc.assert(
      fc.property(fc.double({ min: 201, max: 4999, noNaN: true }), (middle) => {
        const [left, right] = [Math.log(middle / 200), Math.log(5000 / middle)];
        const whole = bandPowerAverage(response, { from: 200, to: 5000 });
        // The slopes at the parting come from one side only: a little of the whole, never more.
        expect(
          (bandPowerAverage(response, { from: 200, to: middle }) * left + bandPowerAverage(response, { from: middle, to: 5000 }) * right)
            / (left + right)
            / whole,
        ).toBeCloseTo(1, 3);
      }),
    );
    expect(copied(response)).toEqual(before);
  });

  it("of a constant are that constant, between two samples as well", () => {
    expect(
      bandPowerAverage(
        real(() => 3),
        { from: 500.1, to: 500.2 },
      ),
    ).toBeCloseTo(9, 12);
    expect(
      bandMeanLevelDb(
        real(() => 10),
        { from: "20 Hz", to: "20 kHz" },
      ),
    ).toBeCloseTo(20, 12);
    expect(bandMeanLevelDb(frequencyResponse([0, 10, 20], [10, 10, 10], [0, 0, 0]), { from: 10, to: 20 })).toBeCloseTo(20, 12);
  });

  it("differ by name: the mean of decibels is never above the level of the mean power", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0.01, max: 100, noNaN: true }), { minLength: 3, maxLength: 30 }), (values) => {
        const frequencies = logGrid(100, 1000, values.length);
        const response = frequencyResponse(
          frequencies,
          values,
          values.map(() => 0),
        );
        // The two cubics between samples are not the same curve: at samples the law is strict, between them nearly.
        expect(bandMeanLevelDb(response, { from: 100, to: 1000 })).toBeLessThan(
          10 * Math.log10(bandPowerAverage(response, { from: 100, to: 1000 })) + 3,
        );
      }),
    );
    const ripple = real((f) => 10 ** (Math.sin(20 * Math.log(f)) / 2));
    expect(
      10 * Math.log10(bandPowerAverage(ripple, { from: 100, to: 10000 })) - bandMeanLevelDb(ripple, { from: 100, to: 10000 }),
    ).toBeGreaterThan(1);
  });

  it("are −∞ dB with a zero in the band, and not with one elsewhere", () => {
    const response = real((f) => (f === grid[100] ? 0 : 1));
    expect(bandMeanLevelDb(response, { from: 100, to: 1000 })).toBe(-Infinity);
    expect(bandMeanLevelDb(response, { from: 1000, to: 10000 })).toBeCloseTo(0, 12);
    expect(bandPowerAverage(response, { from: 100, to: 1000 })).toBeLessThan(1);
  });
});

describe("a band that is none", () => {
  it("is refused, with the band that exists", () => {
    const response = real(() => 1);
    expect(errorOf(() => bandPowerAverage(response, { from: 10, to: 1000 })).message).toContain("20 Hz to 20000 Hz, got 10 Hz to 1000 Hz");
    expect(errorOf(() => bandPowerAverage(response, { from: 10, to: 1000 })).code).toBe("outside-band");
    expect(errorOf(() => bandMeanLevelDb(response, { from: 1000, to: 20001 })).code).toBe("outside-band");
    expect(errorOf(() => bandMeanLevelDb(response, { from: 1000, to: 1000 })).code).toBe("invalid-argument");
    expect(errorOf(() => bandMeanLevelDb(response, { from: 0, to: 1000 })).code).toBe("invalid-argument");
    expect(errorOf(() => bandMeanLevelDb(response, { from: 100, to: 1000 }, { reference: -1 })).code).toBe("invalid-argument");
    expect(errorOf(() => bandMeanLevelDb(frequencyResponse([100], [1], [0]), { from: 100, to: 200 })).code).toBe("outside-band");
    expect(errorOf(() => bandPowerAverage(frequencyResponse([0, 100], [1, 1], [0, 0]), { from: 50, to: 100 })).code).toBe("outside-band");
    expect(
      errorOf(() =>
        bandPowerAverage(
          real(() => 1e200),
          { from: 100, to: 1000 },
        ),
      ).code,
    ).toBe("overflow");
  });
});
