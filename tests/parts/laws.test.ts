// The admittance of every law, and its slope by every value, against the textbook formula in 60 digits; slopes by differences of
// 60-digit values a relative 1e-20 apart, whose own error is below 1e-30.
import { Decimal } from "decimal.js";
import { capacitor, driverImpedance, inductor, resistor } from "dividing-network/parts";
import { expandPart, type Law } from "../../src/parts/internal";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { uniform } from "../support/uniform";
import { cases } from "../support/cases";

const Precise = Decimal.clone({ precision: 60 });
type D = InstanceType<typeof Precise>;
type C = readonly [re: D, im: D];

const d = (value: number): D => new Precise(value);
const none: C = [d(0), d(0)];
const twoPi = Precise.acos(-1).times(2);
const plus = ([a, b]: C, [c, e]: C): C => [a.plus(c), b.plus(e)];
const inverse = ([a, b]: C): C => {
  const norm = a.times(a).plus(b.times(b));
  return [a.div(norm), b.neg().div(norm)];
};
const parallel = (x: C, y: C): C => inverse(plus(inverse(x), inverse(y)));
const imaginary = (x: D): C => [d(0), x];

type Formula = (p: readonly D[], f: D) => C;

/** Admittances by the formulas of the parts' documentation, written again. */
const formulas: Readonly<Record<string, Formula>> = {
  resistance: ([r]) => [d(1).div(r!), d(0)],
  coil: ([l, r], f) => inverse([r!, twoPi.times(f).times(l!)]),
  capacitor([c, r, t], f) {
    const x = d(1).div(twoPi.times(f).times(c!));
    return inverse([r!.plus(t!.times(x)), x.neg()]);
  },
  driver([re, le, re2, le2, k, n, fs, qms, qes], f) {
    const w = twoPi.times(f);
    const lossy = re2!.isZero() ? none : parallel([re2!, d(0)], imaginary(w.times(le2!)));
    const size = k!.isZero() ? d(0) : k!.times(w.pow(n!));
    const angle = n!.times(twoPi).div(4);
    const power: C = [size.times(angle.cos()), size.times(angle.sin())];
    let motional = none;
    if (!fs!.isZero()) {
      // A parallel resonant circuit: res, and a coil and a capacitor of reactance res/qms at fs.
      const res = re!.times(qms!).div(qes!);
      const x = res.div(qms!);
      motional = inverse([d(1).div(res), f.div(fs!).minus(fs!.div(f)).div(x)]);
    }
    return inverse(plus(plus([re!, w.times(le!)], lossy), plus(power, motional)));
  },
};

const decade = (middle: number, spread = 2) => uniform(-spread, spread).map((exponent) => middle * 10 ** exponent);
const frequency = uniform(0, 5).map((exponent) => 10 ** exponent);
const q = uniform(0.1, 20);
const driver = { re: decade(6, 1), le: decade(3e-4, 1), fs: decade(200, 1), qms: q, qes: q };

const parts = fc.oneof(
  decade(8).map((r) => resistor(r)),
  fc.tuple(decade(1e-3), decade(0.3)).map(([l, dcr]) => inductor(l, { dcr })),
  decade(1e-3).map((l) => inductor(l)),
  fc.tuple(decade(1e-5), decade(0.05)).map(([c, esr]) => capacitor(c, { esr })),
  fc.tuple(decade(1e-5), decade(0.01)).map(([c, dissipationFactor]) => capacitor(c, { dissipationFactor })),
  fc.record({ ...driver, re2: decade(5, 1), le2: decade(5e-4, 1) }).map((options) => driverImpedance(options)),
  fc.record({ ...driver, k: decade(0.05, 1), n: uniform(0.3, 1) }).map((options) => driverImpedance(options)),
  fc.record(driver).map((options) => driverImpedance(options)),
  fc.record({ re: driver.re, le: driver.le }).map((options) => driverImpedance(options)),
);

