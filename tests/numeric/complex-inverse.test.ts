// The inverse is held to its definition, in exact rational cases and for matrices with entries over many decades.
import { invertComplex } from "dividing-network/numeric";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";

describe("invertComplex", () => {
  it("inverts 2 × 2 by hand: [[1, j], [0, 2]] gives [[1, −j/2], [0, 1/2]]", () => {
    const [re, im] = [new Float64Array([1, 0, 0, 2]), new Float64Array([0, 1, 0, 0])];
    expect(invertComplex(re, im, 2)).toBe(true);
    expect([...re]).toEqual([1, 0, 0, 0.5]);
    expect([...im].map((value) => value + 0)).toEqual([0, -0.5, 0, 0]);
  });

  it("needs its pivots: a zero on the diagonal is no obstacle, a row of zeros is", () => {
    const re = new Float64Array([0, 1, 1, 0]);
    expect(invertComplex(re, new Float64Array(4), 2)).toBe(true);
    expect([...re]).toEqual([0, 1, 1, 0]);
    expect(invertComplex(new Float64Array([1, 2, 0, 0]), new Float64Array(4), 2)).toBe(false);
  });

  it.each([1e-300, 1e-200, 1e-160, 1e160, 1e200, 1e300])("loses nothing on a pivot of %f", (size) => {
    const [re, im] = [new Float64Array([size, 0, 0, 4]), new Float64Array([size, 0, 0, 0])];
    expect(invertComplex(re, im, 2)).toBe(true);
    expect(re[0]! * size).toBeCloseTo(0.5, 12);
    expect(im[0]! * size).toBeCloseTo(-0.5, 12);
    expect(re[3]).toBe(0.25);
  });

  it("says no to a number that isn't one, and to an inverse that no number holds", () => {
    for (const [entry, at] of [
      [NaN, 0],
      [NaN, 1],
      [Infinity, 0],
      [Infinity, 2],
      [1e-310, 0],
    ] as const) {
      const re = new Float64Array([1, 0, 0, 1]);
      re[at] = entry;
      expect([entry, at, invertComplex(re, new Float64Array(4), 2)]).toEqual([entry, at, false]);
    }
    const one = new Float64Array([1]);
    expect(() => invertComplex(one, one, 1)).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
  });

  it("times the matrix gives the identity, for diagonally heavy matrices of any scale", () => {
    const entry = fc.integer({ min: -1000, max: 1000 }).map((n) => n / 1000);
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }).chain((n) =>
          fc.record({
            n: fc.constant(n),
            re: fc.array(entry, { minLength: n * n, maxLength: n * n }),
            im: fc.array(entry, { minLength: n * n, maxLength: n * n }),
            power: fc.integer({ min: -12, max: 12 }),
          }),
        ),
        ({ n, re, im, power }) => {
          const scale = 10 ** power;
          const [a, b] = [
            Float64Array.from(re, (value, i) => scale * (value + (i % (n + 1) === 0 ? 2 * n : 0))),
            Float64Array.from(im, (value) => scale * value),
          ];
          const [x, y] = [a.slice(), b.slice()];
          expect(invertComplex(x, y, n)).toBe(true);
          for (let i = 0; i < n; i++) {
            for (let j = 0; j < n; j++) {
              let [sr, si] = [0, 0];
              for (let k = 0; k < n; k++) {
                sr += a[i * n + k]! * x[k * n + j]! - b[i * n + k]! * y[k * n + j]!;
                si += a[i * n + k]! * y[k * n + j]! + b[i * n + k]! * x[k * n + j]!;
              }
              expect(Math.hypot(sr - (i === j ? 1 : 0), si)).toBeLessThan(1e-13);
            }
          }
        },
      ),
      { numRuns: cases(100) },
    );
  });
});
