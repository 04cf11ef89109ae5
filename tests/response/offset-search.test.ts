// The sum of two drivers by the law of cosines: |P₁ + P₂ e^(−j2πfτ)|² = a² + b² ± 2ab cos 2π(turns − fτ). Misfits, slopes and minima worked out here from it.
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { overlapOf, residuals, searchDelays, type OffsetPoint } from "../../src/response/offset-search";

const near = (value: number, digits = 9): unknown => expect.closeTo(value, digits);
const sumOf = ({ f, a, b, turns }: OffsetPoint, tau: number, sign: 1 | -1): number =>
  Math.sqrt(a * a + b * b + 2 * sign * a * b * Math.cos(2 * Math.PI * (turns - f * tau)));
const point = (f: number, a: number, b: number, turns: number, sum = 0): OffsetPoint => ({ f, a, b, turns, sum });

describe("the points of a search", () => {
  it("are levels against the louder driver and turns between the two, where there is sound, within the band", () => {
    const f = [0, 100, 200, 300, 400, 500];
    const first = frequencyResponse(f, [1, 1, 0, 2, 0, 1], [0, 0, 3, 0, 0, 0]);
    const second = frequencyResponse(f, [1, 0, 4, 0, 0, 1], [0, 2, 0, -2, 0, 0]);
    const both = frequencyResponse(f, [1, 3, 0, 4, 1, 1], [0, 0, 2, 0, 0, 0]);
    const all = [
      { f: 100, a: near(0.5), b: 1, sum: near(1.5), turns: near(0.25) },
      { f: 200, a: near(0.75), b: 1, sum: near(0.5), turns: near(-0.25) },
      { f: 300, a: 1, b: 1, sum: near(2), turns: near(-0.25) },
      { f: 500, a: 1, b: 1, sum: near(1), turns: near(0) },
    ];
    expect(overlapOf(first, second, both, 0, Infinity)).toEqual(all);
    expect(overlapOf(first, second, both, 100, 300)).toEqual(all.slice(0, 3));
    expect(overlapOf(first, second, both, 101, 299)).toEqual(all.slice(1, 2));
  });
});

describe("the misfit of a delay", () => {
  const points = [point(900, 1, 0.6, 0.1, 1.2), point(1100, 0.8, 1, -0.3, 0.9), point(1700, 0.4, 1, 0.2, 1)];
  it.each([1, -1] as const)("in the polarity %d is summed over the points, with its slope as a difference shows it", (sign) => {
    for (const tau of [-0.00021, 0, 0.0004, 0.0031]) {
      const { squares, slopeSquares, cross } = residuals(points, tau, sign);
      const step = 1e-9;
      const slopes = points.map((each) => (sumOf(each, tau + step, sign) - sumOf(each, tau - step, sign)) / (2 * step));
      const left = points.map((each) => sumOf(each, tau, sign) - each.sum);
      expect(squares).toBeCloseTo(
        left.reduce((sum, value) => sum + value * value, 0),
        10,
      );
      const slopesSquared = slopes.reduce((sum, value) => sum + value * value, 0);
      expect(slopeSquares / slopesSquared).toBeCloseTo(1, 5);
      expect(cross / slopesSquared).toBeCloseTo(slopes.reduce((sum, slope, i) => sum + slope * left[i]!, 0) / slopesSquared, 5);
    }
  });

  it("in a perfect null has no slope, and no root of less than nothing", () => {
    expect(residuals([point(1000, 1, 1, 0, 0.5)], 0, -1)).toEqual({ squares: near(0.25), slopeSquares: 0, cross: 0 });
  });
});

describe("a search", () => {
  const truth = 0.00037;
  const points = Array.from({ length: 24 }, (_, i) => point(600 * 1.12 ** i, 1, 0.3 + i / 40, (i * 7) % 5 === 0 ? 0.1 : -0.07)).map(
    (each) => ({
      ...each,
      sum: sumOf(each, truth, 1),
    }),
  );
  const reach = 0.001;
  const count = Math.ceil(32 * reach * points.at(-1)!.f);

  it("finds the delay, and with it every minimum within reach, the best first", () => {
    const found = searchDelays(points, reach, count, [1, -1]);
    expect(found[0]).toMatchObject({ tau: near(truth, 9), sign: 1 });
    expect(found[0]!.squares).toBeLessThan(1e-16);
    expect(found.length).toBeGreaterThan(4);
    expect(new Set(found.map(({ sign }) => sign)).size).toBe(2);
    found.forEach(({ tau, sign, squares }, i) => {
      expect(Math.abs(tau)).toBeLessThanOrEqual(reach * (1 + 1e-9));
      expect(squares).toBeCloseTo(residuals(points, tau, sign).squares, 12);
      expect(squares).toBeGreaterThanOrEqual(found[i - 1]?.squares ?? 0);
      for (const aside of [-2e-6, 2e-6])
        if (Math.abs(tau + aside) < reach) expect(residuals(points, tau + aside, sign).squares).toBeGreaterThan(squares - 1e-9);
    });
    // No delay of a comb of 20,000 fits better than the best that was found in its polarity.
    for (const sign of [1, -1] as const) {
      const comb = Array.from({ length: 20001 }, (_, i) => residuals(points, -reach + i * 1e-7, sign).squares);
      expect(found.find((each) => each.sign === sign)!.squares).toBeLessThanOrEqual(Math.min(...comb));
    }
  });

  it("in one polarity looks in that alone, and takes a delay at either end of its reach", () => {
    expect(searchDelays(points, reach, count, [-1]).every(({ sign }) => sign === -1)).toBe(true);
    for (const end of [-0.00037, 0.00037]) {
      const there = points.map((each) => ({ ...each, sum: sumOf(each, end, 1) }));
      expect(searchDelays(there, 0.00037, 200, [1])[0]!.tau).toBeCloseTo(end, 9);
      const short = searchDelays(there, 0.00036, 200, [1]);
      expect(short.every(({ tau }) => Math.abs(tau) <= 0.00036 * (1 + 1e-9))).toBe(true);
    }
  });
});
