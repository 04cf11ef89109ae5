// Tests src/alignments/filters/: polynomials-of.ts
// Tests src/alignments/prototypes/: chebyshev.ts, critically-damped.ts, family.ts, half-power.ts, prototype.ts, second-order-poles.ts
import Decimal from "decimal.js";
import {
  allPole,
  bessel,
  butterworth,
  chebyshev,
  criticallyDamped,
  legendrePapoulis,
  linkwitzRiley,
  polynomialsOf,
  type Prototype,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { levelDb, magnitude, responseOf } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const orders = Array.from({ length: 20 }, (_, k) => k + 1);
const families: readonly [name: string, make: (order: number) => Prototype][] = [
  ["butterworth", butterworth],
  ["bessel", (order) => bessel(order)],
  ["chebyshev", (order) => chebyshev(order, { rippleDb: 1 })],
  ["legendre-papoulis", legendrePapoulis],
  ["critically-damped", (order) => criticallyDamped(order)],
];
const at = (filter: Prototype, ...omegas: number[]): Float64Array =>
  magnitude(
    responseOf(
      filter,
      omegas.map((w) => w / (2 * Math.PI)),
    ),
  );

describe("every prototype", () => {
  it.each(families)(
    "%s has as many poles as its order, in exact conjugate pairs in the left half-plane, and is 1 at zero frequency",
    (family, make) => {
      for (const order of orders) {
        const made = make(order);
        expect(made.family).toBe(family);
        expect(made.order).toBe(order);
        expect(made.poles).toHaveLength(order);
        expect(made.zeros).toHaveLength(0);
        for (const { re, im } of made.poles) {
          expect(re).toBeLessThan(0);
          expect(made.poles.filter((other) => other.re === re && other.im === -im).length).toBe(
            made.poles.filter((other) => other.re === re && other.im === im).length,
          );
        }
        expect(at(made, 0)[0]! - 1).toBeCloseTo(0, 13);
        expect(Object.isFrozen(made) && Object.isFrozen(made.poles) && made.poles.every((pole) => Object.isFrozen(pole))).toBe(true);
      }
    },
  );

  it("refuses orders that are no whole number from 1 to 20", () => {
    for (const [, make] of families) {
      for (const order of [0, -1, 2.5, 21, 99, NaN, Infinity, "3", undefined, null]) {
        expect(() => make(order as number)).toThrow(expect.objectContaining({ name: "DividingNetworkError", code: "invalid-argument" }));
      }
    }
  });
});

describe("the laws of the families", () => {
  it("Butterworth: |H|² = 1/(1 + ω²ⁿ)", () => {
    for (const order of orders)
      for (const w of [0.3, 0.9, 1, 1.1, 3]) expect(at(butterworth(order), w)[0]! ** 2 * (1 + w ** (2 * order))).toBeCloseTo(1, 11);
  });

  it("Linkwitz–Riley: |H| = 1/(1 + ωⁿ), and odd orders are refused in words", () => {
    for (const order of [2, 4, 6, 8, 10, 20])
      for (const w of [0.3, 0.9, 1, 1.1, 3]) expect(at(linkwitzRiley(order), w)[0]! * (1 + w ** order)).toBeCloseTo(1, 11);
    expect(() => linkwitzRiley(3)).toThrow(/must be even, got 3: .*half the order\. Use order 2 or 4, or butterworth\(3\)/);
    expect(() => linkwitzRiley(1)).toThrow(/must be even, got 1: .*Use order 2, or butterworth\(1\)/);
  });

  it("Chebyshev: the level rule, crest and edge", () => {
    for (const rippleDb of [0.01, 0.5, 3]) {
      const epsilon2 = 10 ** (rippleDb / 10) - 1;
      for (const order of orders) {
        const made = chebyshev(order, { rippleDb });
        const base = order % 2 === 0 ? 1 + epsilon2 : 1;
        for (const w of [0.1, 0.5, 0.99, 1, 1.5, 2]) {
          const t = w <= 1 ? Math.cos(order * Math.acos(w)) : Math.cosh(order * Math.acosh(w));
          expect(at(made, w)[0]! ** 2 / (base / (1 + epsilon2 * t * t)) - 1).toBeCloseTo(0, 10);
        }
        const edge = 20 * Math.log10(at(made, 1)[0]!);
        expect(edge).toBeCloseTo(order % 2 === 0 ? 0 : -rippleDb, 10);
        expect(made.corner).toContain(order % 2 === 0 ? "0 dB" : `−${rippleDb} dB`);
        const peaked = levelDb(responseOf(chebyshev(order, { rippleDb, level: "peak" }), logGrid(0.001, 1 / (2 * Math.PI), 2000)));
        expect(Math.max(...peaked)).toBeLessThan(1e-9);
        expect(Math.max(...peaked)).toBeGreaterThan(-0.01);
      }
    }
    for (const rippleDb of [0, -1, NaN, 21, undefined])
      expect(() => chebyshev(3, { rippleDb: rippleDb as number })).toThrow(/"rippleDb" must be a finite number at least 0.000001 dB/);
  });

  it("Bessel: the poles are the roots of the reverse Bessel polynomial to the last digit", () => {
    const precise = Decimal.clone({ precision: 60 });
    for (const n of [2, 5, 10, 20]) {
      const coefficients = Array.from({ length: n + 1 }, (_, k) =>
        factorial(precise, 2 * n - k).div(
          factorial(precise, n - k)
            .mul(factorial(precise, k))
            .mul(new precise(2).pow(n - k)),
        ),
      );
      for (const { re, im } of bessel(n, { normalization: "delay" }).poles) {
        const [value, slope] = horner(precise, coefficients, re, im);
        // Newton's step from the pole returned is below the spacing of doubles.
        expect(value / slope / Math.hypot(re, im)).toBeLessThan(2 ** -52);
      }
    }
  });

  it("Bessel: delay of 1 s, −3.01 dB, or asymptotes that meet", () => {
    for (const order of orders) {
      expect(at(bessel(order, { normalization: "half-power" }), 1)[0]! ** 2).toBeCloseTo(0.5, 13);
      const { denominator } = polynomialsOf(bessel(order, { normalization: "asymptote" }));
      expect(denominator[order]).toBeCloseTo(1, 12);
      const { denominator: delayed } = polynomialsOf(bessel(order, { normalization: "delay" }));
      expect(delayed[order - 1]! / delayed[order]!).toBeCloseTo(1, 13);
    }
    expect(() => bessel(2, { normalization: "mag" as "delay" })).toThrow(/must be one of "delay", "half-power", "asymptote"/);
  });

  it("Legendre–Papoulis: falls steadily, −3.01 dB at the corner, steeper there than Butterworth from order 3 on", () => {
    for (const order of orders) {
      const made = legendrePapoulis(order);
      expect(at(made, 1)[0]! ** 2).toBeCloseTo(0.5, 11);
      const levels = at(made, ...Array.from({ length: 200 }, (_, k) => 0.01 * (k + 1)));
      levels.forEach((level, k) => {
        if (k > 0) expect(level).toBeLessThanOrEqual(levels[k - 1]! * (1 + 1e-14));
      });
      if (order > 2) expect(at(made, 1.1)[0]!).toBeLessThan(at(butterworth(order), 1.1)[0]!);
    }
  });

  it("critically damped: all poles at one place, −3.01 dB or asymptotes that meet", () => {
    for (const order of orders) {
      expect(at(criticallyDamped(order), 1)[0]! ** 2).toBeCloseTo(0.5, 12);
      expect(criticallyDamped(order, { normalization: "asymptote" }).poles.every(({ re, im }) => re === -1 && im === 0)).toBe(true);
    }
  });
});

describe("a prototype from poles or a denominator", () => {
  it("has these poles, whatever their order", () => {
    const poles = [
      { re: -2, im: 0 },
      { re: -1, im: -3 },
      { re: -1, im: 3 },
    ];
    expect(polynomialsOf(allPole({ poles })).denominator).toEqual([1, 4, 14, 20]);
    expect(polynomialsOf(allPole({ denominator: [2, 8, 28, 40] })).denominator.map((value) => Number(value.toFixed(12)))).toEqual([
      1, 4, 14, 20,
    ]);
  });

  it("refuses what is unstable, unpaired, empty, too long or no number", () => {
    const refused = [
      { poles: [{ re: 1, im: 0 }] },
      { poles: [{ re: 0, im: 0 }] },
      { poles: [{ re: -1, im: 1 }] },
      { poles: [{ re: -1, im: -1 }] },
      { poles: [] },
      { poles: [{ re: NaN, im: 0 }] },
      { poles: [null] },
      { denominator: [1] },
      { denominator: [0, 1, 1] },
      { denominator: [1, -1] },
      { denominator: [1, 0, 1] },
      { denominator: [1, NaN] },
      { denominator: new Array<number>(25).fill(1) },
      {},
      { poles: [{ re: -1, im: 0 }], denominator: [1, 1] },
    ];
    for (const options of refused)
      expect(() => allPole(options as { denominator: number[] }), JSON.stringify(options)).toThrow(
        expect.objectContaining({ code: "invalid-argument" }),
      );
    expect(() => allPole({ roots: [] } as unknown as { denominator: number[] })).toThrow(
      expect.objectContaining({ code: "unknown-option" }),
    );
  });
});

function factorial(precise: typeof Decimal, n: number): Decimal {
  let product = new precise(1);
  for (let k = 2; k <= n; k++) product = product.mul(k);
  return product;
}

/** |p| and |p′| at a complex point; coefficients lowest power first. */
function horner(precise: typeof Decimal, coefficients: readonly Decimal[], re: number, im: number): [number, number] {
  let [pr, pi, dr, di] = Array.from({ length: 4 }, () => new precise(0)) as [Decimal, Decimal, Decimal, Decimal];
  for (const value of [...coefficients].reverse()) {
    [dr, di] = [dr.mul(re).sub(di.mul(im)).add(pr), dr.mul(im).add(di.mul(re)).add(pi)];
    [pr, pi] = [pr.mul(re).sub(pi.mul(im)).add(value), pr.mul(im).add(pi.mul(re))];
  }
  return [precise.hypot(pr, pi).toNumber(), precise.hypot(dr, di).toNumber()];
}
