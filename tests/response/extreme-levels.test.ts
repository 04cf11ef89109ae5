// Tests src/response/: apply-calibration.ts, weighting.ts
// Levels of numbers of any size, against 50 digits and against the law that a factor is an addition of dB.
import fc from "fast-check";
import { displacementLevelDb, volumeDisplacementFromLevel } from "dividing-network/parts";
import { logGrid } from "dividing-network/numeric";
import { log10Modulus } from "../../src/numeric/internal";
import {
  acousticDelay,
  applyCalibration,
  averageMeasurements,
  bandMeanLevelDb,
  frequencyResponse,
  impulseResponse,
  levelDb,
  magnitude,
  mergeAt,
  relativeAcousticOffset,
  smoothResponse,
  toneBurstDecay,
  unwrappedPhaseDegrees,
  weightingDb,
  type FrequencyResponse,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";
import { exactly, Precise } from "../support/exact-decimal";

const finite = fc.oneof(
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.double({ min: -1e3, max: 1e3, noNaN: true }),
  fc.constantFrom(0, -0, 5e-324, Number.MAX_VALUE, -Number.MAX_VALUE),
);

describe("log10Modulus and levelDb", () => {
  it("are right to 1e-15 of the largest logarithm for every pair of finite numbers, and −∞ for 0 alone", () => {
    fc.assert(
      fc.property(finite, finite, (re, im) => {
        const [own, level] = [log10Modulus(re, im), levelDb(frequencyResponse([100], [re], [im]))[0]!];
        if (re === 0 && im === 0) {
          expect([own, level]).toEqual([-Infinity, -Infinity]);
          return;
        }
        const wanted = exactly(re).pow(2).add(exactly(im).pow(2)).log(10).div(2).toNumber();
        expect(Math.abs(own - wanted)).toBeLessThan(3e-16 * Math.max(1, Math.abs(wanted)));
        expect(level).toBe(20 * own);
      }),
      { numRuns: cases(300) },
    );
  });

  it("hold where the absolute value doesn't, which is then refused", () => {
    const response = frequencyResponse([100, 200], [1, 1.7e308], [0, -1.7e308]);
    expect(levelDb(response)[1]).toBeCloseTo(20 * (308 + Math.log10(1.7 * Math.SQRT2)), 10);
    expect(levelDb(response, { reference: 1e-320 })[1]).toBeCloseTo(levelDb(response)[1]! - 20 * Math.log10(1e-320), 9);
    expect(() => magnitude(response)).toThrow(expect.objectContaining({ code: "overflow", message: expect.stringContaining("at 200 Hz") }));
  });
});

describe("a factor is an addition of dB, however large or small", () => {
  const grid = logGrid(100, 1000, 25);
  const curve = (turn: number, scale: number): FrequencyResponse =>
    frequencyResponse(
      grid,
      grid.map((f) => scale * (1.5 + Math.cos(f / 200 + turn))),
      grid.map((f) => scale * Math.sin(f / 300 + turn)),
    );
  const factors = [1e200, 1e-200, 5e307, 1e-305];

  it.each(factors)("%d in the mean level of a band", (factor) => {
    expect(bandMeanLevelDb(curve(0, factor), { from: 150, to: 800 })).toBeCloseTo(
      bandMeanLevelDb(curve(0, 1), { from: 150, to: 800 }) + 20 * Math.log10(factor),
      9,
    );
  });

  it.each(factors)("%d in the spread of measurements, which stays", (factor) => {
    const [one, other] = [1, factor].map((scale) => averageMeasurements([curve(0, scale), curve(0.05, scale), curve(-0.1, scale)]));
    one!.levelDeviationDb.forEach((value, i) => expect(other!.levelDeviationDb[i]).toBeCloseTo(value, 9));
    one!.phaseDeviationDegrees.forEach((value, i) => expect(other!.phaseDeviationDegrees[i]).toBeCloseTo(value, 9));
  });

  it.each(factors)("%d in a smoothed response, whose squares no number holds", (factor) => {
    for (const kind of ["power", "complex"] as const) {
      const [one, other] = [1, factor].map((scale) => levelDb(smoothResponse(curve(0, scale), { fraction: 3, kind })));
      one!.forEach((level, i) => expect(other![i]).toBeCloseTo(level + 20 * Math.log10(factor), 8));
    }
  });

  it.each([...factors, 1.7e308])("%d in the decay of a tone burst", (factor) => {
    const ring = (scale: number) =>
      impulseResponse(
        Array.from({ length: 400 }, (_, n) => scale * Math.exp(-n / 48) * Math.cos(n / 3)),
        { sampleRate: 48_000 },
      );
    const [one, other] = [1, factor].map(
      (scale) => toneBurstDecay(ring(scale), { frequencies: [1000, 2500], periods: 4, arrival: 0 }).levelsDb[5]!,
    );
    one!.forEach((level, i) => expect(other![i]).toBeCloseTo(level + 20 * Math.log10(factor), 8));
  });

  it("1e300 in a microphone's calibration, divided out again", () => {
    const [response, microphone] = [curve(0, 1e300), curve(0.1, 1e300)];
    const plain = applyCalibration(curve(0, 1), curve(0.1, 1));
    applyCalibration(response, microphone).re.forEach((value, i) => expect(value).toBeCloseTo(plain.re[i]!, 12));
    applyCalibration(curve(0, 1e-300), curve(0.1, 1e-300)).im.forEach((value, i) => expect(value).toBeCloseTo(plain.im[i]!, 12));
    expect(() => applyCalibration(response, curve(0, 1e-300))).toThrow(expect.objectContaining({ code: "overflow" }));
  });

  it("is no delay: what no number can hold is refused with the way out", () => {
    const low = frequencyResponse([5e-324, 1e-323, 1.5e-323, 2e-323, 2.5e-323], [1, 1, 1, 1, 1], [0, 0.1, 0, 0.2, 0]);
    expect(() => acousticDelay(low)).toThrow(expect.objectContaining({ code: "overflow" }));
    const one = curve(0, 1);
    expect(() => relativeAcousticOffset({ first: one, second: curve(1, 1), both: curve(0, 1e300) })).toThrow(
      expect.objectContaining({ code: "overflow" }),
    );
    expect(() => unwrappedPhaseDegrees(one, { delay: 1e306 })).toThrow(expect.objectContaining({ code: "overflow" }));
    expect(() => impulseResponse([0, 1], { sampleRate: 1e-300 })).toThrow(/"sampleRate" must be a finite number at least 0.000001 Hz/);
  });

  it.each([1e200, 1e-200, 1e300, 1e-300])("%d in how two responses meet, which stays", (factor) => {
    const [one, other] = [1, factor].map((scale) => mergeAt(curve(0, scale), curve(0.1, scale), { frequency: 300 }));
    for (const key of ["levelDifferenceDb", "levelSpreadDb", "phaseDifferenceDegrees"] as const)
      expect(other![key]).toBeCloseTo(one![key], 8);
  });
});

describe("the level of a moving piston", () => {
  const base = { displacement: 1e-3, sd: 0.0132, frequency: 50, air: { density: 1.2 } };
  const wanted = ({ displacement, sd, frequency, air }: typeof base, distance = 1): number => {
    const omega = Precise.acos(-1).mul(2).mul(exactly(frequency));
    const peak = exactly(air.density)
      .mul(exactly(sd))
      .mul(omega.pow(2))
      .mul(exactly(displacement).abs())
      .div(Precise.acos(-1).mul(2).mul(exactly(distance)));
    return peak.div(new Precise(2).sqrt()).div("20e-6").log(10).mul(20).toNumber();
  };

  it("is that of 50 digits where the product leaves what a number can hold, and of either sign", () => {
    for (const change of [
      {},
      { displacement: -1e-3 },
      { displacement: 1e300, frequency: 1e100 },
      { displacement: 1e-300, sd: 1e-300 },
      { frequency: 1e-200 },
      { frequency: 1e200, displacement: 1e-290 },
      { air: { density: 1e-6 }, frequency: 1e250 },
    ]) {
      const options = { ...base, ...change };
      const level = displacementLevelDb(options);
      expect(Math.abs(level - wanted(options)), JSON.stringify(change)).toBeLessThan(1e-11);
    }
    expect(displacementLevelDb({ ...base, distance: 1e300 })).toBeCloseTo(wanted(base, 1e300), 10);
    expect(displacementLevelDb({ ...base, displacement: 0 })).toBe(-Infinity);
  });

  it("asks a volume that no number can hold: refused; else the inverse", () => {
    for (const frequency of [1e-150, 0.01, 40, 1e6, 1e150]) {
      const volume = volumeDisplacementFromLevel({ levelDb: 90, frequency, air: { density: 1.2 } });
      expect(displacementLevelDb({ displacement: volume, sd: 1, frequency, air: { density: 1.2 } })).toBeCloseTo(90, 9);
    }
    expect(() => volumeDisplacementFromLevel({ levelDb: 90, frequency: 1e-200 })).toThrow(expect.objectContaining({ code: "overflow" }));
  });
});

describe("weightings", () => {
  it("fall by 80 (A) and 40 dB (C) per decade down to any frequency above 0 Hz", () => {
    for (const [weighting, slope] of [
      ["A", 80],
      ["C", 40],
    ] as const) {
      const [low, lower, lowest] = [1e-3, 1e-100, 5e-324].map((f) => weightingDb(weighting, f));
      expect(low! - lower!).toBeCloseTo(97 * slope, 4);
      expect(Number.isFinite(lowest)).toBe(true);
      expect(weightingDb(weighting, 0)).toBe(-Infinity);
    }
  });
});
