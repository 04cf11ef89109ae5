// Tests src/response/: fit-end.ts, log-axis-cubic.ts, log-axis-error.ts, log-axis-grid.ts, log-axis-phase.ts, marked-band.ts
// Tests src/response/: natural-logarithms.ts, nested-fits.ts, tabulate.ts, tail.ts
import { logGrid, linearGrid } from "dividing-network/numeric";
import {
  delayResponse,
  frequencyResponse,
  minimumPhase,
  minimumPhaseWithError,
  phaseDegrees,
  type FrequencyResponse,
  type Mark,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";

type Complex = readonly [re: number, im: number];
const times = ([a, b]: Complex, [c, d]: Complex): Complex => [a * c - b * d, a * d + b * c];
const over = ([a, b]: Complex, [c, d]: Complex): Complex => [(a * c + b * d) / (c * c + d * d), (b * c - a * d) / (c * c + d * d)];
const lowPass =
  (f0: number, q: number) =>
  (f: number): Complex =>
    over([1, 0], [1 - (f / f0) ** 2, f / f0 / q]);
const highPass =
  (f0: number, q: number) =>
  (f: number): Complex =>
    times([-((f / f0) ** 2), 0], lowPass(f0, q)(f));

/** A response with the given magnitude and a phase of zero, and what the phase should be. */
function sampled(
  h: (f: number) => Complex,
  grid: Float64Array,
  marks: Mark[] = [],
): { given: FrequencyResponse; truth: FrequencyResponse } {
  const values = Array.from(grid, h);
  return {
    given: frequencyResponse(
      grid,
      values.map(([a, b]) => Math.hypot(a, b)),
      new Float64Array(grid.length),
      marks,
    ),
    truth: frequencyResponse(
      grid,
      values.map(([a]) => a),
      values.map(([, b]) => b),
    ),
  };
}

/** Largest difference in phase, degrees, between two bounds. */
function worst(found: FrequencyResponse, truth: FrequencyResponse, from = 0, to = Infinity): number {
  return found.frequencies.reduce((most, f, k) => {
    const [re, im] = times([found.re[k]!, found.im[k]!], [truth.re[k]!, -truth.im[k]!]);
    return f < from || f > to || (re === 0 && im === 0) ? most : Math.max(most, Math.abs(Math.atan2(im, re)) * (180 / Math.PI));
  }, 0);
}

const woofer = (f: number): Complex => times(highPass(55, 0.8)(f), lowPass(2500, 0.9)(f));
const tweeter = (f: number): Complex => times(highPass(900, 0.7)(f), lowPass(18000, 0.7)(f));

describe("minimum phase", () => {
  it.each([
    ["a woofer, 24 points per octave", woofer, logGrid(10, 20000, 264), 0.05],
    ["a woofer, 96 points per octave", woofer, logGrid(10, 20000, 1053), 0.05],
    ["a woofer on a linear grid from 0 Hz", woofer, linearGrid(0, 24000, 2401), 0.05],
    ["a tweeter measured to 40 kHz", tweeter, logGrid(100, 40000, 415), 1],
    ["a resonance of Q 20", lowPass(1000, 20), logGrid(50, 20000, 830), 0.05],
    [
      "eighth-order slopes",
      (f: number): Complex => times(times(lowPass(300, 0.51)(f), lowPass(300, 0.6)(f)), times(lowPass(300, 0.9)(f), lowPass(300, 2.56)(f))),
      logGrid(20, 4000, 184),
      0.01,
    ],
  ] as const)("follows %s within its own estimate and within %#'s bound", (_name, h, grid, bound) => {
    const { given, truth } = sampled(h, grid);
    const { response, errorDegrees } = minimumPhaseWithError(given);
    expect(worst(response, truth, grid[grid.length - 1]! / 400, grid[grid.length - 1]! / 4)).toBeLessThan(bound);
    for (let k = 0; k < grid.length; k++) {
      if (grid[k] === 0) continue;
      const here = worst(
        frequencyResponse([grid[k]!], [response.re[k]!], [response.im[k]!]),
        frequencyResponse([grid[k]!], [truth.re[k]!], [truth.im[k]!]),
      );
      expect(here, `${grid[k]} Hz`).toBeLessThanOrEqual(errorDegrees[k]!);
    }
  });

  it("keeps the magnitude and the frequencies, and changes nothing it was given", () => {
    const { given } = sampled(woofer, logGrid(20, 20000, 300));
    const before = [given.frequencies.slice(), given.re.slice(), given.im.slice()];
    const found = minimumPhase(given);
    expect([given.frequencies, given.re, given.im]).toEqual(before);
    expect(found.frequencies).toBe(given.frequencies);
    found.re.forEach((re, k) => expect(Math.hypot(re, found.im[k]!) / given.re[k]!).toBeCloseTo(1, 12));
  });

  it("uses the magnitude only: a delay in the data is not seen", () => {
    const { given, truth } = sampled(woofer, logGrid(20, 20000, 300));
    const late = minimumPhase(delayResponse(truth, 0.003));
    const plain = minimumPhase(given);
    late.re.forEach((re, k) => expect(re).toBeCloseTo(plain.re[k]!, 9));
  });

  it("chooses a longer transform for a sharper resonance, and reports more error where the data cannot resolve it", () => {
    const grid = logGrid(20, 20000, 9600);
    const mild = minimumPhaseWithError(sampled(lowPass(1000, 1), grid).given);
    const sharp = minimumPhaseWithError(sampled(lowPass(1000, 300), grid).given);
    expect(sharp.points).toBeGreaterThan(4 * mild.points);
    const coarse = minimumPhaseWithError(sampled(lowPass(1000, 300), logGrid(20, 20000, 480)).given);
    expect(coarse.errorDegrees[240]).toBeGreaterThan(1);
    expect(coarse.errorDegrees[240]).toBeGreaterThan(1000 * sharp.errorDegrees[4800]!);
  });

  it("resolves poles at radius 0.9999 of a 65,536-point circle, where cepstral aliasing of that length costs 1.6e-2 rad", () => {
    // A pole at 1500 Hz with z-radius 0.9999 at 48 kHz: Q = ω₀ / (2 · 1e-4 · 48000).
    const q = (2 * Math.PI * 1500) / (2 * 1e-4 * 48000);
    const { given, truth } = sampled(lowPass(1500, q), linearGrid(0, 24000, 32769));
    const { response, errorDegrees } = minimumPhaseWithError(given);
    const radians = (degrees: number): number => (degrees * Math.PI) / 180;
    expect(radians(worst(response, truth))).toBeLessThan(1.6e-2);
    // Off the few points that the resonance itself covers (its half width is 0.76 Hz, the spacing 0.73 Hz).
    expect(radians(Math.max(worst(response, truth, 50, 1490), worst(response, truth, 1510, 6000)))).toBeLessThan(1e-4);
    expect(Math.max(...errorDegrees.subarray(1))).toBeGreaterThan(worst(response, truth));
  });

  it("reads the slopes at the ends from the data, as whole orders where they are", () => {
    const { lowSlope, highSlope } = minimumPhaseWithError(sampled(woofer, logGrid(8, 20000, 400)).given);
    expect([lowSlope, highSlope]).toEqual([12, 12]);
    const fourth = minimumPhaseWithError(
      sampled((f) => times(highPass(40, 0.54)(f), highPass(40, 1.31)(f)), logGrid(10, 20000, 400)).given,
    );
    expect([fourth.lowSlope, fourth.highSlope]).toEqual([24, 0]);
  });

  describe("of gated data", () => {
    const grid = logGrid(20, 20000, 480);
    const marks: Mark[] = [
      { kind: "no-data", to: 250, note: "no data below 250 Hz" },
      { kind: "coarse", from: 250, to: 750, note: "coarse" },
    ];
    const { given, truth } = sampled(woofer, grid, marks);

    it("asks for the low tail", () => {
      expect(() => minimumPhase(given)).toThrow(/lowSlope.*253\.1 Hz/);
      expect(() => minimumPhase(given)).toThrow(/12 for a closed box/);
    });

    it("is right when the enclosure's corner is stated, better than with the order alone, and better still than with a wrong order", () => {
      const error = (options: object): number => worst(minimumPhase(given, options), truth, 500, 6000);
      const known = error({ lowSlope: 12, lowCorner: 55, lowQ: 0.8 });
      const order = error({ lowSlope: 12 });
      const wrong = error({ lowSlope: 36 });
      expect(known).toBeLessThan(0.05);
      expect(order).toBeGreaterThan(known);
      expect(wrong).toBeGreaterThan(order);
    });

    it("admits that the order alone leaves much open near the gate's limit", () => {
      const { errorDegrees } = minimumPhaseWithError(given, { lowSlope: 12 });
      const at300 = grid.findIndex((f) => f > 300);
      expect(errorDegrees[at300]).toBeGreaterThan(20);
      expect(errorDegrees[at300 + 200]).toBeLessThan(3);
    });

    it("ignores what stands below the limit and puts the stated tail there, with the marks carried on", () => {
      const rubbish = frequencyResponse(
        grid,
        given.re.map((value, k) => (grid[k]! < 250 ? 7 : value)),
        given.im,
        marks,
      );
      const options = { lowSlope: 12, lowCorner: 55, lowQ: 0.8 };
      const found = minimumPhase(rubbish, options);
      expect(found.re).toEqual(minimumPhase(given, options).re);
      expect(found.marks!.map((mark) => mark.kind)).toEqual(["no-data", "coarse", "model"]);
      expect(found.marks![2]!.note).toContain("12 dB per octave (stated)");
      expect(worst(found, truth, 20, 250)).toBeLessThan(0.2);
      found.frequencies.forEach((f, k) => {
        if (f < 250) expect(20 * Math.log10(Math.hypot(found.re[k]!, found.im[k]!) / given.re[k]!)).toBeCloseTo(0, 1);
      });
    });

    it("asks for the high tail of data that are marked as missing above", () => {
      const cut = sampled(woofer, grid, [{ kind: "no-data", from: 5000, note: "no data" }]).given;
      expect(() => minimumPhase(cut)).toThrow(/highSlope/);
      expect(phaseDegrees(minimumPhase(cut, { highSlope: 12 })).every(Number.isFinite)).toBe(true);
    });
  });

  it("holds a low-pass whose corner lies an octave and a half beyond the data: stated, or read from their last octaves", () => {
    const grid = logGrid(20, 2000, 300);
    const { given, truth } = sampled(lowPass(6000, Math.SQRT1_2), grid);
    expect(worst(minimumPhase(given, { highSlope: 12, highCorner: 6000 }), truth, 20, 1500)).toBeLessThan(0.02);
    expect(worst(minimumPhase(given), truth, 20, 1500)).toBeLessThan(0.02);
  });

  it("is right over 300 dB of level and at extreme scales", () => {
    const grid = logGrid(0.05, 1e6, 800);
    const { given, truth } = sampled((f) => times(times(lowPass(10, 0.5)(f), lowPass(10, 0.5)(f)), [1e-150, 0]), grid);
    expect(worst(minimumPhase(given), truth)).toBeLessThan(1e-3);
  });

  it("refuses what has no minimum phase, with the way out", () => {
    const grid = logGrid(20, 20000, 100);
    expect(() =>
      minimumPhase(
        frequencyResponse(
          grid,
          grid.map((_, k) => (k === 50 ? 0 : 1)),
          new Float64Array(100),
        ),
      ),
    ).toThrow(/magnitude must be above 0.*smooth/);
    expect(() => minimumPhase(frequencyResponse([1, 2, 3], [1, 1, 1], [0, 0, 0]))).toThrow(/at least 4/);
    const flat = frequencyResponse(
      grid,
      grid.map(() => 1),
      new Float64Array(100),
    );
    expect(() => minimumPhase(flat, { lowslope: 12 } as never)).toThrow(/unknown option/);
    expect(() => minimumPhase(flat, { lowCorner: 40 })).toThrow(/lowSlope/);
    expect(() => minimumPhase(flat, { lowSlope: 24, lowCorner: 40, lowQ: 1 })).toThrow(/lowQ/);
    expect(() => minimumPhase(flat, { lowSlope: 0, lowCorner: 40 })).toThrow(/at least 6/);
    expect(() => minimumPhase(flat, { lowSlope: NaN })).toThrow(/lowSlope/);
    expect(() => minimumPhase({} as never)).toThrow(/FrequencyResponse/);
  });

  it("takes a magnitude of zero at 0 Hz, and gives a real value there", () => {
    const { given } = sampled(highPass(50, 0.7), linearGrid(0, 20000, 2001));
    const found = minimumPhase(given);
    expect([found.re[0], found.im[0]]).toEqual([0, 0]);
    const low = minimumPhase(sampled(lowPass(500, 0.7), linearGrid(0, 20000, 2001)).given);
    expect([low.re[0], low.im[0]]).toEqual([1, 0]);
  });

  it("never gives NaN, whatever the magnitudes", () => {
    const grid = logGrid(20, 20000, 64);
    for (const seed of [1, 2, 3, 4, 5]) {
      const { response, errorDegrees } = minimumPhaseWithError(
        frequencyResponse(
          grid,
          grid.map((_, k) => 10 ** (150 * Math.sin(seed * k * k))),
          new Float64Array(64),
        ),
      );
      expect([...response.re, ...response.im, ...errorDegrees].every(Number.isFinite)).toBe(true);
    }
  });
});