interface Case {
  readonly law: Law;
  readonly values: readonly number[];
}

const lawCases: fc.Arbitrary<Case> = parts.map((part) => expandPart(part).branches[0]!);

function admittance({ law, values }: Case, f: number): readonly [number, number] {
  const [re, im] = [new Float64Array(3), new Float64Array(3)];
  law.bind(Float64Array.of(f / 2, f)).admittance(values, 0, 1, 1, re, im, 2);
  return [re[2]!, im[2]!];
}

function relative(re: number, im: number, exact: C): number {
  const size = Precise.hypot(exact[0], exact[1]);
  return Precise.hypot(exact[0].minus(re), exact[1].minus(im)).div(size).toNumber();
}

describe("the law of a part", () => {
  it("gives the textbook admittance to 1e-14", () => {
    fc.assert(
      fc.property(lawCases, frequency, (part, f) => {
        expect(relative(...admittance(part, f), formulas[part.law.name]!(part.values.map(d), d(f)))).toBeLessThan(1e-14);
      }),
      { numRuns: cases(250) },
    );
  });

  it("gives as a quotient what it gives as an admittance, and the same at an offset", () => {
    fc.assert(
      fc.property(lawCases, frequency, (part, f) => {
        const out = new Float64Array(4);
        part.law.ratio([99, 99, ...part.values], 2, f, out);
        const [ar, ai, br, bi] = out as unknown as [number, number, number, number];
        const norm = br * br + bi * bi;
        const [re, im] = admittance(part, f);
        expect(Math.hypot((ar * br + ai * bi) / norm - re, (ai * br - ar * bi) / norm - im)).toBeLessThan(1e-14 * Math.hypot(re, im));
        const [oRe, oIm] = [new Float64Array(1), new Float64Array(1)];
        part.law.bind(Float64Array.of(f)).admittance([99, 99, ...part.values], 2, 0, 1, oRe, oIm, 0);
        expect([oRe[0], oIm[0]]).toEqual([re, im]);
      }),
    );
  });

  it("gives the slope by each of its values to 1e-10", () => {
    let worst = 0;
    fc.assert(
      fc.property(lawCases, frequency, (part, f) => {
        const { law, values } = part;
        const bound = law.bind(Float64Array.of(f));
        values.forEach((value, index) => {
          const [re, im] = [new Float64Array(1), new Float64Array(1)];
          bound.derivative(values, 0, index, 0, 1, re, im, 0);
          if (absent(part, index)) {
            expect([Math.abs(re[0]!), Math.abs(im[0]!)]).toEqual([0, 0]);
            return;
          }
          // Losses of 0 have a slope as well; differences around 0 are taken to both sides all the same.
          const step = d(value === 0 ? 1 : value).times("1e-20");
          const at = (sign: number) =>
            formulas[law.name]!(
              values.map((each, k) => (k === index ? d(each).plus(step.times(sign)) : d(each))),
              d(f),
            );
          const [up, down] = [at(1), at(-1)];
          const exact: C = [up[0].minus(down[0]).div(step.times(2)), up[1].minus(down[1]).div(step.times(2))];
          worst = Math.max(worst, relative(re[0]!, im[0]!, exact));
          expect(worst, `${law.name}, ${law.parameters[index]}`).toBeLessThan(1e-10);
        });
      }),
      { numRuns: cases(250) },
    );
  });

  it("has every parameter named, and a value for each", () => {
    fc.assert(
      fc.property(lawCases, ({ law, values }) => {
        expect(law.parameters).toHaveLength(values.length);
      }),
      { numRuns: cases(50) },
    );
  });
});

/** A driver's term that isn't there has no slope. */
function absent({ law, values }: Case, index: number): boolean {
  if (law.name !== "driver" || index < 2) return false;
  return index < 4 ? values[2] === 0 : index < 6 ? values[4] === 0 : values[6] === 0;
}
