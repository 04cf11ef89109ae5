// Through four evenly spaced values goes one cubic. So cubics come back as they are, and what isn't one is missed by at most 9/16 of h⁴·|f⁗|/24: 0.0235 θ⁴ for a phase that
// grows by θ per step. A magnitude stays as it is.
import { describe, expect, it } from "vitest";
import { cubicOnGrid, interpolateUnit } from "../../src/response/log-axis-cubic";

describe("a cubic through four values of a grid", () => {
  it("is each cubic itself, between the middle two and at both", () => {
    for (const cubic of [() => 3, (t: number) => t - 2, (t: number) => t * t, (t: number) => 2 * t ** 3 - 5 * t * t + t - 7]) {
      const grid = Float64Array.from({ length: 8 }, (_, i) => cubic(i));
      for (const place of [1, 1.1, 1.5, 1.9, 2, 3.25, 4.75, 5]) expect(cubicOnGrid(grid, place)).toBeCloseTo(cubic(place), 9);
    }
  });

  it("brings a magnitude to the phase between the points of the grid", () => {
    for (const theta of [0.01, 0.1, 0.3]) {
      const step = 0.25;
      // Data anywhere: before the second grid point, between, several in one step, at its ends.
      const x = Float64Array.of(10, 10.1, 10.15, 10.25, 10.3, 10.9, 11.01, 11.02, 11.03, 11.5);
      const before = 2;
      const phase = Float64Array.from({ length: 12 }, (_, k) => 0.7 + theta * (k - before));
      const size = Float64Array.from(x, (_, i) => 1 + i);
      const [re, im] = [size.slice(), new Float64Array(x.length)];
      interpolateUnit(x, phase, before, step, re, im);
      x.forEach((at, i) => {
        const angle = 0.7 + (theta * (at - 10)) / step;
        expect(Math.hypot(re[i]!, im[i]!) / size[i]!).toBeCloseTo(1, 12);
        const [dr, di] = [re[i]! / size[i]! - Math.cos(angle), im[i]! / size[i]! - Math.sin(angle)];
        expect(Math.hypot(dr, di)).toBeLessThan(0.0235 * theta ** 4 + 1e-13);
      });
    }
  });
});
