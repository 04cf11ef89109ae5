// Tests src/quantity/: nearest-preferred.ts
import { nearestPreferred, preferredAbove, preferredBelow, preferredValues, type PreferredSeries } from "dividing-network/quantity";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const series: readonly PreferredSeries[] = ["E3", "E6", "E12", "E24", "E48", "E96", "E192"];
const anySeries = fc.constantFrom(...series);
const value = fc.double({ min: -13, max: 7, noNaN: true }).map((power) => 10 ** power);

describe("preferredValues", () => {
  it("gives as many values as the name says, ascending, from 1 to below 10", () => {
    for (const name of series) {
      const values = preferredValues(name);
      expect(values).toHaveLength(Number(name.slice(1)));
      expect(values[0]).toBe(1);
      expect(values.at(-1)).toBeLessThan(10);
      for (let i = 1; i < values.length; i++) expect(values[i]).toBeGreaterThan(values[i - 1]!);
    }
  });

  it("nests each series in the next finer one, up to E24 and again from E48", () => {
    for (const [coarse, fine] of [
      ["E3", "E6"],
      ["E6", "E12"],
      ["E12", "E24"],
      ["E48", "E96"],
      ["E96", "E192"],
    ] as const) {
      expect(preferredValues(fine)).toEqual(expect.arrayContaining([...preferredValues(coarse)]));
    }
  });

  it("gives values that nobody can change", () => {
    expect(Object.isFrozen(preferredValues("E12"))).toBe(true);
    expect(Object.isFrozen(preferredValues("E96"))).toBe(true);
  });

  it("refuses another series", () => {
    for (const name of ["E10", "e12", "toString", 12, undefined]) {
      expect(() => preferredValues(name as PreferredSeries)).toThrow(expect.objectContaining({ code: "invalid-argument" }));
    }
  });
});

describe("nearestPreferred, preferredBelow and preferredAbove", () => {
  it("leave every preferred value as it is, in every decade, whatever the rounding of its arithmetic", () => {
    fc.assert(
      fc.property(anySeries, fc.nat(), fc.integer({ min: -12, max: 6 }), fc.constantFrom(-2e-16, 0, 2e-16), (name, pick, decade, error) => {
        const values = preferredValues(name);
        const exact = Number(`${values[pick % values.length]}e${decade}`);
        for (const choose of [nearestPreferred, preferredBelow, preferredAbove]) expect(choose(exact * (1 + error), name)).toBe(exact);
        for (const choose of [nearestPreferred, preferredBelow, preferredAbove])
          expect(choose(values[pick % values.length]! * 10 ** decade, name)).toBe(exact);
      }),
    );
  });

  it("bracket a value between neighbours of the series, and the nearest is the closer one by ratio of all", () => {
    fc.assert(
      fc.property(anySeries, value, (name, given) => {
        const below = preferredBelow(given, name);
        const above = preferredAbove(given, name);
        expect(below).toBeLessThanOrEqual(given * (1 + 1e-9));
        expect(above).toBeGreaterThanOrEqual(given * (1 - 1e-9));
        // Brute force over all decades.
        const distance = (candidate: number): number => Math.abs(Math.log(candidate / given));
        const everything = Array.from({ length: 24 }, (_, i) => preferredValues(name).map((mantissa) => mantissa * 10 ** (i - 15))).flat();
        expect(everything.filter((candidate) => candidate > below * (1 + 1e-9) && candidate < above * (1 - 1e-9))).toEqual([]);
        expect(distance(nearestPreferred(given, name))).toBeLessThanOrEqual(Math.min(...everything.map(distance)) + 1e-12);
      }),
    );
  });

  it("meet in the geometric middle of two neighbours: √120 = 10.954 between 10 and 12", () => {
    for (const scale of [1e-6, 1e-3, 1, 1e3]) {
      expect(nearestPreferred(10.95 * scale, "E12") / scale).toBeCloseTo(10, 9);
      expect(nearestPreferred(10.96 * scale, "E12") / scale).toBeCloseTo(12, 9);
    }
  });

  it("cross the decade", () => {
    expect(nearestPreferred(0.0095, "E12")).toBe(0.01);
    expect(preferredBelow(0.0095, "E12")).toBe(0.0082);
    expect(preferredAbove(9.5e-6, "E12")).toBe(1e-5);
  });

  it("refuse values that are not positive or not finite", () => {
    for (const given of [0, -1, NaN, Infinity, "4.7"]) {
      expect(() => nearestPreferred(given as number, "E12")).toThrow(/nearestPreferred: "value" must be/);
      expect(() => preferredBelow(given as number, "E12")).toThrow(/preferredBelow: "value" must be/);
      expect(() => preferredAbove(given as number, "E12")).toThrow(/preferredAbove: "value" must be/);
    }
  });

  it("work at the ends of their range", () => {
    expect(nearestPreferred(1e300, "E24")).toBe(1e300);
    expect(nearestPreferred(1e-300, "E24")).toBe(1e-300);
  });
});
