// Tests src/alignments/ladders/: check-elements.ts
// Tests src/alignments/prototypes/: all-pole.ts, linkwitz-riley.ts
// Tests src/numeric/precise/: continued-fraction.ts, precise-polynomial.ts, precise.ts
// Ladders against their functions by chain matrices with 50 digits (decimal-chain.ts): what is left is the rounding of the values themselves.
import type { Decimal } from "decimal.js";
import {
  allPole,
  bessel,
  butterworth,
  chebyshev,
  criticallyDamped,
  ladder,
  ladderValues,
  legendrePapoulis,
  linkwitzRiley,
  polynomialsOf,
  type Prototype,
} from "dividing-network/alignments";
import { describe, expect, it } from "vitest";
import { checkElements } from "../../src/alignments/ladders/check-elements";
import {
  besselMagnitude,
  butterworthMagnitude,
  chebyshevMagnitude,
  equalPolesMagnitude,
  linkwitzRileyMagnitude,
  polesMagnitude,
  worstDifference,
  type Omega,
} from "../support/decimal-chain";

const orders = Array.from({ length: 20 }, (_, k) => k + 1);
const ratios = [1e-6, 0.2, 1, 1 - 1e-13, 3];

/** The worst difference over the source resistances and both first elements, of those that exist; how many did. */
function worstOf(made: Prototype, magnitude: (omega: Omega) => Decimal, centre = 1): { readonly worst: number; readonly built: number } {
  let [worst, built] = [0, 0];
  for (const sourceResistance of ratios) {
    for (const first of ["series", "shunt"] as const) {
      let values: readonly number[];
      try {
        values = ladderValues(made, { sourceResistance, first });
      } catch (error) {
        expect(error).toMatchObject({ code: "not-realizable" });
        continue;
      }
      built++;
      worst = Math.max(worst, worstDifference(values, first, sourceResistance, magnitude, centre));
    }
  }
  return { worst, built };
}

describe("between two resistances, to order 20", () => {
  it("Linkwitz–Riley ladders have their function to 1e-12 of the passband, and none is refused that exists", () => {
    for (const n of orders.filter((each) => each % 2 === 0)) {
      const { worst, built } = worstOf(linkwitzRiley(n), (w) => linkwitzRileyMagnitude(n, w));
      expect(worst, `order ${n}`).toBeLessThan(1e-12);
      // Two first elements where there is a real pole to be put on the other side, one otherwise; both for equal resistances.
      expect(built, `order ${n}`).toBe(n % 4 === 2 ? 10 : 6);
    }
  });

  it.each<[string, (n: number) => Prototype, (n: number, w: Omega) => Decimal]>([
    ["Butterworth", butterworth, butterworthMagnitude],
    ["Chebyshev", (n) => chebyshev(n, { rippleDb: 0.5 }), (n, w) => chebyshevMagnitude(n, 0.5, w)],
    ["critically damped", (n) => criticallyDamped(n, { normalization: "asymptote" }), equalPolesMagnitude],
    ["Bessel", (n) => bessel(n, { normalization: "delay" }), besselMagnitude],
  ])("%s ladders do", (family, make, magnitude) => {
    for (const n of [1, 2, 3, 4, 5, 8, 11, 14, 17, 20])
      expect(worstOf(make(n), (w) => magnitude(n, w)).worst, `${family} ${n}`).toBeLessThan(1e-12);
  });

  it("so do those of Legendre–Papoulis functions and of products of Butterworth functions, from their poles", () => {
    for (const n of [4, 7, 10, 13, 16, 20]) {
      const m = Math.floor(n / 2) - 1;
      for (const made of [legendrePapoulis(n), allPole({ poles: [...butterworth(m).poles, ...butterworth(n - m).poles] })]) {
        expect(worstOf(made, polesMagnitude(made.poles)).worst, `${made.family} ${n}`).toBeLessThan(1e-12);
      }
    }
  });

  it("so do those whose corner isn't 1 rad/s, Linkwitz–Riley of order 20 among them", () => {
    for (const made of [butterworth(8), butterworth(20), linkwitzRiley(20), chebyshev(11, { rippleDb: 0.5 })]) {
      for (const k of [0.7, 1 + 1e-12, 200]) {
        const scaled = allPole({ poles: made.poles.map(({ re, im }) => ({ re: re * k, im: im * k })) });
        const { worst, built } = worstOf(scaled, polesMagnitude(scaled.poles), k);
        expect(worst, `${made.family} ${made.order} at ${k}`).toBeLessThan(1e-12);
        expect(built).toBeGreaterThanOrEqual(6);
      }
    }
  });

  // Off by 8 % of the passband once: its denominator, multiplied out and rounded, was flat at zero frequency but for that.
  it("so does a Butterworth function of order 12 that is given by its denominator", () => {
    const made = allPole({ denominator: polynomialsOf(butterworth(12)).denominator });
    expect(worstOf(made, (w) => butterworthMagnitude(12, w)).worst).toBeLessThan(1e-11);
  });

  // Poles over ten decades: 320 binary places were too few, and the values nearest to the load wrong.
  it("so do those of poles that lie far apart", () => {
    for (const n of [14, 18, 20]) {
      const poles = Array.from({ length: n }, (_, k) => ({ re: -(10 ** ((k - n / 2) / 2)), im: 0 }));
      for (const sourceResistance of [0.3, 1]) {
        const values = ladderValues(allPole({ poles }), { sourceResistance });
        for (const centre of [1e-4, 1e-2, 1, 100, 1e4])
          expect(worstDifference(values, "series", sourceResistance, polesMagnitude(poles), centre)).toBeLessThan(1e-12);
      }
    }
  });
});

describe("a ladder is compared with its function before it is returned", () => {
  const made = ladderValues(linkwitzRiley(8), { sourceResistance: 0.5 }).map((value, k) => ({
    placement: k % 2 === 0 ? ("series" as const) : ("shunt" as const),
    part: k % 2 === 0 ? ("inductor" as const) : ("capacitor" as const),
    value,
  }));
  const wanted = { poles: linkwitzRiley(8).poles, zerosAtOrigin: 0, gain: 1 / 1.5, sourceResistance: 0.5 };

  it("and passes when it is right", () => {
    expect(() => checkElements("ladder", made, wanted)).not.toThrow();
  });

  it("and is refused when any one value is off by 1e-7", () => {
    for (const k of made.keys()) {
      const off = made.map((element, i) => (i === k ? { ...element, value: element.value * (1 + 1e-7) } : element));
      expect(() => checkElements("ladder", off, wanted)).toThrow(
        expect.objectContaining({
          code: "accuracy-not-reached",
          message: expect.stringMatching(/^ladder: the ladder's values.*to 1e-9 of its passband, and miss it by .* near ω = \d/),
        }),
      );
    }
  });

  it("refuses poles that no prototype has", () => {
    for (const size of [1e-300, 1e-10, 1e10, 1e300]) {
      const prototype = {
        zeros: [],
        poles: [
          { re: -size, im: 0 },
          { re: -1, im: 0 },
        ],
        gain: size,
      };
      for (const sourceResistance of [0, 1]) {
        expect(() => ladder(prototype, { pass: "low", frequency: 1000, load: 8, sourceResistance })).toThrow(
          /size of a pole of the prototype/,
        );
      }
    }
  });
});
