// Where levels are judged: points of a band, its ends, and means, with values by hand.
import { describe, expect, it } from "vitest";
import { frequencyResponse } from "dividing-network/response";
import { aboveZero, anchoredGrid, bandLevelDb, checkBand, covered, fitLine, judged, SILENCE_DB } from "../../src/assessment/band";
import { sampled } from "../support/synthetic";

const list = (values: ArrayLike<number>) => Array.from(values);
const steps = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => 1000 * 2 ** ((from + i) / 24));
const over = (frequencies: readonly number[], pascal = 1) => sampled(() => [pascal, 0], frequencies);

describe("the points of a band", () => {
  it("pass through 1 kHz, and hold both ends where these are points", () => {
    expect(list(anchoredGrid({ from: 1000, to: 2000 }, 24))).toEqual(steps(0, 24));
    expect(list(anchoredGrid({ from: 1000 * (1 + 1e-12), to: 2000 * (1 - 1e-12) }, 24))).toEqual(steps(0, 24));
    expect(list(anchoredGrid({ from: 1001, to: 1999 }, 24))).toEqual(steps(1, 23));
    expect(anchoredGrid({ from: 1001, to: 1002 }, 24).length).toBe(0);
  });

  it("a band lies between 1 mHz and 1 GHz", () => {
    expect(checkBand("x", "band", { from: "100 Hz", to: "2 kHz" })).toEqual({ from: 100, to: 2000 });
    expect(() => checkBand("x", "band", { from: 1e-4, to: 10 })).toThrow(/band\.from/);
    expect(() => checkBand("x", "band", { from: 10, to: 2e9 })).toThrow(/band\.to/);
  });
});

describe("a response where it is judged", () => {
  it("has its last points at measured frequencies as they were printed, where the band ends there", () => {
    // 500 Hz and 4 kHz, printed with a little more and a little less.
    const printed = steps(-24, 48).map((f, i) => (i === 0 ? f * (1 + 8e-7) : i === 72 ? f * (1 - 8e-7) : f));
    const { frequencies } = judged(over(printed), { from: printed[0]!, to: printed[72]! });
    expect([frequencies.length, frequencies[0], frequencies[72]]).toEqual([73, printed[0], printed[72]]);
    // Wider data: the band itself ends there.
    const wide = over(steps(-48, 96));
    expect(judged(wide, { from: printed[0]!, to: printed[72]! }).frequencies.length).toBe(71);
    expect(() => judged(over(printed), { from: 400, to: 5000 })).toThrow(/nothing is extrapolated/);
  });

  it("isn't interpolated beside a measured frequency, but taken from it", () => {
    const near = steps(0, 24).map((f) => f * (1 + 9e-5));
    const far = steps(0, 24).map((f) => f * (1 + 1.1e-4));
    expect(list(judged(over(near), { from: 1010, to: 1900 }).frequencies)).toEqual(near.slice(1, 23));
    expect(list(judged(over(far), { from: 1010, to: 1900 }).frequencies)).toEqual(steps(1, 22));
    // Of two beside each other it is the nearer one.
    const two = [900, 1000 * (1 - 8e-5), 1000 * (1 + 5e-5), 1100, 1200, 1300];
    expect(judged(over(two), { from: 990, to: 1250 }).frequencies[0]).toBe(two[2]);
  });

  it("is levels re 20 µPa, of which silence has one", () => {
    const { levelDb } = judged(over(steps(0, 24)), { from: 1000, to: 2000 });
    expect(levelDb[0]).toBeCloseTo(20 * Math.log10(1 / 20e-6), 9);
    expect(list(judged(over(steps(0, 24), 0), { from: 1000, to: 2000 }).levelDb)).toEqual(steps(0, 24).map(() => SILENCE_DB));
  });

  it("has three points at least", () => {
    const response = over(steps(-24, 48));
    expect(judged(response, { from: 1000, to: 1000 * 2 ** (2 / 24) }).frequencies.length).toBe(3);
    expect(() => judged(response, { from: 1000, to: 1000 * 2 ** (1.5 / 24) })).toThrow(/fewer than three points/);
  });
});

