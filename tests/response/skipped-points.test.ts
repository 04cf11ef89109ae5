// Two estimates inside of the minimum phase, against values by hand.
import { describe, expect, it } from "vitest";
import { skippedPointError } from "../../src/response/log-axis-error";
import { nestedFits } from "../../src/response/nested-fits";

describe("what a cubic misses between sparse points", () => {
  // Of x⁴ the divided difference over five points is 1 everywhere, and the cubic through four points misses it by the product of the distances to them.
  const x = Float64Array.of(0, 1, 10, 11, 12, 14);
  const fourth = x.map((value) => value ** 4);

  it("is the product of the distances in the middle of the widest gap, for x⁴", () => {
    expect(skippedPointError(x, fourth, 5)).toBeCloseTo(5.5 * 4.5 * 4.5 * 5.5, 6);
    expect(skippedPointError(x, fourth, 9)).toBeCloseTo(5.5 * 4.5 * 4.5 * 5.5, 6);
  });

  it("is looked for where the data are sparser than the grid alone", () => {
    expect(skippedPointError(x, fourth, 9.01)).toBe(0);
    // The last gap of 2: the cubic of the last four points, at 13.
    const tail = Float64Array.of(0, 1, 2, 3, 5);
    expect(
      skippedPointError(
        tail,
        tail.map((value) => value ** 4),
        1.5,
      ),
    ).toBeCloseTo(3 * 2 * 1 * 1, 9);
  });

  it("is nothing for a cubic, and scales with the curve", () => {
    expect(
      skippedPointError(
        x,
        x.map((value) => value ** 3 - 2 * value),
        0.5,
      ),
    ).toBeLessThan(1e-9);
    expect(
      skippedPointError(
        x,
        fourth.map((value) => -3 * value),
        5,
      ),
    ).toBeCloseTo(3 * 5.5 * 4.5 * 4.5 * 5.5, 5);
  });

  it("is not known of fewer than five points", () => {
    expect(skippedPointError(x.slice(0, 4), fourth.slice(0, 4), 0.5)).toBe(0);
  });
});

describe("the error of what a fit gives", () => {
  // A straight line over x = 0, 1, 2: (AᵀA)⁻¹ = [[5, −3], [−3, 3]] / 6, as in any textbook of least squares.
  const line = nestedFits([Float64Array.of(1, 1, 1), Float64Array.of(0, 1, 2)], Float64Array.of(1, 3, 5));

  it.each([
    [[1, 0], Math.sqrt(5 / 6)],
    [[0, 1], Math.sqrt(1 / 2)],
    [[1, 1], Math.sqrt(1 / 3)],
    [[2, -1], Math.sqrt((4 * 5 + 4 * 3 + 3) / 6)],
  ])("of the combination %j is √(cᵀ(AᵀA)⁻¹c)", (combination, expected) => {
    expect(line.errorOf(Float64Array.from(combination), 2)).toBeCloseTo(expected, 12);
  });

  it("counts the first columns alone when asked for fewer", () => {
    expect(line.errorOf(Float64Array.of(1, 5), 1)).toBeCloseTo(1 / Math.sqrt(3), 12);
    expect(Array.from(line.coefficients(2))).toEqual([expect.closeTo(1, 12), expect.closeTo(2, 12)]);
  });
});
