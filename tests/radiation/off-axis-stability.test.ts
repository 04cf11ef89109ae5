// Off-axis stability against integrals: levels that run straight, whose mean square is known, and two sources, whose deviation is
// 20 lg |cos((kd sin θ + ψ)/2) / cos(ψ/2)|, integrated here over the angle and the logarithm of frequency by Simpson's rule.
import { logGrid } from "dividing-network/numeric";
import { offAxisStability, pointSource, polarMap } from "dividing-network/radiation";
import { describe, expect, it } from "vitest";
import { mapOf, steps } from "../support/map-of";

const speedOfSound = 343;
const simpson = (from: number, to: number, n: number, f: (x: number) => number): number => {
  let sum = 0;
  for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * f(from + ((to - from) * i) / n);
  return ((to - from) / (3 * n)) * sum;
};
const linear = (db: number): number => 10 ** (db / 20);

describe("off-axis stability", () => {
  it("of a level that falls straight is slope × window / √3, from whatever angles", () => {
    for (const angles of [steps(-30, 30, 10), steps(-40, 40, 1), [-30, -17, -3, 0, 1, 2, 3, 28, 31, 90], [-90, -5, 0, 5, 90]]) {
      for (const window of [30, 25, 17.3]) {
        const map = mapOf("vertical", angles, [100, 1000, 1100], (angle) => linear(angle > 0 ? -0.2 * angle : 0.1 * -angle));
        const { positive, negative, figureDb } = offAxisStability(map, { window });
        expect(positive.rmsDb).toBeCloseTo((0.2 * window) / Math.sqrt(3), 9);
        expect(negative.rmsDb).toBeCloseTo((0.1 * window) / Math.sqrt(3), 9);
        expect(figureDb).toBe(positive.rmsDb);
      }
    }
  });

  it("takes the larger side for its figure, whichever it is", () => {
    const map = mapOf("vertical", steps(-30, 30, 10), [100], (angle) => linear(angle < 0 ? 0.2 * angle : 0.1 * angle));
    expect(offAxisStability(map, { window: 30 }).figureDb).toBeCloseTo((0.2 * 30) / Math.sqrt(3), 9);
  });

  it("weighs frequencies by the logarithm: a slope whose square runs straight over it has the mean of the ends", () => {
    // s² = 0.01 (1 + ln(f/100)): at 100 Hz and 100·e² Hz the mean is 0.02, wherever the places between.
    const slope = (frequency: number): number => Math.sqrt(0.01 * (1 + Math.log(frequency / 100)));
    for (const between of [[], [101, 102, 103], [150, 300], [700, 738]]) {
      const map = mapOf("vertical", steps(-20, 20, 5), [100, ...between, 100 * Math.exp(2)], (angle, frequency) =>
        linear(-slope(frequency) * Math.abs(angle)),
      );
      expect(offAxisStability(map, { window: 20 }).figureDb).toBeCloseTo((Math.sqrt(0.02) * 20) / Math.sqrt(3), 9);
    }
    const map = mapOf("vertical", steps(-20, 20, 5), [50, 100, 200, 100 * Math.E, 2000], (angle, frequency) =>
      linear(-slope(Math.max(100, frequency)) * Math.abs(angle)),
    );
    expect(offAxisStability(map, { window: 20, from: 100, to: 100 * Math.E }).figureDb).toBeCloseTo(
      (Math.sqrt(0.015) * 20) / Math.sqrt(3),
      9,
    );
    expect(offAxisStability(map, { window: 20, from: 190, to: 210 }).figureDb).toBeCloseTo((slope(200) * 20) / Math.sqrt(3), 9);
  });

  it("leaves out 0 Hz, which lies nowhere on a logarithmic axis", () => {
    const at = (frequencies: readonly number[]): number =>
      offAxisStability(
        mapOf("vertical", steps(-20, 20, 5), frequencies, (angle, f) => linear(-(f === 0 ? 0.5 : f / 1000) * Math.abs(angle))),
        { window: 20 },
      ).figureDb;
    expect(at([0, 100, 200, 400])).toBeCloseTo(at([100, 200, 400]), 12);
    expect(at([0, 100])).toBeCloseTo(at([100]), 12);
    expect(at([0])).toBeCloseTo((0.5 * 20) / Math.sqrt(3), 9);
  });

  it.each([0, 60, -60, 20])("of two sources, the upper leading by %d°, is the integral of its closed form", (lead) => {
    const [d, window, from, to] = [0.1, 20, 1000, 3000];
    const level = (sine: number, frequency: number): number => {
      const half = (lead * Math.PI) / 360;
      return 20 * Math.log10(Math.abs(Math.cos((Math.PI * frequency * d * sine) / speedOfSound + half) / Math.cos(half)));
    };
    const exact = (sign: 1 | -1): number =>
      Math.sqrt(
        simpson(
          Math.log(from),
          Math.log(to),
          60,
          (x) => simpson(0, window, 120, (angle) => level(sign * Math.sin((angle * Math.PI) / 180), Math.exp(x)) ** 2) / window,
        ) / Math.log(to / from),
      );
    const sources = [pointSource({ position: [0, 0, d / 2] }), pointSource({ position: [0, 0, -d / 2] })];
    const drives = [{ re: Math.cos((lead * Math.PI) / 180), im: Math.sin((lead * Math.PI) / 180) }, 1];
    const angleSets = [steps(-25, 25, 0.5), [...steps(-20, -5, 0.25), ...steps(-4, 20, 0.5)]];
    for (const angles of angleSets) {
      const map = polarMap(sources, logGrid(from, to, 81), { plane: "vertical", angles, drives, distance: 1e5, air: { speedOfSound } });
      const { positive, negative, figureDb } = offAxisStability(map, { window });
      expect(Math.abs(positive.rmsDb / exact(1) - 1)).toBeLessThan(1e-3);
      expect(Math.abs(negative.rmsDb / exact(-1) - 1)).toBeLessThan(1e-3);
      expect(Math.abs(figureDb / Math.max(exact(1), exact(-1)) - 1)).toBeLessThan(1e-3);
      // Away from the lobe the level falls most at the edge of the window and of the band.
      const side = lead < 0 ? negative : positive;
      const sign = lead < 0 ? -1 : 1;
      expect([side.worst.angle, side.worst.frequency]).toEqual([sign * window, map.frequencies[80]]);
      expect(side.worst.deviationDb).toBeCloseTo(level(sign * Math.sin((window * Math.PI) / 180), to), 5);
      side.deviation.levelDb.forEach((value, f) =>
        expect(value).toBeCloseTo(level(sign * Math.sin((window * Math.PI) / 180), map.frequencies[f]!), 5),
      );
      expect(offAxisStability(map, { window, to: 2000 }).positive.deviation.levelDb).toEqual(positive.deviation.levelDb);
    }
  });

  it("keeps the sign of the worst deviation, and finds it within window and band only", () => {
    const map = mapOf("horizontal", [-30, -20, -10, 0, 10, 20, 30], [100, 200, 400], (angle, f) =>
      linear(angle === 20 && f === 200 ? 3 : angle === 30 ? -9 : angle === -10 && f === 100 ? -2 : angle === -20 && f === 400 ? -5 : 0),
    );
    const { positive, negative } = offAxisStability(map, { window: 20, to: 300 });
    expect(positive.worst).toEqual({ deviationDb: expect.closeTo(3, 9) as number, angle: 20, frequency: 200 });
    expect(negative.worst).toEqual({ deviationDb: expect.closeTo(-2, 9) as number, angle: -10, frequency: 100 });
    expect(Array.from(positive.deviation.levelDb)).toEqual([0, expect.closeTo(3, 9), 0]);
    expect(Array.from(negative.deviation.levelDb)).toEqual([expect.closeTo(-2, 9), 0, expect.closeTo(-5, 9)]);
    expect(offAxisStability(map, { window: 20, from: 300 }).positive.worst).toEqual({ deviationDb: 0, angle: 10, frequency: 400 });
  });

  it("counts a map that ends within the window as far as it reaches, and silence within it as infinite", () => {
    const straight = mapOf("vertical", steps(-20, 30, 5), [100], (angle) => linear(-0.1 * Math.abs(angle)));
    const { positive, negative } = offAxisStability(straight, { window: 30 });
    expect(positive.rmsDb).toBeCloseTo(3 / Math.sqrt(3), 9);
    expect(negative.rmsDb).toBeCloseTo(2 / Math.sqrt(3), 9);
    const silent = (at: number): number =>
      offAxisStability(
        mapOf("vertical", steps(-30, 30, 5), [100], (angle) => (angle === at ? 0 : linear(-0.1 * Math.abs(angle)))),
        { window: 12 },
      ).positive.rmsDb;
    expect(silent(10)).toBe(Infinity);
    expect(silent(5)).toBe(Infinity);
    expect(silent(15)).toBeCloseTo(1 / Math.sqrt(3), 9);
    for (const angles of [
      [0, 10, 20],
      [-20, -10, 0],
      [-10, 10],
      [-40, 0, 40],
    ]) {
      expect(() =>
        offAxisStability(
          mapOf("vertical", angles, [100], () => 1),
          { window: 30 },
        ),
      ).toThrow(expect.objectContaining({ code: "missing-angle" }) as Error);
    }
    expect(() => offAxisStability(straight, { window: 181 })).toThrow(/"window" must be/);
    expect(
      offAxisStability(
        mapOf("vertical", steps(-180, 180, 10), [100], () => 1),
        { window: 180 },
      ).figureDb,
    ).toBe(0);
  });

  it("takes angles and windows of any size, and the edge to the rounding of its number", () => {
    for (const edge of [0.5, 0.1 + 0.2, 179.9]) {
      const map = mapOf("vertical", [-edge, 0, edge], [100], (angle) => linear(-0.1 * Math.abs(angle)));
      for (const window of [edge, Math.round(10 * edge) / 10])
        expect(offAxisStability(map, { window }).positive.rmsDb).toBeCloseTo((0.1 * edge) / Math.sqrt(3), 9);
    }
    // Frequencies below 1 Hz bound a band like others.
    const slow = mapOf("vertical", [-10, 0, 10], [0.2, 0.4, 0.8], (angle, f) => linear(-f * Math.abs(angle)));
    expect(offAxisStability(slow, { window: 10, from: 0.3, to: 0.5 }).figureDb).toBeCloseTo(4 / Math.sqrt(3), 9);
  });

  it("gives the deviation next to the axis where two are as large", () => {
    const map = mapOf("vertical", [-20, -10, 0, 10, 20], [100], (angle) => [0.5, 2, 1, 2, 0.5][angle / 10 + 2]!);
    const { positive, negative } = offAxisStability(map, { window: 20 });
    expect(positive.deviation.levelDb[0]).toBeCloseTo(20 * Math.log10(2), 12);
    expect([positive.worst.angle, Math.abs(negative.worst.deviationDb)]).toEqual([10, expect.closeTo(20 * Math.log10(2), 12)]);
  });

  it("passes on the marks of its map, and has none of its own", () => {
    const map = mapOf("vertical", [-10, 0, 10], [100], () => 1);
    expect("marks" in offAxisStability(map, { window: 10 }).positive.deviation).toBe(false);
    const marks = [{ kind: "smoothed", note: "1/12 octave" }] as const;
    expect(offAxisStability({ ...map, marks }, { window: 10 }).negative.deviation.marks).toEqual(marks);
  });

  it("names itself and what is wrong", () => {
    const map = mapOf("vertical", [-10, 0, 10], [100], () => 1);
    expect(() => offAxisStability(map, { window: 0 })).toThrow(/^offAxisStability: "window" must be/);
    expect(() => offAxisStability(map, { window: 10, x: 3 } as never)).toThrow(/^offAxisStability: .*x/);
    expect(() => offAxisStability({} as never, { window: 10 })).toThrow(/^offAxisStability: "map" must be a polar map/);
    expect(() => offAxisStability(map, { window: 10, from: 200 })).toThrow(/^offAxisStability: "from" and "to" must enclose/);
    expect(() => offAxisStability(map, { window: 10, from: -1 })).toThrow(/^offAxisStability: "from" must be/);
    expect(() => offAxisStability(map, { window: 10, to: -1 })).toThrow(/^offAxisStability: "to" must be/);
    expect(() =>
      offAxisStability(
        mapOf("vertical", [-10, 10], [100], () => 1),
        { window: 10 },
      ),
    ).toThrow(/^offAxisStability: the map must hold 0°/);
  });
});