describe("what a response covers", () => {
  it("of a band is nothing below a third of an octave", () => {
    const response = over([500, 1000, 2000]);
    expect(covered({ from: 100, to: 1000 }, response)).toEqual({ from: 500, to: 1000 });
    expect(covered({ from: 1000, to: 9000 }, response)).toEqual({ from: 1000, to: 2000 });
    expect(covered({ from: 1600, to: 9000 }, response)).toBeUndefined();
    expect(covered({ from: 1550, to: 9000 }, response)).toEqual({ from: 1550, to: 2000 });
    expect(covered({ from: 3000, to: 9000 }, response)).toBeUndefined();
  });

  it("begins above 0 Hz", () => {
    const impulse = frequencyResponse([0, 100, 200], [5, 1, 2], [0, 3, 4], [{ kind: "coarse", to: 150, note: "gate" }]);
    const cut = aboveZero("x", "y", impulse);
    expect([list(cut.frequencies), list(cut.re), list(cut.im), cut.marks]).toEqual([[100, 200], [1, 2], [3, 4], impulse.marks]);
    const whole = over([100, 200]);
    expect(list(aboveZero("x", "y", whole).frequencies)).toEqual([100, 200]);
    expect(() => aboveZero("x", "y", over([0]))).toThrow(/x: "y" must reach above 0 Hz/);
  });
});

describe("a mean level", () => {
  // 1 Pa up to 1 kHz and 2 Pa from there on, the step as narrow as a number allows.
  const step = sampled((f) => [f <= 1000 ? 1 : 2, 0], [250, 1000, 1000.0001, 4000]);

  it("is of powers over log frequency: two octaves of 1 and two of 4 are 2.5", () => {
    expect(bandLevelDb(step, { from: 250, to: 4000 })).toBeCloseTo(10 * Math.log10(2.5) + 20 * Math.log10(1 / 20e-6), 4);
    expect(bandLevelDb(step, { from: 500, to: 1000 })).toBeCloseTo(20 * Math.log10(1 / 20e-6), 9);
  });

  it("ends at a measured frequency as printed, and is refused further out", () => {
    expect(bandLevelDb(step, { from: 250 * (1 - 9e-5), to: 4000 * (1 + 9e-5) })).toBe(bandLevelDb(step, { from: 250, to: 4000 }));
    expect(() => bandLevelDb(step, { from: 250 * (1 - 2e-4), to: 4000 })).toThrow();
    expect(() => bandLevelDb(step, { from: 250, to: 4000 * (1 + 2e-4) })).toThrow();
  });

  it("of what is very loud or very quiet is a number, and of nothing −∞", () => {
    const level = (pascal: number) => bandLevelDb(over([250, 1000, 4000], pascal), { from: 250, to: 4000 });
    expect(level(1e200)).toBeCloseTo(4000 - 20 * Math.log10(20e-6), 6);
    expect(level(1e-200)).toBeCloseTo(-4000 - 20 * Math.log10(20e-6), 6);
    expect(level(0)).toBe(-Infinity);
  });
});

describe("a fitted line", () => {
  it("goes through points that lie on one, and through the mean of those above one another", () => {
    const line = fitLine([1, 2, 4], [5, 7, 11]);
    expect([line.slope, line.at(0), line.at(10)]).toEqual([2, 3, 23].map((value) => expect.closeTo(value, 12) as number));
    const flat = fitLine([2, 2], [3, 5]);
    expect([flat.slope, flat.at(7)]).toEqual([0, 4]);
    // By hand: x̄ = 1, ȳ = 2, slope = (1 + 0 + 2)/2.
    expect(fitLine([0, 1, 2], [1, 1, 4]).slope).toBeCloseTo(1.5, 12);
  });
});
