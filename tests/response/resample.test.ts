// Tests src/response/: checked-marks.ts, estimate-delay.ts, frequency-response.ts, interpolant.ts, interval-kinds.ts, value-at.ts
import { linearGrid, logGrid } from "dividing-network/numeric";
import {
  addResponses,
  delayResponse,
  estimateDelay,
  frequencyResponse,
  resample,
  valueAt,
  type FrequencyResponse,
} from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { comb, copied, delayed, distance, errorOf, firstOrder, sample, secondOrder, type System } from "./closed-forms";
import { cases } from "../support/cases";

const grid = logGrid(20, 20000, 480); // 48 points an octave
const fine = logGrid(20, 20000, 3001);
const metre = 1 / 343.2;

describe("resampling", () => {
  it("of smooth functions after 1 m of flight agrees with their closed form up to 20 kHz", () => {
    const cases: [System, number][] = [
      [firstOrder(3000), 1e-9],
      [secondOrder(1000, 0.5, true), 1e-9],
      [secondOrder(1000, Math.SQRT1_2), 1e-8],
      [secondOrder(1000, 2, true), 2e-6],
      [secondOrder(1000, 5), 5e-5],
      [(f) => secondOrder(2500, Math.SQRT1_2, true)(f).pow(2, 0), 1e-8],
    ];
    for (const [system, bound] of cases)
      expect(distance(resample(sample(delayed(system, metre), grid), fine), delayed(system, metre))).toBeLessThan(bound);
    expect(360 * (grid[479]! - grid[478]!) * metre, "degrees of flight in the last step").toBeGreaterThan(290);
  });

  describe("with 24 points an octave", () => {
    const coarse = logGrid(20, 20000, 240);
    const inner = fine.filter((f) => f >= coarse[2]! && f <= coarse[237]!);

    it("holds to 1e-4 for any delay and corner and a Q to 1.5, and to 5e-4 in the two intervals at either end", () => {
      fc.assert(
        fc.property(
          fc.double({ min: -0.02, max: 0.02, noNaN: true }),
          fc.double({ min: 50, max: 15000, noNaN: true }),
          fc.double({ min: 0.4, max: 1.5, noNaN: true }),
          fc.boolean(),
          fc.boolean(),
          (delay, corner, q, highPass, reversed) => {
            const system: System = (f) => delayed(secondOrder(corner, q, highPass), delay)(f).mul(reversed ? -1 : 1);
            const response = sample(system, coarse);
            const before = copied(response);
            for (const options of [{}, { delay }]) {
              expect(distance(resample(response, inner, options), system)).toBeLessThan(1e-4);
              expect(distance(resample(response, fine, options), system)).toBeLessThan(5e-4);
            }
            expect(copied(response)).toEqual(before);
          },
        ),
        { numRuns: cases(50) },
      );
    });

    it("costs up to three times as much where a maximum lies in the last interval: high-pass, 14,733.6 Hz, Q 0.98988", () => {
      const system = secondOrder(14733.6, 0.98988, true);
      const response = sample(system, coarse);
      expect(distance(resample(response, inner), system)).toBeLessThan(1e-5);
      expect(distance(resample(response, fine), system)).toBeLessThan(3.2e-4);
      expect(distance(resample(response, fine), system)).toBeGreaterThan(1e-4);
    });
  });

  it("gives the samples themselves, bit for bit", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.double({ noNaN: true, noDefaultInfinity: true })), {
          minLength: 1,
          maxLength: 20,
        }),
        (values) => {
          const response = frequencyResponse(
            values.map((_, i) => i * i),
            values.map(([re]) => re),
            values.map(([, im]) => im),
          );
          expect(copied(resample(response, response.frequencies))).toEqual(copied(response));
        },
      ),
    );
  });

  it("is exact for power laws with a constant phase, however far apart the samples", () => {
    const system: System = (f) => firstOrder(1e-6)(f).pow(4, 0).mul(1e36, 0);
    const octaves = logGrid(31.25, 16000, 10);
    const targets = logGrid(31.25, 16000, 200);
    const slope = (f: number): number => f ** -4;
    const response = resample(
      frequencyResponse(
        octaves,
        octaves.map(slope),
        octaves.map(() => 0),
      ),
      targets,
    );
    targets.forEach((f, i) => expect(response.re[i]! / slope(f)).toBeCloseTo(1, 12));
    expect(distance(resample(sample(system, octaves), targets), system)).toBeLessThan(1e-6);
  });

  it("carries marks and takes plain arrays of frequencies", () => {
    const marked = frequencyResponse([100, 200], [1, 1], [0, 0], [{ kind: "model", note: "phase is a model" }]);
    expect(resample(marked, [120, 150]).marks).toEqual(marked.marks);
  });
});

