// Tests src/radiation/: angular-window.ts, check-data.ts, frequency-band.ts, level-curve.ts
// Beamwidth, coverage and window of levels that run straight over angle, where linear interpolation is exact.
import { angularWindow, beamwidth, coverage, pointSource, polarMap } from "dividing-network/radiation";
import { describe, expect, it } from "vitest";
import { mapOf, steps } from "../support/map-of";

const linear = (db: number): number => 10 ** (db / 20);
const falling = (angles: readonly number[], frequencies: readonly number[], slope: (frequency: number) => number) =>
  mapOf("horizontal", angles, frequencies, (angle, frequency) => linear(-slope(frequency) * (angle > 0 ? angle : -2 * angle)));

describe("the beamwidth", () => {
  it("is drop over slope on each side, from whatever angles", () => {
    for (const angles of [steps(-90, 90, 10), steps(-90, 90, 7.5), [-90, -11, -2, 0, 1, 50, 90]]) {
      const map = falling(angles, [100, 200], (frequency) => frequency / 1000);
      const { positive, negative, frequencies } = beamwidth(map, { dropDb: 3 });
      expect(Array.from(positive)).toEqual([expect.closeTo(30, 9), expect.closeTo(15, 9)]);
      expect(Array.from(negative)).toEqual([expect.closeTo(15, 9), expect.closeTo(7.5, 9)]);
      expect(Array.from(frequencies)).toEqual([100, 200]);
      expect(beamwidth(map).positive[0]).toBeCloseTo(60, 9);
    }
  });

  it("ends where the level falls first, not where it falls again, and does not mind what is louder than the axis", () => {
    const levels = [0, 4, -2, -8, 0, -20];
    const map = mapOf("vertical", [-10, ...steps(0, 50, 10)], [1000], (angle) => (angle < 0 ? 1 : linear(levels[angle / 10]!)));
    const { positive, negative } = beamwidth(map, { dropDb: 5 });
    expect(positive[0]).toBeCloseTo(25, 9);
    expect(negative[0]).toBe(10);
    expect(beamwidth(map, { dropDb: 8 + 1e-9 }).positive[0]).toBeGreaterThan(40);
    // At the drop exactly the level has not fallen below it yet.
    expect(
      beamwidth(
        mapOf("vertical", [0, 10, 20], [1000], (angle) => [1, 0.5, 0.5][angle / 10]!),
        { dropDb: 20 * Math.log10(2) + 1e-12 },
      ).positive[0],
    ).toBe(20);
  });

  it("is the place itself where the level is lost in silence", () => {
    const map = mapOf("vertical", [-20, 0, 10, 20], [1000], (angle) => (Math.abs(angle) === 20 ? 0 : 1));
    expect([beamwidth(map).positive[0], beamwidth(map).negative[0]]).toEqual([20, 20]);
  });

  it("is the end of the map where the level never falls, on the axis alone nothing", () => {
    const map = mapOf("vertical", [-70, 0, 10, 50], [1000], () => 1);
    expect([beamwidth(map).positive[0], beamwidth(map).negative[0]]).toEqual([50, 70]);
    expect(beamwidth(mapOf("vertical", [0], [1000], () => 1)).positive[0]).toBe(0);
    expect(() => beamwidth(mapOf("vertical", [10, 20], [1000], () => 1))).toThrow(
      expect.objectContaining({ code: "missing-angle", message: expect.stringMatching(/^beamwidth: /) as string }) as Error,
    );
    expect(() => beamwidth(map, { dropDb: 0 })).toThrow(/^beamwidth: "dropDb" must be/);
    expect(() => beamwidth(map, { drop: 3 } as never)).toThrow(/^beamwidth: .*drop/);
    expect(
      beamwidth(
        falling(steps(-90, 90, 10), [100], () => 0.1),
        { dropDb: 0.5 },
      ).positive[0],
    ).toBeCloseTo(5, 9);
  });
});

