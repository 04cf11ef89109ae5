// Tests src/numeric/: agm.ts, elliptic.ts, kelvin-ratio.ts
// Complete elliptic integrals and the ratio of Bessel functions of a round conductor, against routes that share nothing with them: hypergeometric
// and power series in many decimal digits, the trapezoidal rule on the defining integral, and laws (Legendre's relation, limits).
import { Decimal } from "decimal.js";
import { ellipticE, ellipticK } from "dividing-network/numeric";
import { agmSums, kelvinRatio } from "../../src/numeric/internal";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";

/** K and E by their power series in m, in 50 digits. */
function seriesKE(m: number): [number, number] {
  const D = Decimal.clone({ precision: 50 });
  let term = new D(1);
  let [k, e] = [new D(1), new D(1)];
  for (let n = 1; n < 200 / -Math.log10(m) + 10; n++) {
    term = term
      .times(2 * n - 1)
      .div(2 * n)
      .times(2 * n - 1)
      .div(2 * n)
      .times(m);
    k = k.plus(term);
    e = e.minus(term.div(2 * n - 1));
  }
  const half = D.acos(-1).div(2);
  return [k.times(half).toNumber(), e.times(half).toNumber()];
}

/** K and E as integrals of periodic functions, which equal steps integrate to rounding where m is not next to 1. */
function integralKE(m: number): [number, number] {
  const points = 4000;
  let [k, e] = [0, 0];
  for (let i = 0; i < points; i++) {
    const root = Math.sqrt(1 - m * Math.sin((Math.PI * (i + 0.5)) / points) ** 2);
    k += 1 / root;
    e += root;
  }
  return [(k * Math.PI) / 2 / points, (e * Math.PI) / 2 / points];
}

/** z·J₀(z)/(2·J₁(z)) at z = x·e^(−jπ/4) by both power series, whose powers of z² = −jx² are real or imaginary in turn. */
function seriesRatio(x: number): { excess: number; re: number; im: number } {
  const D = Decimal.clone({ precision: Math.ceil(x) + 40 });
  const quarter = new D(x).pow(2).div(4);
  const sums = [0, 1].map((order) => {
    const parts = [new D(1), new D(0)];
    let term = new D(1);
    // J: Σ (−z²/4)^m/(m!(m+ν)!) with −z²/4 = jx²/4: the powers of j run 1, j, −1, −j.
    for (let m = 1; m < 2 * x + 40; m++) {
      term = term.times(quarter).div(m * (m + order));
      parts[m % 2] = parts[m % 2]!.plus(m % 4 < 2 ? term : term.neg());
    }
    return parts as [Decimal, Decimal];
  });
  const [[a, b], [c, d]] = sums as [[Decimal, Decimal], [Decimal, Decimal]];
  const size = c.times(c).plus(d.times(d));
  const re = a.times(c).plus(b.times(d)).div(size);
  return { excess: re.minus(1).toNumber(), re: re.toNumber(), im: b.times(c).minus(a.times(d)).div(size).toNumber() };
}

describe("complete elliptic integrals", () => {
  it.each([1e-12, 1e-5, 0.01, 0.1, 0.3, 0.5, 0.7, 0.9, 0.99])("are right to 1e-15 at m = %d (power series in 50 digits)", (m) => {
    const [k, e] = seriesKE(m);
    expect(Math.abs(ellipticK(m) / k - 1)).toBeLessThan(1e-15);
    expect(Math.abs(ellipticE(m) / e - 1)).toBeLessThan(1e-15);
  });

  it("are right to 2e-14 where the definition can be summed", () => {
    fc.assert(
      fc.property(uniform(0, 0.999), (m) => {
        const [k, e] = integralKE(m);
        expect(Math.abs(ellipticK(m) / k - 1)).toBeLessThan(2e-14);
        expect(Math.abs(ellipticE(m) / e - 1)).toBeLessThan(2e-14);
      }),
      { numRuns: cases(100) },
    );
  });

  it("hold Legendre's relation, also next to 1", () => {
    fc.assert(
      fc.property(uniform(-12, -0.3), (exponent) => {
        // 1 − m is exact for such an m, so that both are complements to the last bit.
        const m = 1 - 2 ** -Math.round(-exponent * 3.3);
        const [k, e, k1, e1] = [ellipticK(m), ellipticE(m), ellipticK(1 - m), ellipticE(1 - m)];
        expect(Math.abs(e * k1 + e1 * k - k * k1 - Math.PI / 2)).toBeLessThan(1e-14 * k);
      }),
      { numRuns: cases(40) },
    );
  });

  it("are π/2 at 0, and E is 1 at 1, where K is refused", () => {
    expect([ellipticK(0), ellipticE(0), ellipticE(1)]).toEqual([Math.PI / 2, Math.PI / 2, 1]);
    expect(() => ellipticK(1)).toThrow(/ellipticK: "m"/);
    for (const m of [-0.1, 1.1, NaN]) expect(() => ellipticE(m)).toThrow(/ellipticE: "m"/);
  });

  it("rest on sums without cancellation: the fall of the mean keeps its digits where a and b are almost equal", () => {
    // agm(1, √(1 − m)) = 1 − m/4 − 5m²/64 − …
    const m = 1e-10;
    expect(agmSums(1, Math.sqrt(1 - m), m).fall / (m / 4 + (5 * m * m) / 64)).toBeCloseTo(1, 14);
  });
});

describe("the Bessel ratio of a round conductor", () => {
  it.each([1e-3, 0.1, 0.5, 1, 2, 3.7, 8, 20, 39.99, 40, 40.01, 60, 150, 400])(
    "is right to 1e-14 in both parts at x = %d (power series in many digits)",
    (x) => {
      const exact = seriesRatio(x);
      const { re, im } = kelvinRatio(x);
      expect(Math.abs(re / exact.re - 1)).toBeLessThan(1e-14);
      expect(Math.abs(im / exact.im - 1)).toBeLessThan(1e-14);
      // What is above 1 has the digits that a number next to 1 can hold.
      expect(Math.abs(re - 1 - exact.excess)).toBeLessThan(1e-15 * Math.max(1, re));
    },
  );

  it("tends to its limits at both ends without overflow", () => {
    expect(kelvinRatio(0)).toMatchObject({ re: 1, im: 0 });
    for (const x of [1e8, 1e150, 1e300]) {
      expect(kelvinRatio(x).re / (x / (2 * Math.SQRT2))).toBeCloseTo(1, 7);
      expect(kelvinRatio(x).im / (x / (2 * Math.SQRT2))).toBeCloseTo(1, 7);
    }
    expect(kelvinRatio(1e4).re - 1e4 / (2 * Math.SQRT2)).toBeCloseTo(0.25, 4);
    expect(() => kelvinRatio(-1)).toThrow(/kelvinRatio: "x"/);
  });
});