describe("across a null", () => {
  it.each([1, 0.95, 0.7, 0.5])("of two sources, the second %d as strong, the parts lead to the closed form", (strength) => {
    const system = comb(3e-3, 3.25e-3, strength); // nulls at 2, 6, 10, 14, 18 kHz
    const response = sample(system, grid);
    const result = resample(response, fine);
    expect(distance(result, system, true)).toBeLessThan(5e-4);
  });

  it("keeps the polarity of either side of a sign change on a coarse grid", () => {
    const system: System = (f) => delayed((at) => firstOrder(1e12)(at).mul(1 - at / 1050, 0), 2e-3)(f);
    const response = sample(system, linearGrid(100, 2000, 20));
    expect(distance(resample(response, linearGrid(100, 2000, 191), { delay: "2 ms" }), system, true)).toBeLessThan(1e-3);
  });

  it("passes through samples that are zero, and through a response that is zero throughout", () => {
    const system: System = (f) => firstOrder(1e12)(f).mul((f - 1000) / 1000, 0);
    expect(distance(resample(sample(system, linearGrid(100, 2000, 20)), linearGrid(100, 2000, 400)), system, true)).toBeLessThan(1e-3);
    const silent = frequencyResponse([100, 200, 300], [0, 0, 0], [0, 0, 0]);
    expect(Array.from(resample(silent, [150, 250]).re)).toEqual([0, 0]);
  });
});

describe("what cannot be interpolated", () => {
  /** Constant magnitude, and a jump of the phase between 1000 Hz and the next sample. */
  const jump = (degrees: number): FrequencyResponse => {
    const frequencies = linearGrid(100, 2000, 20);
    const angle = (f: number): number => (f > 1000 ? (degrees * Math.PI) / 180 : 0);
    return frequencyResponse(
      frequencies,
      frequencies.map((f) => Math.cos(angle(f))),
      frequencies.map((f) => Math.sin(angle(f))),
    );
  };

  it("is a residual phase step above 90° without a dip: refused, naming the samples", () => {
    const error = errorOf(() => resample(jump(120), [1050], { delay: 0 }));
    expect(error.code).toBe("phase-step");
    expect(error.message).toContain("got 120.0° from 1000 Hz to 1100 Hz");
    expect(error.hint).not.toBe("");
    expect(errorOf(() => resample(jump(-100), [1050], { delay: 0 })).code).toBe("phase-step");
    expect(resample(jump(80), [1050], { delay: 0 }).frequencies).toHaveLength(1);
  });

  it("is refused only where it lies", () => {
    expect(Array.from(resample(jump(120), [450, 1000, 1100, 1550], { delay: 0 }).re).slice(0, 2)).toEqual([1, 1]);
  });

  it("includes a delay that neither the grid nor a statement resolves", () => {
    const coarse = logGrid(20, 20000, 31); // third octaves: at 20 kHz a step is 4 kHz
    const far = sample(delayed(firstOrder(3000), 0.05), coarse);
    // Between some samples the steps are small by chance: those are refused as well.
    for (const target of logGrid(25, 19000, 40)) expect(errorOf(() => resample(far, [target])).code).toBe("phase-step");
    expect(distance(resample(far, logGrid(20, 20000, 301), { delay: "50 ms" }), delayed(firstOrder(3000), 0.05))).toBeLessThan(2e-3);
  });

  it("is anything outside the band: refused, with the band that exists", () => {
    for (const target of [19.999, 20001, 0]) {
      const error = errorOf(() => resample(sample(firstOrder(1000), grid), [target]));
      expect(error.code).toBe("outside-band");
      expect(error.message).toContain("between 20 Hz and 20000 Hz");
    }
    expect(errorOf(() => resample(frequencyResponse([100], [1], [0]), [101])).code).toBe("outside-band");
  });

  it("is a list of frequencies that is none, or an option that is none", () => {
    const response = sample(firstOrder(1000), grid);
    for (const list of [[], [100, 50], [100, 100], [NaN], [-1], "100", undefined, ["100"], [100n]]) {
      expect(errorOf(() => resample(response, list as number[])).code).toBe("invalid-argument");
    }
    expect(errorOf(() => resample(response, [100], { delays: 1 } as object)).code).toBe("unknown-option");
    expect(errorOf(() => resample(response, [100], { delay: "3" as "3 s" })).code).toBe("invalid-quantity");
  });
});

