// Tests src/quantity/: angles.ts, decibels.ts
import { amplitudeRatio, decibels, degrees, radians } from "dividing-network/quantity";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

describe("decibels and amplitudeRatio", () => {
  it("are inverse to each other", () => {
    fc.assert(
      fc.property(fc.double({ min: -300, max: 300, noNaN: true }), (db) => {
        expect(decibels(amplitudeRatio(db))).toBeCloseTo(db, 9);
      }),
    );
  });

  it("turn a product of ratios into a sum of levels", () => {
    const ratio = fc.double({ min: 1e-6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(ratio, ratio, (a, b) => {
        expect(decibels(a * b)).toBeCloseTo(decibels(a) + decibels(b), 9);
      }),
    );
  });

  it("give −∞ dB for a ratio of 0 and the reverse", () => {
    expect(decibels(0)).toBe(-Infinity);
    expect(amplitudeRatio(-Infinity)).toBe(0);
    expect(decibels(10)).toBe(20);
    expect(amplitudeRatio(20)).toBe(10);
  });

  it("refuse negative ratios, levels beyond every number, and what is no number", () => {
    for (const ratio of [-1, NaN, Infinity, "2"])
      expect(() => decibels(ratio as number)).toThrow(/decibels: "ratio" must be a finite number at least 0/);
    for (const db of [6166, NaN, Infinity, "6"])
      expect(() => amplitudeRatio(db as number)).toThrow(/amplitudeRatio: "db" must be a finite number at most 6165 dB/);
    expect(amplitudeRatio(6165)).toBeLessThan(Infinity);
  });
});

describe("degrees and radians", () => {
  it("are inverse to each other", () => {
    const angles = fc.double({ min: -1e6, max: 1e6, noNaN: true }).filter((angle) => Math.abs(angle) > 1e-300 || angle === 0);
    fc.assert(
      fc.property(angles, (angle) => {
        // Four roundings, each of half a unit in the last place.
        expect(Math.abs(degrees(radians(angle)) - angle)).toBeLessThanOrEqual(4 * 2 ** -53 * Math.abs(angle));
      }),
    );
  });

  it("map the half turn exactly", () => {
    expect(radians(180)).toBe(Math.PI);
    expect(radians(-90)).toBe(-Math.PI / 2);
    expect(degrees(Math.PI)).toBe(180);
  });

  it("refuse what is no finite number, and never overflow", () => {
    for (const angle of [NaN, Infinity, 1e308, "90"]) {
      expect(() => radians(angle as number)).toThrow(/radians: "degrees" must be/);
      expect(() => degrees(angle as number)).toThrow(/degrees: "radians" must be/);
    }
  });
});
