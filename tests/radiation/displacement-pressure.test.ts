// Reference values: p = ρ S ω² x / (2π r) in half space, recomputed.
import { displacementPressure } from "dividing-network/radiation";
import { describe, expect, it } from "vitest";

describe("the pressure of a moving area", () => {
  it("is 78.886601 dB for 1 mm peak of 132 cm² at 50 Hz and 1 m in half space (recomputed)", () => {
    const { levelDb, working } = displacementPressure({ area: 132e-4, displacement: 1e-3, frequency: 50, air: { density: 1.2 } });
    expect(Math.abs(levelDb - 78.886601)).toBeLessThanOrEqual(5e-7);
    expect(working.map((step) => step.symbol)).toEqual(["A", "p", "L"]);
    expect(working.at(-1)!.value).toBe(levelDb);
  });

  it("reaches 90 dB at 40 Hz with a peak volume of 7.414193e-5 m³ (recomputed)", () => {
    expect(
      Math.abs(displacementPressure({ area: 0.01, displacement: 7.414193e-3, frequency: 40, air: { density: 1.2 } }).levelDb - 90),
    ).toBeLessThan(1e-6);
  });

  it("is 6.02 dB lower in a whole space and at twice the distance", () => {
    const base = { area: 0.01, displacement: 1e-3, frequency: 100 };
    const level = displacementPressure(base).levelDb;
    expect(displacementPressure({ ...base, space: "full" }).levelDb).toBeCloseTo(level - 20 * Math.log10(2), 10);
    expect(displacementPressure({ ...base, distance: "2 m" }).levelDb).toBeCloseTo(level - 20 * Math.log10(2), 10);
    expect(displacementPressure({ ...base, displacement: 0 }).levelDb).toBe(-Infinity);
  });

  it("refuses what it does not know", () => {
    expect(() => displacementPressure({ area: 0, displacement: 1, frequency: 1 })).toThrow(/area/);
    expect(() => displacementPressure({ area: 1, displacement: 1, frequency: 1, room: 3 } as never)).toThrow(/room/);
  });
});
