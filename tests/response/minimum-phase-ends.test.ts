// Ends of the data inside a roll-off, and resonances. Truth: denominators written out here from their definitions (Butterworth: poles evenly
// on the left half of the unit circle; Bessel: reverse Bessel polynomials), evaluated with their phase; the library's own filters take no part.
import { linearGrid, logGrid } from "dividing-network/numeric";
import { frequencyResponse, minimumPhaseWithError, type MinimumPhaseOptions, type MinimumPhaseResult } from "dividing-network/response";
import { describe, expect, it } from "vitest";

type Complex = readonly [re: number, im: number];
type Denominator = (w: number) => Complex;
const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
const conjugate = ([a, b]: Complex): Complex => [a, -b];
const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1));

const butterworth =
  (n: number): Denominator =>
  (w) =>
    Array.from({ length: n }, (_, k) => (Math.PI * (2 * k + n + 1)) / (2 * n)).reduce<Complex>(
      (product, angle) => times(product, [-Math.cos(angle), w - Math.sin(angle)]),
      [1, 0],
    );
/** θₙ(jw)/θₙ(0) with its asymptote at w = 1. */
const bessel = (n: number): Denominator => {
  const a = Array.from({ length: n + 1 }, (_, k) => factorial(2 * n - k) / (2 ** (n - k) * factorial(k) * factorial(n - k)));
  return (w) =>
    a
      .reduceRight<Complex>(([re, im], next) => [next - im * w * a[0]! ** (1 / n), re * w * a[0]! ** (1 / n)], [0, 0])
      .map((part) => part / a[0]!) as unknown as Complex;
};
const pair =
  (q: number): Denominator =>
  (w) => [1 - w * w, w / q];
const above =
  (denominator: Denominator, corner: number): Denominator =>
  (f) =>
    conjugate(denominator(corner / f));
const below =
  (denominator: Denominator, corner: number): Denominator =>
  (f) =>
    denominator(f / corner);
const both =
  (a: Denominator, b: Denominator): Denominator =>
  (f) =>
    times(a(f), b(f));

interface Outcome {
  readonly result: MinimumPhaseResult;
  /** Degrees at each frequency. */
  readonly errors: readonly number[];
  /** Largest error two octaves or more inside both ends. */
  readonly inside: number;
  /** Largest error as a multiple of its estimate. */
  readonly ratio: number;
}

/** Minimum phase of 1/|D| against the phase of 1/D. */
function tried(grid: Float64Array, denominator: Denominator, options?: MinimumPhaseOptions): Outcome {
  const values = Array.from(grid, denominator);
  const result = minimumPhaseWithError(
    frequencyResponse(
      grid,
      values.map(([a, b]) => 1 / Math.hypot(a, b)),
      new Float64Array(grid.length),
    ),
    options,
  );
  const errors = values.map((value, k) => {
    const [re, im] = times([result.response.re[k]!, result.response.im[k]!], value);
    return (Math.abs(Math.atan2(im, re)) * 180) / Math.PI;
  });
  const inside = Math.max(...errors.filter((_, k) => grid[k]! >= 4 * grid[0]! && grid[k]! <= grid[grid.length - 1]! / 4));
  return { result, errors, inside, ratio: Math.max(...errors.map((error, k) => error / result.errorDegrees[k]!)) };
}

const grid = logGrid(20, 20000, 240);
const orders = [2, 3, 4, 5, 6];
/** Corners from just below the end of the data to three octaves inside, as multiples of its frequency. */
const cuts = [0.9, 1, 1.2, 1.4, 1.7, 2, 4, 8];