describe("from 0 Hz to the first positive frequency", () => {
  it("the parts run straight in f", () => {
    const response = frequencyResponse([0, 10, 20, 40], [0, 1, 1, 1], [0, 1, 1, 1]);
    const { re, im } = resample(response, [0, 2.5, 5, 10], { delay: 0 });
    [0, 0.25, 0.5, 1].forEach((value, i) => expect([re[i], im[i]]).toEqual([expect.closeTo(value, 14), expect.closeTo(value, 14)]));
  });

  it("a spectrum on a linear grid keeps its closed form elsewhere", () => {
    const system = delayed(secondOrder(1000, 0.7, true), 0.003);
    const response = sample(system, linearGrid(0, 24000, 4097));
    expect(distance(resample(response, logGrid(50, 20000, 500)), system)).toBeLessThan(1e-3);
  });
});

describe("the estimated bulk delay", () => {
  it("of a pure delay is that delay", () => {
    fc.assert(
      fc.property(fc.double({ min: -0.1, max: 0.1, noNaN: true }), fc.double({ min: 0.01, max: 100, noNaN: true }), (delay, gain) => {
        expect(Math.abs(estimateDelay(sample((f) => delayed(firstOrder(1e15), delay)(f).mul(gain, 0), grid)) - delay)).toBeLessThan(1e-10);
      }),
      { numRuns: cases(40) },
    );
  });

  it("moves with a delay that is added", () => {
    const response = sample(secondOrder(2500, 0.7, true), grid);
    const start = estimateDelay(response);
    expect(Math.abs(start)).toBeLessThan(2e-4);
    for (const delay of [-0.004, 0.001, 0.0029, 0.02]) expect(estimateDelay(delayResponse(response, delay)) - start).toBeCloseTo(delay, 9);
  });

  it("is found below a noise floor that fills the stop band", () => {
    let state = 7;
    const noise = (): number => ((state = (state * 48271) % 2147483647) / 2147483647 - 0.5) * 0.004;
    const highPass = sample(
      (f) =>
        delayed(
          secondOrder(2500, 0.7, true),
          metre,
        )(f)
          .pow(2, 0)
          .mul(delayed(firstOrder(1e15), -metre)(f)),
      grid,
    );
    const noisy = addResponses(highPass, frequencyResponse(grid, grid.map(noise), grid.map(noise)));
    expect(Math.abs(estimateDelay(noisy) - metre)).toBeLessThan(1e-4);
  });

  it("serves the pass band although noise fills two thirds of the samples, above a steep low-pass", () => {
    let state = 11;
    const noise = (): number => ((state = (state * 48271) % 2147483647) / 2147483647 - 0.5) * 0.01;
    for (const delay of [0.003, 0.02]) {
      const system: System = (f) => delayed((at) => secondOrder(100, Math.SQRT1_2)(at).pow(2, 0), delay)(f);
      for (let run = 0; run < 10; run++) {
        const noisy = addResponses(sample(system, grid), frequencyResponse(grid, grid.map(noise), grid.map(noise)));
        expect(distance(resample(noisy, logGrid(20, 200, 200)), system, true)).toBeLessThan(0.03);
      }
    }
  });

  it("is the shorter of two that fit equally well", () => {
    const linear = linearGrid(100, 5000, 50);
    const uneven = Float64Array.from([...linear, 5001]); // one narrow step widens the search
    for (const delay of [0.003, -0.002]) expect(estimateDelay(sample(delayed(firstOrder(1e15), delay), uneven))).toBeCloseTo(delay, 5);
  });

  it("is that of the flight for a steep low-pass too, whose slope is far below its pass band", () => {
    // A fourth-order low-pass at 100 Hz: at 20 kHz it is down by 184 dB, and its own phase looks like 4 ms at low frequencies.
    const system: System = (f) => delayed((at) => secondOrder(100, Math.SQRT1_2)(at).pow(2, 0), metre)(f);
    for (const [points, bound] of [
      [480, 1e-7],
      [121, 1e-5],
      [31, 2e-3],
    ] as const) {
      const response = sample(system, logGrid(20, 20000, points));
      expect(Math.abs(estimateDelay(response) - metre)).toBeLessThan(2e-6);
      expect(distance(resample(response, fine), system)).toBeLessThan(bound);
    }
  });

  it("on a linear grid is the one nearest to zero of those that look the same", () => {
    const spectrum = linearGrid(0, 24000, 2401); // 10 Hz: delays 100 ms apart look the same
    for (const delay of [0.003, 0.049, -0.02])
      expect(estimateDelay(sample(delayed(firstOrder(1e15), delay), spectrum))).toBeCloseTo(delay, 9);
    expect(estimateDelay(sample(delayed(firstOrder(1e15), 0.09), spectrum))).toBeCloseTo(-0.01, 9);
  });

  it("is 0 where there is nothing to go by", () => {
    expect(estimateDelay(frequencyResponse([100], [1], [1]))).toBe(0);
    expect(estimateDelay(frequencyResponse([100, 200], [0, 0], [0, 0]))).toBe(0);
    expect(estimateDelay(frequencyResponse([0, 5e-324], [1, 0], [0, 1]))).toBe(0);
  });
});

