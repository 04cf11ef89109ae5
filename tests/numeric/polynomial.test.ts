import fc from "fast-check";
import { polynomialRoots, type Root } from "dividing-network/numeric";
import { describe, expect, it } from "vitest";

/** Coefficients, highest power first, of the polynomial with these roots, complex ones given in pairs. */
function expand(roots: readonly Root[], leading = 1): number[] {
  return roots
    .reduce<{ re: number; im: number }[]>(
      (list, { re, im }) => {
        const shifted = [...list, { re: 0, im: 0 }];
        return shifted.map((value, k) => {
          const before = k === 0 ? { re: 0, im: 0 } : list[k - 1]!;
          return { re: value.re - (before.re * re - before.im * im), im: value.im - (before.re * im + before.im * re) };
        });
      },
      [{ re: leading, im: 0 }],
    )
    .map(({ re }) => re);
}

describe("polynomialRoots", () => {
  it("finds the roots that a polynomial was made of, in exact conjugate pairs", () => {
    const real = fc.double({ min: -10, max: -0.1, noNaN: true }).map((re) => [{ re, im: 0 }]);
    const pair = fc.tuple(fc.double({ min: -5, max: 5, noNaN: true }), fc.double({ min: 0.2, max: 10, noNaN: true })).map(([re, im]) => [
      { re, im },
      { re, im: -im },
    ]);
    fc.assert(
      fc.property(
        fc.array(fc.oneof(real, pair), { minLength: 1, maxLength: 4 }).map((list) => list.flat()),
        fc.double({ min: 1e-5, max: 1e5, noNaN: true }),
        (made, leading) => {
          const closest = Math.min(...made.flatMap((a, i) => made.slice(i + 1).map((b) => Math.hypot(a.re - b.re, a.im - b.im))), 10);
          fc.pre(closest > 0.3);
          const found = polynomialRoots(expand(made, leading));
          expect(found).toHaveLength(made.length);
          for (const { re, im } of made)
            expect(Math.min(...found.map((root) => Math.hypot(root.re - re, root.im - im)))).toBeLessThan(1e-7);
          for (const { re, im } of found)
            if (im !== 0) expect(found.filter((other) => other.re === re && other.im === -im)).toHaveLength(1);
        },
      ),
    );
  });

  it("takes zero roots, leading zeros, constants, and roots of any size", () => {
    expect(polynomialRoots([0, 0, 1, 0, 0])).toEqual([
      { re: 0, im: 0 },
      { re: 0, im: 0 },
    ]);
    expect(polynomialRoots([7])).toEqual([]);
    const [small, large] = polynomialRoots([1, 1e6 + 1e-6, 1])
      .map(({ re }) => re)
      .sort((a, b) => b - a);
    expect(small! / -1e-6).toBeCloseTo(1, 12);
    expect(large! / -1e6).toBeCloseTo(1, 12);
    for (const w of [1e-100, 1e-30, 1, 1e30, 1e100])
      polynomialRoots([1, 2 * w, 5 * w * w]).forEach(({ re, im }) => {
        expect(re / w).toBeCloseTo(-1, 13);
        expect(Math.abs(im) / w).toBeCloseTo(2, 13);
      });
  });

  it("finds roots of very different sizes beside each other", () => {
    const sizes = [1e-9, 1e-5, 1e-2, 1, 1e4, 1e7];
    const found = polynomialRoots(expand(sizes.map((size) => ({ re: -size, im: 0 }))))
      .map(({ re }) => -re)
      .sort((a, b) => a - b);
    sizes.forEach((size, k) => expect(found[k]! / size).toBeCloseTo(1, 9));
  });

  it("finds double roots to about half the digits", () => {
    for (const { re, im } of polynomialRoots([1, 4, 6, 4, 1].map((value) => value))) expect(Math.hypot(re + 1, im)).toBeLessThan(1e-3);
    for (const { re, im } of polynomialRoots([1, 2, 1])) expect(Math.hypot(re + 1, im)).toBeLessThan(1e-7);
  });

  it("refuses what is no polynomial, and leaves its argument as it was", () => {
    for (const bad of [[], [0, 0], [1, NaN], [1, Infinity], new Array<number>(300).fill(1), [1e-300, 1e300, 1e-300]]) {
      expect(() => polynomialRoots(bad), `${bad.slice(0, 3).join(" ")}`).toThrow(expect.objectContaining({ code: "invalid-argument" }));
    }
    const given = Float64Array.of(1, 2, 5);
    polynomialRoots(given);
    expect(given).toEqual(Float64Array.of(1, 2, 5));
  });
});
