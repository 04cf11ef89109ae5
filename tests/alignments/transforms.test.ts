// Tests src/alignments/filters/: all-pass-filter.ts, band-pass.ts, group-delay-of.ts, step-response-of.ts
import fc from "fast-check";
import {
  allPassFilter,
  bandPass,
  bessel,
  butterworth,
  cascade,
  chebyshev,
  groupDelayOf,
  highPass,
  legendrePapoulis,
  linkwitzRiley,
  lowPass,
  polynomialsOf,
  stepResponseOf,
  subtractive,
} from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { levelDb, responseOf, valueAt, type TransferFunction } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { residueStep } from "./residue-step";

const filters = [
  lowPass(butterworth(3), 1000),
  highPass(linkwitzRiley(4), 300),
  bandPass(chebyshev(3, { rippleDb: 1 }), { from: 200, to: 3000 }),
  allPassFilter({ frequency: 500, q: 0.7 }),
  cascade(highPass(butterworth(2), 80), lowPass(bessel(5), 2500)),
];

describe("the transforms", () => {
  it("put the prototype's corner where it is asked for", () => {
    const made = chebyshev(4, { rippleDb: 0.5, level: "peak" });
    for (const filter of [lowPass(made, "2.5 kHz"), highPass(made, "2.5 kHz")])
      expect(levelDb(responseOf(filter, [2500]))[0]).toBeCloseTo(-0.5, 10);
    const band = levelDb(responseOf(bandPass(made, { from: 400, to: "2.5 kHz" }), [400, 1000, 2500]));
    [-0.5, -0.5, -0.5].forEach((level, k) => expect(band[k]).toBeCloseTo(level, 9));
  });

  it("map each frequency: s/ω₀, ω₀/s, (s² + ω₁ω₂)/(s(ω₂ − ω₁))", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 8 }),
        fc.double({ min: 0.05, max: 20, noNaN: true }),
        fc.double({ min: 1.1, max: 30, noNaN: true }),
        (order, x, ratio) => {
          // Zeros, poles and gain by hand, which may be asked anywhere.
          const { zeros, poles, gain } = bessel(order);
          const made = { zeros, poles, gain };
          const [f1, f2] = [500, 500 * ratio];
          const value = (w: number) => valueAt(made, w / (2 * Math.PI));
          const near = (a: { re: number; im: number }, b: { re: number; im: number }) =>
            expect(Math.hypot(a.re - b.re, a.im - b.im)).toBeLessThan(1e-12);
          near(valueAt(lowPass(made, f1), f1 * x), value(x));
          near(valueAt(highPass(made, f1), f1 * x), conjugate(value(1 / x)));
          const f = Math.sqrt(f1 * f2) * x;
          const mapped = (f * f - f1 * f2) / (f * (f2 - f1));
          near(valueAt(bandPass(made, { from: f1, to: f2 }), f), mapped >= 0 ? value(mapped) : conjugate(value(-mapped)));
        },
      ),
    );
  });

  it("carry zeros along, those at zero to infinity and back", () => {
    const plain = ({ zeros, poles, gain }: TransferFunction): TransferFunction => ({ zeros, poles, gain });
    for (const filter of filters) {
      const there = highPass(plain(filter), 100);
      const back = highPass(plain(there), 100);
      const [one, other] = [responseOf(filter, [50, 400, 6000]), responseOf(back, [50, 400, 6000])];
      one.re.forEach((re, i) => expect(Math.hypot(re - other.re[i]!, one.im[i]! - other.im[i]!)).toBeLessThan(1e-12));
    }
  });

  it("keep double poles double and conjugates exact", () => {
    const { poles } = bandPass(linkwitzRiley(4), { from: 300, to: 3000 });
    for (const { re, im } of poles) {
      expect(poles.filter((other) => other.re === re && other.im === im)).toHaveLength(2);
      expect(poles.filter((other) => other.re === re && other.im === -im)).toHaveLength(2);
    }
  });

  it("refuse corners outside 1 mHz to 1 MHz, bands that don't ascend, and what is no filter", () => {
    for (const corner of [0, -1, 2e6, NaN, Infinity, "1 mH", undefined]) {
      expect(() => lowPass(butterworth(2), corner as number)).toThrow(/lowPass: "corner" must/);
      expect(() => highPass(butterworth(2), corner as number)).toThrow(/highPass: "corner" must/);
    }
    expect(() => bandPass(butterworth(2), { from: 1000, to: 1000 })).toThrow(
      /"band.to" must be above "band.from" \(1000 Hz\), got 1000 Hz/,
    );
    for (const junk of [undefined, null, 4, {}, { zeros: [{ re: 0, im: 0 }], poles: [], gain: 1 }]) {
      expect(() => lowPass(junk as never, 100)).toThrow(expect.objectContaining({ code: "invalid-transfer-function" }));
    }
    expect(() => lowPass({ zeros: [], poles: [{ re: NaN, im: 0 }], gain: 1 }, 100)).toThrow(/poles\[0\]\.re/);
    expect(() => lowPass({ zeros: [], poles: new Array(2) as never, gain: 1 }, 100)).toThrow(/poles\[0\]\.re/);
    expect(() => lowPass({ zeros: [], poles: [{ re: -1, im: 2 }], gain: 1 }, 100)).toThrow(
      /must come in conjugate pairs, got -1 \+ j2 rad\/s without its mirror image/,
    );
  });

  it("refuse what would leave double precision instead of giving Infinity or NaN", () => {
    const code = expect.objectContaining({ code: "invalid-transfer-function" });
    expect(() => highPass({ zeros: [], poles: [{ re: 0, im: 0 }], gain: 1 }, 1000)).toThrow(/must not lie at 0 rad\/s/);
    expect(() => highPass({ zeros: [], poles: [{ re: -5e-324, im: 0 }], gain: 1 }, 1000)).toThrow(code);
    expect(() => lowPass({ ...butterworth(2), gain: 1e308 }, 1000)).toThrow(code);
    expect(() => bandPass({ zeros: [], poles: [{ re: -1e300, im: 0 }], gain: 1 }, { from: 20, to: 20e3 })).toThrow(code);
    expect(() => groupDelayOf({ zeros: [], poles: [{ re: -5e-324, im: 0 }], gain: 1 }, [0])).toThrow(/the delay/);
    expect(groupDelayOf({ zeros: [], poles: [{ re: -1e-300, im: 0 }], gain: 1 }, [0])[0]! / 1e300).toBeCloseTo(1, 14);
  });
});