describe("minimum phase of data that end inside a roll-off", () => {
  describe.each([
    ["Butterworth", butterworth],
    ["Bessel", bessel],
  ] as const)("%s", (_name, family) => {
    it.each(orders)(
      "of order %d at the low end: the order is found, and the phase is within 1° two octaves inside and within 1.5 times its estimate everywhere",
      (n) => {
        for (const cut of cuts) {
          const { result, inside, ratio } = tried(grid, both(above(family(n), 20 * cut), below(butterworth(2), 2500)));
          expect(result.lowSlope, `${cut}`).toBe(6 * n);
          expect(inside, `${cut}`).toBeLessThan(1);
          expect(ratio, `${cut}`).toBeLessThan(1.5);
        }
      },
    );

    it.each(orders)("of order %d at the high end: the same", (n) => {
      for (const cut of cuts) {
        const { result, inside, ratio } = tried(grid, both(below(family(n), 20000 / cut), above(butterworth(2), 160)));
        expect(result.highSlope, `${cut}`).toBe(6 * n);
        expect(inside, `${cut}`).toBeLessThan(1);
        expect(ratio, `${cut}`).toBeLessThan(1.5);
      }
    });
  });

  it.each([1, 2, 3, 4])(
    "of order %d that are marked as missing from somewhere in the roll-off, its slope stated: the estimate holds, and the data's own slope is read where it has nearly settled",
    (n) => {
      for (const cut of [0.5, 0.8, 1, 1.3, 2, 4]) {
        const values = Array.from(grid, both(above(butterworth(n), 80), below(butterworth(2), 5000)));
        const missing = { kind: "no-data", to: 80 * cut, note: "reflections" } as const;
        const given = frequencyResponse(
          grid,
          values.map(([a, b]) => 1 / Math.hypot(a, b)),
          new Float64Array(grid.length),
          [missing],
        );
        const { response, errorDegrees, lowSlope } = minimumPhaseWithError(given, { lowSlope: 6 * n });
        expect(lowSlope).toBe(6 * n);
        const errors = values.map((value, k) => {
          const [re, im] = times([response.re[k]!, response.im[k]!], value);
          return (Math.abs(Math.atan2(im, re)) * 180) / Math.PI;
        });
        const kept = errors.flatMap((error, k) => (grid[k]! > 80 * cut ? [[error, errorDegrees[k]!] as const] : []));
        for (const [error, estimate] of kept) expect(error, `${cut}`).toBeLessThan(1.5 * estimate);
        // An octave into the roll-off, orders from 2 on have bent to within some percent of their slope.
        if (cut === 0.5 && n >= 2) expect(Math.max(...kept.map(([error]) => error))).toBeLessThan(0.5);
      }
    },
  );

  it("a vented box whose corner lies at 28 to 40 Hz, from 20 Hz: once guessed as 12, 16.7 or 30 dB per octave, 20° off two octaves inside", () => {
    for (const corner of [28, 32, 36, 40]) {
      const { result, inside } = tried(grid, above(butterworth(4), corner));
      expect(result.lowSlope).toBe(24);
      expect(inside).toBeLessThan(0.01);
    }
  });

  it("needs no corner where the slope is stated: it once erred by 4 to 7° at 80 Hz", () => {
    for (const corner of [28, 32, 36, 40]) {
      const { result, inside } = tried(grid, above(butterworth(4), corner), { lowSlope: 24 });
      expect(result.lowSlope).toBe(24);
      expect(inside).toBeLessThan(0.01);
    }
  });

  it("from bins of 10 Hz, a few of them in the first octaves", () => {
    for (const n of orders) {
      for (const corner of [28, 60]) {
        const { inside, ratio } = tried(linearGrid(20, 24000, 2399), both(above(butterworth(n), corner), below(butterworth(4), 2500)));
        expect(inside, `order ${n}, ${corner} Hz`).toBeLessThan(1);
        expect(ratio, `order ${n}, ${corner} Hz`).toBeLessThan(1.5);
      }
    }
  });

  it("keeps its estimate for a band between two close fourth-order corners", () => {
    for (const [low, high] of [
      [30, 120],
      [25, 60],
    ] as const) {
      const { inside, ratio } = tried(logGrid(10, 1000, 320), both(above(butterworth(4), low), below(butterworth(4), high)));
      expect(inside).toBeLessThan(1);
      expect(ratio).toBeLessThan(1.5);
    }
  });

  it("goes on with a power law that is no whole order as it is", () => {
    for (const power of [0.25, 0.7, 1.3]) {
      const result = minimumPhaseWithError(
        frequencyResponse(
          grid,
          grid.map((f) => f ** -power),
          new Float64Array(grid.length),
        ),
      );
      expect(result.highSlope).toBeCloseTo(6 * power, 6);
      expect((Math.atan2(result.response.im[120]!, result.response.re[120]!) * 180) / Math.PI).toBeCloseTo(-90 * power, 6);
    }
  });

  it("of the reciprocal is the negative: an end that rises is fitted as one that falls", () => {
    const values = Array.from(grid, both(above(butterworth(4), 32), below(butterworth(3), 9000)));
    const result = minimumPhaseWithError(
      frequencyResponse(
        grid,
        values.map(([a, b]) => Math.hypot(a, b)),
        new Float64Array(grid.length),
      ),
    );
    expect([result.lowSlope, result.highSlope]).toEqual([-24, -18]);
    values.forEach(([a, b], k) => {
      const [re, im] = times([result.response.re[k]!, result.response.im[k]!], [a, -b]);
      expect((Math.abs(Math.atan2(im, re)) * 180) / Math.PI).toBeLessThan(0.01);
    });
  });

  it("does not see a corner that the data do not show", () => {
    expect(tried(grid, above(butterworth(4), 2)).inside).toBeGreaterThan(1);
  });
});

describe("minimum phase next to a resonance", () => {
  // Half a point beside the resonance, the worst case, and on it.
  const worst = (perOctave: number, q: number): { error: number; ratio: number } => {
    const points = logGrid(20, 20480, 10 * perOctave + 1);
    const found = [0, 0.5].map((shift) => tried(points, below(pair(q), points[5 * perOctave]! * 2 ** (shift / perOctave))));
    return { error: Math.max(...found.flatMap(({ errors }) => errors)), ratio: Math.max(...found.map(({ ratio }) => ratio)) };
  };

  it.each([
    [12, 4],
    [24, 8],
    [48, 16],
    [96, 32],
  ])("is within 0.02° at %d points per octave for Q %d: three points per octave for each unit of Q", (perOctave, q) => {
    expect(worst(perOctave, q).error).toBeLessThan(0.02);
  });

  it.each([
    [24, 2],
    [24, 4],
    [48, 8],
    [96, 12],
  ])("is within 0.0001° at %d points per octave for Q %d", (perOctave, q) => {
    expect(worst(perOctave, q).error).toBeLessThan(1e-4);
  });

  it.each([
    [24, 12, 0.21],
    [24, 20, 1.8],
    [48, 40, 1.8],
  ])("at %d points per octave for Q %d errs by %d°, within 1.5 times the estimate", (perOctave, q, degrees) => {
    const { error, ratio } = worst(perOctave, q);
    expect(error).toBeGreaterThan(0.9 * degrees);
    expect(error).toBeLessThan(1.1 * degrees);
    expect(ratio).toBeLessThan(1.5);
  });
});
