// Tests src/errors/: check-given.ts
// Tests src/numeric/: find-interval.ts, interpolate-log.ts, local-slopes.ts, modulus.ts, monotone-cubic.ts, monotone-slopes.ts
import { DividingNetworkError } from "dividing-network/errors";
import { interpolateLog, logGrid } from "dividing-network/numeric";
import { cubicValue, findInterval, localSlopes, modulus, monotoneCubic, monotoneSlopes } from "../../src/numeric/internal";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

/** Strictly ascending places with irregular gaps. */
const places = (points: { min: number; max: number }): fc.Arbitrary<number[]> =>
  fc
    .array(fc.double({ min: 0.05, max: 3, noNaN: true }), { minLength: points.min, maxLength: points.max })
    .map((gaps) => gaps.reduce((x, gap) => [...x, x.at(-1)! + gap], [0]).slice(0, gaps.length));

describe("an interval of an axis", () => {
  it("is the one that a linear search finds", () => {
    fc.assert(
      fc.property(places({ min: 2, max: 40 }), fc.double({ min: -5, max: 130, noNaN: true }), (axis, value) => {
        const below = axis.filter((x) => x <= value).length - 1;
        expect(findInterval(axis, value)).toBe(Math.min(Math.max(below, 0), axis.length - 2));
      }),
    );
  });
});

describe("slopes from five neighbours", () => {
  it("are exact for polynomials of fourth degree on uneven axes", () => {
    fc.assert(
      fc.property(places({ min: 5, max: 12 }), fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 5, maxLength: 5 }), (x, c) => {
        const value = (at: number): number => c.reduceRight((sum, each) => sum * at + each, 0);
        const slope = (at: number): number => c.reduceRight((sum, each, k) => (k === 0 ? sum : sum * at + k * each), 0);
        const scale = Math.max(...x.map((at) => Math.abs(value(at)))) + 1;
        localSlopes(x, x.map(value)).forEach((found, i) => expect(Math.abs(found - slope(x[i]!))).toBeLessThan((1e-9 * scale) / 0.05));
      }),
    );
  });

  it("come from as many samples as there are when they are few", () => {
    expect(Array.from(localSlopes([1], [5]))).toEqual([0]);
    expect(Array.from(localSlopes([1, 3], [5, 9]))).toEqual([2, 2]);
    expect(Array.from(localSlopes([0, 1, 3], [0, 1, 9]))).toEqual([0, 2, 6]);
  });

  it("miss a smooth curve by the fourth power of the spacing", () => {
    const worst = (h: number): number => {
      const x = Array.from({ length: 41 }, (_, i) => (i - 20) * h);
      return Math.max(
        ...localSlopes(x, x.map(Math.sin))
          .slice(2, -2)
          .map((slope, i) => Math.abs(slope - Math.cos(x[i + 2]!))),
      );
    };
    // Error term of the central five-point rule: h⁴/30 · |f⁗'|, at most h⁴/30 for a sine.
    expect(worst(0.1)).toBeLessThan(0.1 ** 4 / 30);
    expect(worst(0.1) / worst(0.05)).toBeGreaterThan(15.5);
  });
});

describe("the monotone cubic", () => {
  it("never leaves the range of two neighbouring samples while the samples are monotone", () => {
    fc.assert(
      fc.property(
        places({ min: 3, max: 20 }),
        fc.infiniteStream(fc.oneof(fc.constant(0), fc.double({ min: 0, max: 5, noNaN: true }))),
        fc.boolean(),
        (x, steps, falling) => {
          const y = x.reduce<number[]>((list) => [...list, (list.at(-1) ?? 0) + steps.next().value * (falling ? -1 : 1)], []);
          const curve = monotoneCubic(x, y);
          for (let i = 0; i < x.length - 1; i++) {
            let last = y[i]!;
            for (let k = 1; k <= 16; k++) {
              const value = cubicValue(curve, i, x[i]! + ((x[i + 1]! - x[i]!) * k) / 16);
              expect(falling ? last - value : value - last).toBeGreaterThan(-1e-12 * (1 + Math.abs(last)));
              last = value;
            }
          }
        },
      ),
    );
  });

  it("does not flatten a smooth maximum", () => {
    const h = 0.1;
    const x = Array.from({ length: 64 }, (_, i) => i * h + 0.03);
    const curve = monotoneCubic(x, x.map(Math.sin));
    const top = Math.PI / 2;
    // An unlimited cubic errs by h⁴/384; next to the extremum the limiter may cost up to the third order.
    expect(Math.abs(cubicValue(curve, findInterval(x, top), top) - 1)).toBeLessThan(h ** 3 / 50);
    for (let at = 0.3; at < 6; at += 0.0137) {
      expect(Math.abs(cubicValue(curve, findInterval(x, at), at) - Math.sin(at))).toBeLessThan(h ** 3 / 50);
    }
  });

  it("passes through the samples and has slope zero on a flat run and beside it", () => {
    const curve = monotoneCubic([0, 1, 2, 3], [1, 4, 2, 8]);
    expect([0, 1, 2].map((i) => cubicValue(curve, i, i))).toEqual([1, 4, 2]);
    expect(cubicValue(curve, 2, 3)).toBe(8);
    expect(Array.from(monotoneSlopes([0, 1, 2, 3, 4], [0, 0, 0, 1, 1]))).toEqual([0, 0, 0, 0, 0]);
  });
});

describe("interpolation on a logarithmic axis", () => {
  it("is exact for powers of the frequency in decibels and at the samples", () => {
    const grid = logGrid(20, 20000, 31);
    const slope = grid.map((f) => 40 * Math.log10(f / 1000));
    expect(Array.from(interpolateLog(grid, slope, grid))).toEqual(Array.from(slope));
    const [value] = interpolateLog(grid, slope, [777.7]);
    expect(value).toBeCloseTo(40 * Math.log10(0.7777), 12);
  });

  it("changes neither samples nor targets, and takes targets in any order", () => {
    const [grid, values, targets] = [logGrid(20, 200, 5), new Float64Array([1, 2, 3, 2, 1]), new Float64Array([150, 30])];
    const before = [grid, values, targets].map((list) => list.slice());
    const result = interpolateLog(grid, values, targets);
    expect([grid, values, targets]).toEqual(before);
    expect(result[1]).toBe(interpolateLog(grid, values, [30])[0]);
  });

  it("refuses targets outside, with the band that exists", () => {
    for (const target of [19.9, 201, NaN, Infinity]) {
      expect(() => interpolateLog([20, 200], [1, 2], [target])).toThrow(DividingNetworkError);
      expect(() => interpolateLog([20, 200], [1, 2], [target])).toThrow("must lie between 20 Hz and 200 Hz");
    }
  });

  it("refuses samples that make no axis", () => {
    for (const [f, v] of [
      [[20], [1]],
      [
        [0, 20],
        [1, 2],
      ],
      [
        [20, 20],
        [1, 2],
      ],
      [
        [200, 20],
        [1, 2],
      ],
      [
        [20, 200],
        [1, NaN],
      ],
      [[20, 200], [1]],
    ] as [number[], number[]][]) {
      expect(() => interpolateLog(f, v, [20])).toThrow(DividingNetworkError);
    }
  });
});

describe("the modulus", () => {
  it("neither overflows nor underflows on the way", () => {
    expect(modulus(3, -4)).toBe(5);
    expect(modulus(3e-320, 4e-320) / 5e-320).toBeCloseTo(1, 3);
    expect(modulus(3e300, 4e300)).toBe(5e300);
    expect(modulus(0, 0)).toBe(0);
  });
});