describe("polynomials", () => {
  it("hold coefficients beyond 10²¹², or refuse those beyond double precision", () => {
    expect(polynomialsOf({ ...butterworth(2), gain: 1e300 }).numerator).toEqual([1e300]);
    const { numerator } = polynomialsOf({ zeros: [{ re: -1e9, im: 0 }], poles: [{ re: -1, im: 0 }], gain: -1e250 });
    expect([numerator[0]! / -1e250, numerator[1]! / -1e259].every((ratio) => Math.abs(ratio - 1) < 1e-15)).toBe(true);
    expect(() => polynomialsOf({ zeros: [{ re: -1e9, im: 0 }], poles: [{ re: -1, im: 0 }], gain: 1e305 })).toThrow(/every coefficient/);
  });

  it("divide to the response", () => {
    for (const filter of filters) {
      const { numerator, denominator } = polynomialsOf(filter);
      expect(denominator).toHaveLength(filter.poles.length + 1);
      for (const frequency of [30, 500, 4000]) {
        const [n, d] = [horner(numerator, 2 * Math.PI * frequency), horner(denominator, 2 * Math.PI * frequency)];
        const value = valueAt(filter, frequency);
        const size = d.re ** 2 + d.im ** 2;
        expect(Math.hypot((n.re * d.re + n.im * d.im) / size - value.re, (n.im * d.re - n.re * d.im) / size - value.im)).toBeLessThan(
          1e-11,
        );
      }
    }
  });
});

describe("group delay in closed form", () => {
  it("is the slope of the phase", () => {
    for (const filter of filters) {
      for (const frequency of [40, 310, 900, 5000]) {
        const h = frequency * 1e-5;
        const [a, b] = [valueAt(filter, frequency - h), valueAt(filter, frequency + h)];
        const turned = Math.atan2(a.im * b.re - a.re * b.im, a.re * b.re + a.im * b.im);
        const delay = turned / (4 * Math.PI * h);
        expect(Math.abs(groupDelayOf(filter, [frequency])[0]! - delay)).toBeLessThan(1e-8 * Math.abs(delay) + 1e-13);
      }
    }
  });
});

