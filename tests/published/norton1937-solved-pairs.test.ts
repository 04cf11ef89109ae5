// Source: closed forms; the constant resistance of complementary pairs after Norton (1937) and Guillemin (1957).
// Where: what an amplifier sees of two-way networks on resistive loads, as the solver finds it from their parts.
// Provenance: recomputed, all of them. The dip of spread corners is derived here.
import { solve } from "dividing-network/network";
import { valueAt } from "dividing-network/response";
import fc from "fast-check";
import { expect, it } from "vitest";
import { uniform } from "../support/uniform";
import { expectPrinted } from "./printed";
import { published } from "./standing";
import { denominatorAt, highPassBranch, lowPassBranch, names, over, plus, times, twoWay, type C, type Name } from "./two-way";
import { cases } from "../support/cases";

const load = uniform(2, 32);
const corner = uniform(50, 10_000);
const ratio = uniform(-2, 2).map((decades) => 10 ** decades);
const butterworth = fc.constantFrom<Name>("BW1", "BW2", "BW3", "BW4");

function impedanceAt(entries: Parameters<typeof solve>[0], frequency: number): C {
  const { re, im } = solve(entries, [frequency]).impedance;
  return [re[0]!, im[0]!];
}

const miss = (a: C, b: C): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

published("recomputed", "the load of a two-way network (Norton 1937, Guillemin 1957)", () => {
  it("of a Butterworth pair of order 1 to 4 is exactly R at every frequency", () => {
    fc.assert(
      fc.property(butterworth, load, corner, ratio, (name, r, f, x) => {
        expect(miss(impedanceAt(twoWay(name, f, f, r), f * x), [r, 0])).toBeLessThan(1e-9 * r);
      }),
      { numRuns: cases(400) },
    );
  });

  it("of a Linkwitz–Riley pair is 2R at the corner, and its printed values an octave below", () => {
    for (const [name, re, im] of [
      ["LR2", "10.46154", "3.69231"],
      ["LR4", "8.37475", "2.28118"],
    ] as const) {
      const { impedance } = solve(twoWay(name, 3000, 3000, 8), [1500, 3000]);
      expectPrinted(valueAt(impedance, 1500).re, re);
      expectPrinted(valueAt(impedance, 1500).im, im);
      expect(miss([valueAt(impedance, 3000).re, valueAt(impedance, 3000).im], [16, 0])).toBeLessThan(1e-9);
    }
    fc.assert(
      fc.property(fc.constantFrom<Name>("LR2", "LR4"), load, corner, (name, r, f) => {
        expect(miss(impedanceAt(twoWay(name, f, f, r), f), [2 * r, 0])).toBeLessThan(1e-9 * r);
      }),
    );
  });

  it("of a second-order Linkwitz–Riley pair is R(1 + s)²/(1 + s + s²) at every frequency", () => {
    fc.assert(
      fc.property(load, corner, ratio, (r, f, x) => {
        const expected = times([r, 0], over(times([1, x], [1, x]), [1 - x * x, x]));
        expect(miss(impedanceAt(twoWay("LR2", f, f, r), f * x), expected)).toBeLessThan(1e-9 * r);
      }),
    );
  });

  it("of one branch at its corner has the printed values, the high-pass the conjugate of the low-pass", () => {
    for (const [name, re, im] of [
      ["BW1", "8.000000", "8.000000"],
      ["BW2", "5.333333", "7.542472"],
      ["LR4", "3.555556", "10.056630"],
    ] as const) {
      const [low, high] = [impedanceAt(lowPassBranch(name, 3000, 8), 3000), impedanceAt(highPassBranch(name, 3000, 8), 3000)];
      expectPrinted(low[0], re);
      expectPrinted(low[1], im);
      expect(miss(high, [low[0], -low[1]])).toBeLessThan(1e-9);
    }
  });

  it("of one lossless branch has a conductance of |H|²/R: all the power reaches the driver", () => {
    fc.assert(
      fc.property(fc.constantFrom(...names), load, corner, ratio, (name, r, f, x) => {
        const { admittance } = solve(lowPassBranch(name, f, r), [f * x]);
        const [re, im] = denominatorAt(name, x);
        expect(Math.abs(admittance.re[0]! * r - 1 / (re * re + im * im))).toBeLessThan(1e-9);
      }),
    );
  });

  // With the low-pass at a·f₀ and the high-pass at f₀/a the branches are conjugates of each other at f₀, so that
  // Y(f₀) = 2 Re Y_low = (2/R)|H(j/a)|², and for Butterworth Z(f₀) = R (1 + a^(−2n))/2.
  it("dips to R(1 + a⁻²ⁿ)/2 between corners that are spread into overlap by a either way", () => {
    fc.assert(
      fc.property(butterworth, load, corner, uniform(0.4, 3), (name, r, f, a) => {
        const expected = (r * (1 + a ** (-2 * Number(name.slice(2))))) / 2;
        expect(miss(impedanceAt(twoWay(name, f * a, f / a, r), f), [expected, 0])).toBeLessThan(1e-9 * r);
      }),
    );
  });

  it("dips to 0.60 R, and nowhere lower, for second-order corners spread by 1.5 each", () => {
    const r = 8;
    const x = Float64Array.from({ length: 401 }, (_, i) => 1000 * 10 ** ((i - 200) / 100));
    const { impedance } = solve(twoWay("BW2", 1500, 1000 / 1.5, r), x);
    const size = impedance.re.map((re, i) => Math.hypot(re, impedance.im[i]!));
    const least = Math.min(...size);
    expectPrinted(least / r, "0.60");
    expect(Math.abs(least / r - (1 + 1.5 ** -4) / 2)).toBeLessThan(1e-9);
    expect(x[size.indexOf(least)]).toBeCloseTo(1000, 9);
  });

  it("of both branches in parallel is that of the one and the other", () => {
    fc.assert(
      fc.property(fc.constantFrom(...names), load, corner, ratio, (name, r, f, x) => {
        const y = (entries: Parameters<typeof solve>[0]): C => {
          const { re, im } = solve(entries, [f * x]).admittance;
          return [re[0]!, im[0]!];
        };
        expect(miss(y(twoWay(name, f, f, r)), plus(y(lowPassBranch(name, f, r)), y(highPassBranch(name, f, r)))) * r).toBeLessThan(1e-12);
      }),
    );
  });
});