describe("the value at one frequency", () => {
  it("is that of resampling", () => {
    const response = sample(delayed(secondOrder(1000, 1), 0.002), grid);
    const { re, im } = resample(response, [333.3, 12345]);
    expect([valueAt(response, 333.3), valueAt(response, "12.345 kHz")].map((value) => [value.re, value.im])).toEqual([
      [re[0], im[0]],
      [re[1], im[1]],
    ]);
  });

  it("is a sample where it meets one, as a complex number to calculate with", () => {
    const response = frequencyResponse([100, 3000], [3, 0], [4, -2]);
    expect(valueAt(response, 100).abs()).toBe(5);
    expect(valueAt(response, "3 kHz").mul(0, 1).re).toBe(2);
    expect(valueAt(frequencyResponse([0], [7], [0]), 0).re).toBe(7);
  });

  it("is refused outside the band, and for what is no frequency", () => {
    const response = frequencyResponse([100, 3000], [3, 3], [4, 4]);
    expect(errorOf(() => valueAt(response, 99)).code).toBe("outside-band");
    expect(errorOf(() => valueAt(response, NaN)).code).toBe("invalid-argument");
    expect(errorOf(() => valueAt(response, "3 kOhm" as "3 kHz")).code).toBe("invalid-quantity");
    for (const nothing of [undefined, null, 3, "x", {}, []])
      expect(errorOf(() => valueAt(nothing as unknown as FrequencyResponse, 100)).code).toBe("invalid-response");
  });
});