describe("the step response in closed form", () => {
  it("is that of textbooks for one, two different and two equal poles", () => {
    const times = [0, 1e-4, 5e-4, 2e-3, 0.05];
    const w = 2 * Math.PI * 100;
    const one = stepResponseOf(lowPass(butterworth(1), 100), times);
    const two = stepResponseOf(lowPass(butterworth(2), 100), times);
    const equal = stepResponseOf(lowPass(linkwitzRiley(2), 100), times);
    times.forEach((t, i) => {
      const x = w * t;
      expect(one[i]).toBeCloseTo(1 - Math.exp(-x), 13);
      expect(two[i]).toBeCloseTo(1 - Math.exp(-x / Math.SQRT2) * (Math.cos(x / Math.SQRT2) + Math.sin(x / Math.SQRT2)), 13);
      expect(equal[i]).toBeCloseTo(1 - (1 + x) * Math.exp(-x), 13);
    });
  });

  it("is that of ten equal poles, and hardly another one for ten that nearly coincide", () => {
    const poles = Array.from({ length: 10 }, () => ({ re: -1, im: 0 }));
    const nearly = poles.map(({ re }, k) => ({ re: re * (1 + k * 1e-9), im: 0 }));
    for (const t of [0.5, 5, 10, 30]) {
      let [term, sum] = [1, 1];
      for (let k = 1; k < 10; k++) sum += term *= t / k;
      expect(stepResponseOf({ zeros: [], poles, gain: 1 }, [t])[0]).toBeCloseTo(1 - sum * Math.exp(-t), 12);
      expect(stepResponseOf({ zeros: [], poles: nearly, gain: 1 }, [t])[0]).toBeCloseTo(1 - sum * Math.exp(-t), 7);
    }
  });

  it("starts at the gain at infinity, ends at the gain at zero frequency, and is 0 before", () => {
    for (const filter of filters) {
      const [before, start, end] = stepResponseOf(filter, [-1, 0, 10]);
      expect(before).toBe(0);
      expect(start! - (filter.zeros.length === filter.poles.length ? filter.gain : 0)).toBeCloseTo(0, 12);
      expect(end! - valueAt(filter, 0).re).toBeCloseTo(0, 11);
    }
  });

  it("has the response as its transform", () => {
    // ∫ (1 − step) dt is the group delay at 0 Hz of a low-pass; Simpson's rule over 0.02 s.
    const filter = lowPass(bessel(6), 500);
    const n = 2000;
    const step = stepResponseOf(
      filter,
      Float64Array.from({ length: n + 1 }, (_, k) => (k * 0.02) / n),
    );
    const area = step.reduce((sum, value, k) => sum + (1 - value) * (k === 0 || k === n ? 1 : k % 2 === 1 ? 4 : 2), 0) * (0.02 / n / 3);
    expect(area / groupDelayOf(filter, [0])[0]! - 1).toBeCloseTo(0, 8);
  });

  // Found against the residues in 80 digits: a zero at 0 in one section with a far pole lost five digits in the sections after it.
  it("keeps its digits where poles lie far apart", () => {
    const filter = bandPass(bessel(10, { normalization: "delay" }), { from: 500, to: 3000 });
    const residues = [0.559012751668797, -0.366405406963183, 0.0893231925620208];
    stepResponseOf(filter, [2e-4, 1e-3, 2.4e-3]).forEach((value, k) => expect(value).toBeCloseTo(residues[k]!, 12));
  });

  it("is the sum over the residues, with 50 digits", () => {
    const cases = [
      lowPass(chebyshev(9, { rippleDb: 1 }), 80),
      highPass(legendrePapoulis(7), 300),
      bandPass(butterworth(4), { from: 200, to: 900 }),
      subtractive(lowPass(bessel(5), 500)),
      cascade(allPassFilter({ frequency: 400, q: 3 }), lowPass(butterworth(3), 1000)),
    ];
    for (const filter of cases) {
      const times = [1e-5, 3e-4, 1.1e-3, 0.007, 0.03];
      stepResponseOf(filter, times).forEach((value, i) =>
        expect(Math.abs(value - residueStep(filter, times[i]!)), `${filter.poles.length} poles at ${times[i]} s`).toBeLessThan(
          2e-13 * Math.max(1, Math.abs(value)),
        ),
      );
    }
  });

  it("refuses poles that don't decay and times that are no numbers", () => {
    for (const junk of [undefined, null, 3, {}, "1"]) {
      expect(() => stepResponseOf(filters[0]!, junk as never)).toThrow(/"times" must be an array of numbers/);
      expect(() => groupDelayOf(filters[0]!, junk as never)).toThrow(/"frequencies" must be an array of numbers/);
    }
    expect(() =>
      stepResponseOf(
        {
          zeros: [],
          poles: [
            { re: 0, im: 1 },
            { re: 0, im: -1 },
          ],
          gain: 1,
        },
        [1],
      ),
    ).toThrow(/real part below 0/);
    expect(() => stepResponseOf(filters[0]!, [NaN])).toThrow(/"times\[0\]"/);
    expect(() => stepResponseOf(filters[0]!, [1e300])).toThrow(expect.objectContaining({ code: "invalid-argument" }));
  });
});

it("group delay and cascade leave their arguments as they were", () => {
  const frequencies = logGrid(10, 1000, 5);
  const copy = Float64Array.from(frequencies);
  groupDelayOf(filters[0]!, frequencies);
  expect(frequencies).toEqual(copy);
});

function conjugate({ re, im }: { re: number; im: number }) {
  return { re, im: -im };
}

function horner(coefficients: readonly number[], w: number): { re: number; im: number } {
  return coefficients.reduce((sum, value) => ({ re: -sum.im * w + value, im: sum.re * w }), { re: 0, im: 0 });
}
