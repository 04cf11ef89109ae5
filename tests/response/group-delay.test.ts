import { linearGrid, logGrid } from "dividing-network/numeric";
import { delayResponse, frequencyResponse, groupDelay, responseOf } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { copied, delayed, errorOf, firstOrder, sample, secondOrder, secondOrderFilter, secondOrderGroupDelay } from "./closed-forms";

/** The largest difference from a closed form, relative to the closed form's own maximum. */
const error = (found: Float64Array, frequencies: Float64Array, exact: (f: number) => number): number => {
  const closed = frequencies.map(exact);
  return Math.max(...found.map((value, i) => Math.abs(value - closed[i]!))) / Math.max(...closed);
};

const perOctave = (points: number): Float64Array => logGrid(20, 20000, Math.round(points * Math.log2(1000)) + 1);

describe("the group delay", () => {
  it("is that of the closed form for a first-order low-pass, from 0 Hz on too", () => {
    const exact = (f: number): number => 1 / (2 * Math.PI * 1000) / (1 + (f / 1000) ** 2);
    for (const grid of [perOctave(24), linearGrid(0, 20000, 2001)])
      expect(error(groupDelay(sample(firstOrder(1000), grid)), grid, exact)).toBeLessThan(1e-6);
  });

  // The bounds that the docstring states.
  it.each([
    [24, 2, 2e-4],
    [48, 2, 1e-5],
    [48, 5, 5e-4],
    [96, 5, 3e-5],
  ])("with %i points an octave and Q = %d is within %d of the closed form's maximum", (points, q, bound) => {
    const grid = perOctave(points);
    for (const highPass of [false, true]) {
      expect(error(groupDelay(sample(secondOrder(1000, q, highPass), grid)), grid, (f) => secondOrderGroupDelay(1000, q, f))).toBeLessThan(
        bound,
      );
    }
  });

  it("gets better with the fourth power of the spacing", () => {
    const worst = (points: number): number => {
      const grid = perOctave(points);
      return error(groupDelay(responseOf(secondOrderFilter(1000, 1), grid)), grid, (f) => secondOrderGroupDelay(1000, 1, f));
    };
    expect(worst(24) / worst(48)).toBeGreaterThan(12);
  });

  it("includes a flight that turns the phase by nearly a turn between samples", () => {
    const grid = perOctave(48);
    const found = groupDelay(sample(delayed(secondOrder(1000, Math.SQRT1_2, true), 0.003), grid));
    found.forEach((value, i) => expect(Math.abs(value - 0.003 - secondOrderGroupDelay(1000, Math.SQRT1_2, grid[i]!))).toBeLessThan(1e-9));
  });

  it("does not depend on whether the delay is stated or estimated", () => {
    const grid = perOctave(48);
    const response = sample(delayed(secondOrder(1000, 1), 0.002), grid);
    const before = copied(response);
    const [estimated, stated] = [groupDelay(response), groupDelay(response, { delay: "2 ms" })];
    estimated.forEach((value, i) => expect(Math.abs(value - stated[i]!)).toBeLessThan(1e-9));
    expect(copied(response)).toEqual(before);
  });

  it("grows by the delay that is added", () => {
    const response = sample(secondOrder(500, 0.7), perOctave(24));
    const [plain, late] = [groupDelay(response), groupDelay(delayResponse(response, "1 ms"))];
    plain.forEach((value, i) => expect(late[i]! - value).toBeCloseTo(0.001, 9));
  });

  it("is refused for a single point and for points too close for a slope", () => {
    expect(errorOf(() => groupDelay(frequencyResponse([100], [1], [0]))).code).toBe("too-few-points");
    expect(errorOf(() => groupDelay(frequencyResponse([0, 5e-324], [1, 0], [0, 1]))).code).toBe("overflow");
    expect(Array.from(groupDelay(frequencyResponse([100, 200], [1, 1], [0, 0])))).toEqual([0, 0]);
  });
});
