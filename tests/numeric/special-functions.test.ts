// Tests src/numeric/: bessel.ts, gauss-legendre.ts, struve.ts
// Bessel and Struve functions against two routes that share nothing with them: power series in 60 to 500 decimal digits,
// and the trapezoidal rule on Bessel's integral, which converges geometrically.
import { Decimal } from "decimal.js";
import { besselJ0, besselJ1, gaussLegendre, struveH1 } from "dividing-network/numeric";
import { DividingNetworkError } from "dividing-network/errors";
import { describe, expect, it } from "vitest";

/** J of order 0 or 1 by its power series; digits enough for the cancellation, which grows as e^x. */
function seriesJ(order: 0 | 1, x: number): number {
  const D = Decimal.clone({ precision: Math.ceil(x / 2.3) + 60 });
  const quarter = new D(x).div(2).pow(2).neg();
  let term = order === 0 ? new D(1) : new D(x).div(2);
  let sum = term;
  for (let m = 1; m < 2 * x + 60; m++) {
    term = term.times(quarter).div(m * (m + order));
    sum = sum.plus(term);
  }
  return sum.toNumber();
}

/** Struve's H1 by its power series 2/π (x²/(1·3) − x⁴/(1·3²·5) + …). */
function seriesH1(x: number): number {
  const D = Decimal.clone({ precision: Math.ceil(x / 2.3) + 60 });
  let term = new D(x).pow(2).div(3);
  let sum = term;
  for (let m = 2; m < 2 * x + 60; m++) {
    term = term
      .times(new D(x).pow(2))
      .neg()
      .div((2 * m - 1) * (2 * m + 1));
    sum = sum.plus(term);
  }
  return sum.times(2).div(D.acos(-1)).toNumber();
}

/** Bessel's integral (1/2π) ∮ cos(nτ − x sin τ) dτ; with more points than x the error is rounding alone. */
function integralJ(order: 0 | 1, x: number): number {
  const points = 2 * Math.ceil(0.6 * x + 40);
  let sum = 0;
  for (let i = 0; i < points; i++) {
    const angle = (2 * Math.PI * i) / points;
    sum += Math.cos(order * angle - x * Math.sin(angle));
  }
  return sum / points;
}

const arguments_ = [
  1e-8, 1e-3, 0.1, 0.4999, 0.5, 1, 2.404825557695773, 3.8317059702075125, 7.5, 15, 24.999, 25, 25.001, 39.99, 40, 61.3, 150, 400,
];

describe("Bessel functions", () => {
  it.each(arguments_)("are right to 2e-15 at x = %d (power series in high precision)", (x) => {
    expect(Math.abs(besselJ0(x) - seriesJ(0, x))).toBeLessThan(2e-15);
    expect(Math.abs(besselJ1(x) - seriesJ(1, x))).toBeLessThan(2e-15);
  });

  it.each([1e-8, 1e-3, 0.3, 1, 2])("J1 is right to 1e-15 of its own value at small x = %d", (x) => {
    expect(Math.abs(besselJ1(x) / seriesJ(1, x) - 1)).toBeLessThan(1e-15);
  });

  it.each([999.5, 3141.6, 7777.7, 1e4])("are right to 1e-13 at x = %d (Bessel's integral)", (x) => {
    expect(Math.abs(besselJ0(x) - integralJ(0, x))).toBeLessThan(1e-13);
    expect(Math.abs(besselJ1(x) - integralJ(1, x))).toBeLessThan(1e-13);
  });

  it("are even and odd", () => {
    expect(besselJ0(-3.3)).toBe(besselJ0(3.3));
    expect(besselJ1(-3.3)).toBe(-besselJ1(3.3));
    expect(besselJ0(0)).toBe(1);
    expect(besselJ1(0)).toBe(0);
  });

  it("refuse what is no finite number", () => {
    expect(() => besselJ0(NaN)).toThrow(DividingNetworkError);
    expect(() => besselJ1(Infinity)).toThrow(/besselJ1: "x"/);
    expect(() => struveH1("1" as unknown as number)).toThrow(/struveH1: "x"/);
  });
});

describe("the Struve function H1", () => {
  it.each(arguments_)("is right to 2e-14 of its value at x = %d (power series in high precision)", (x) => {
    expect(Math.abs(struveH1(x) / seriesH1(x) - 1)).toBeLessThan(2e-14);
  });

  it("is even, and tends to 2/π on average for large x", () => {
    expect(struveH1(-2)).toBe(struveH1(2));
    const mean = Array.from({ length: 1000 }, (_, i) => struveH1(9000 + (i * 2 * Math.PI) / 100)).reduce((a, b) => a + b) / 1000;
    expect(Math.abs(mean - 2 / Math.PI)).toBeLessThan(1e-4);
  });
});

describe("Gauss–Legendre rules", () => {
  it.each([1, 2, 3, 7, 16, 31, 64, 200, 301])("of %d points integrate monomials up to degree 2n − 1", (n) => {
    const { nodes, weights } = gaussLegendre(n);
    for (const degree of [0, 1, 2, n, 2 * n - 2, 2 * n - 1].filter((power) => power < 2 * n)) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += weights[i]! * nodes[i]! ** degree;
      const exact = degree % 2 === 0 ? 2 / (degree + 1) : 0;
      expect(Math.abs(sum - exact)).toBeLessThan(3e-14);
    }
  });

  it("do not integrate degree 2n", () => {
    const { nodes, weights } = gaussLegendre(3);
    const sum = nodes.reduce((total, x, i) => total + weights[i]! * x ** 6, 0);
    expect(Math.abs(sum - 2 / 7)).toBeGreaterThan(0.04);
  });

  it("are symmetric to the last bit and ascending, also with 2048 points", () => {
    const { nodes, weights } = gaussLegendre(2048);
    for (let i = 0; i < 2048; i++) {
      expect(nodes[i]! + nodes[2047 - i]!).toBe(0);
      expect(weights[i]).toBe(weights[2047 - i]);
      if (i > 0 && !(nodes[i]! > nodes[i - 1]!)) throw new Error(`not ascending at ${i}`);
    }
    expect(Math.abs(weights.reduce((a, b) => a + b) - 2)).toBeLessThan(1e-13);
  });

  it("refuse a number of points that is not whole or out of range", () => {
    for (const n of [0, -1, 2.5, 5000, NaN]) expect(() => gaussLegendre(n)).toThrow(/gaussLegendre: "points"/);
  });
});