describe("the coverage", () => {
  // Full width 100 + 10 ln(f/100): its mean over ln f is half way between the ends', wherever the places.
  const width = (frequency: number): number => 100 + 10 * Math.log(frequency / 100);
  const map = (frequencies: readonly number[]) =>
    mapOf("horizontal", steps(-180, 180, 5), frequencies, (angle, frequency) => linear((-6 * Math.abs(angle)) / (width(frequency) / 2)));

  it("is the mean over the logarithm of frequency, with the extremes and where they are", () => {
    const end = 100 * Math.exp(3);
    for (const between of [[], [101, 102], [1000, 1900]]) {
      const found = coverage(map([100, ...between, end]));
      expect(found.nominal).toBeCloseTo(115, 9);
      expect(found.narrowest).toEqual({ angle: expect.closeTo(100, 9) as number, frequency: 100 });
      expect(found.widest).toEqual({ angle: expect.closeTo(130, 9) as number, frequency: end });
    }
    expect(coverage(map([100, end]), { dropDb: 3 }).nominal).toBeCloseTo(57.5, 9);
  });

  it("is taken within the band only, of one frequency too, and leaves out 0 Hz", () => {
    const frequencies = [100, 100 * Math.E, 100 * Math.exp(2), 100 * Math.exp(3)];
    const found = coverage(map(frequencies), { from: 150, to: 1000 });
    expect(found.nominal).toBeCloseTo(115, 9);
    expect([found.narrowest.frequency, found.widest.frequency]).toEqual([frequencies[1], frequencies[2]]);
    expect(coverage(map(frequencies), { from: 700, to: 800 }).nominal).toBeCloseTo(120, 9);
    const dc = (list: readonly number[]): number =>
      coverage(mapOf("horizontal", steps(-180, 180, 5), list, (angle, f) => linear((-6 * Math.abs(angle)) / (f === 0 ? 20 : width(f) / 2))))
        .nominal;
    expect(dc([0, 100, 100 * Math.E])).toBeCloseTo(105, 9);
    expect(dc([0, 100])).toBeCloseTo(100, 9);
    expect(coverage(polarMap([pointSource()], [0])).nominal).toBe(360);
    expect(() => coverage(map([100, 200]), { from: 300 })).toThrow(/^coverage: "from" and "to" must enclose/);
    expect(() => coverage(map([100, 200]), { drop: 3 } as never)).toThrow(/^coverage: .*drop/);
    expect(() => coverage({} as never)).toThrow(/^coverage: "map" must be a polar map/);
  });

  it("goes down and up again: the extremes are found between the ends", () => {
    const dip = mapOf("horizontal", steps(-90, 90, 5), [100, 200, 300, 400], (angle, f) =>
      linear((-6 * Math.abs(angle)) / [40, 20, 70, 50][f / 100 - 1]!),
    );
    const { narrowest, widest } = coverage(dip);
    expect([narrowest, widest]).toEqual([
      { angle: expect.closeTo(40, 9), frequency: 200 },
      { angle: expect.closeTo(140, 9), frequency: 300 },
    ]);
  });
});

describe("the angular window", () => {
  it("ends where the level leaves the band first, above or below, and over a band where it is narrowest", () => {
    const map = mapOf("vertical", steps(-60, 60, 10), [100, 200, 400], (angle, f) =>
      linear(angle > 0 ? 0.1 * angle * (f / 100) : 0.05 * angle * (400 / f)),
    );
    const found = angularWindow(map, { withinDb: 3 });
    expect(Array.from(found.curve.positive)).toEqual([30, 15, 7.5].map((angle) => expect.closeTo(angle, 9) as number));
    expect(Array.from(found.curve.negative)).toEqual([15, 30, 60].map((angle) => expect.closeTo(angle, 9) as number));
    expect(found).toMatchObject({
      positive: expect.closeTo(7.5, 9) as number,
      negative: expect.closeTo(15, 9) as number,
      positiveFrequency: 400,
      negativeFrequency: 100,
    });
    expect(angularWindow(map, { withinDb: 3, from: 150, to: 300 })).toMatchObject({
      positive: expect.closeTo(15, 9) as number,
      negative: expect.closeTo(30, 9) as number,
      positiveFrequency: 200,
      negativeFrequency: 200,
    });
    expect(() => angularWindow(map, { withinDb: 0 })).toThrow(/^angularWindow: "withinDb" must be/);
    expect(() => angularWindow(map, { withinDb: 3, x: 3 } as never)).toThrow(/^angularWindow: .*x/);
    expect(() => angularWindow({} as never, { withinDb: 3 })).toThrow(/^angularWindow: "map" must be a polar map/);
    expect(() => angularWindow(map, { withinDb: 3, from: 1e4 })).toThrow(/^angularWindow: "from" and "to" must enclose/);
    expect(() =>
      angularWindow(
        mapOf("vertical", [10, 20], [100], () => 1),
        { withinDb: 3 },
      ),
    ).toThrow(/^angularWindow: the map must hold 0°/);
  });

  it("names the frequency where each side is narrowest, in the middle too, and the lowest of several", () => {
    const slopes = [0.1, 0.3, 0.2, 0.3];
    const map = mapOf("vertical", steps(-60, 60, 10), [100, 200, 300, 400], (angle, f) =>
      linear(-(angle > 0 ? slopes[f / 100 - 1]! : slopes[4 - f / 100]!) * Math.abs(angle)),
    );
    expect(angularWindow(map, { withinDb: 3 })).toMatchObject({
      positiveFrequency: 200,
      negativeFrequency: 100,
      positive: expect.closeTo(10, 9) as number,
    });
    expect(angularWindow(map, { withinDb: 3, from: 200 })).toMatchObject({
      positiveFrequency: 200,
      negativeFrequency: 300,
      negative: expect.closeTo(10, 9) as number,
    });
  });

  it("holds a level that is just as far from the axis as it may be", () => {
    for (const value of [1.5, 0.5]) {
      const map = mapOf("vertical", [-20, -10, 0, 10, 20], [100], (angle) => (angle === 0 ? 1 : value));
      expect(angularWindow(map, { withinDb: Math.abs(20 * Math.log10(value)) })).toMatchObject({ positive: 20, negative: 20 });
    }
  });

  it("may be left upwards at one place and downwards at the next", () => {
    const levels = [0, 2, -8, 5];
    const map = mapOf("vertical", steps(0, 30, 10), [100], (angle) => linear(levels[angle / 10]!));
    expect(angularWindow(map, { withinDb: 1 }).positive).toBeCloseTo(5, 9);
    expect(angularWindow(map, { withinDb: 3 }).positive).toBeCloseTo(15, 9);
    expect(angularWindow(map, { withinDb: 9 }).positive).toBe(30);
  });
});
