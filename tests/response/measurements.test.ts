// Tests src/response/: average-measurements.ts, check-response.ts, excess-phase.ts, impedance-from-channels.ts, merge-marks.ts
// Tests src/response/: offset-search.ts, relative-acoustic-offset.ts, same-grid.ts, unit-turn.ts
import { logGrid } from "dividing-network/numeric";
import {
  acousticDelay,
  addResponses,
  applyCalibration,
  averageMeasurements,
  delayResponse,
  excessPhase,
  frequencyResponse,
  impedanceFromChannels,
  levelDb,
  magnitude,
  minimumPhase,
  multiplyResponses,
  phaseDegrees,
  relativeAcousticOffset,
  responseOf,
  scaleResponse,
  type FrequencyResponse,
  type TransferFunction,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";

const w = (f: number): number => 2 * Math.PI * f;
const pair = (f: number, q: number) => {
  const re = -w(f) / (2 * q);
  const im = Math.sqrt(Math.max(0, w(f) ** 2 - re ** 2));
  return [
    { re, im },
    { re, im: -im },
  ];
};
const lowPass = (f: number, q: number): TransferFunction => ({ zeros: [], poles: pair(f, q), gain: w(f) ** 2 });
const highPass = (f: number, q: number): TransferFunction => ({
  zeros: [
    { re: 0, im: 0 },
    { re: 0, im: 0 },
  ],
  poles: pair(f, q),
  gain: 1,
});
/** Scatter that repeats from run to run. */
const scatter = (seed: number) => {
  let state = seed * 0x9e3779b9;
  return (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32 - 0.5;
  };
};
const shaken = (response: FrequencyResponse, share: number, seed: number): FrequencyResponse => {
  const next = scatter(seed);
  return frequencyResponse(
    response.frequencies,
    response.re.map((re, k) => re + share * next() * Math.hypot(re, response.im[k]!)),
    response.im.map((im, k) => im + share * next() * Math.hypot(im, response.re[k]!)),
  );
};

describe("excess phase and acoustic delay", () => {
  const grid = logGrid(50, 20000, 400);
  const driver = multiplyResponses(responseOf(highPass(80, 0.8), grid), responseOf(lowPass(6000, 0.9), grid));

  it("finds the flight of a driver to a microsecond, through many turns of phase", () => {
    for (const delay of [0.0001, 0.0029, 0.0105, -0.002]) {
      const found = acousticDelay(delayResponse(driver, delay), { from: 200, to: 4000, lowSlope: 12, highSlope: 12 });
      expect(Math.abs(found.delay - delay)).toBeLessThan(1e-6);
      expect(found.residualDegrees).toBeLessThan(1);
    }
  });

  it("the uncertainty covers the error when the phase is scattered", () => {
    const errors = [1, 2, 3, 4, 5, 6, 7, 8].map((seed) => {
      const found = acousticDelay(shaken(delayResponse(driver, 0.0029), 0.05, seed), { from: 200, to: 4000, lowSlope: 12, highSlope: 12 });
      return (found.delay - 0.0029) / found.uncertainty;
    });
    expect(Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length)).toBeLessThan(3);
  });

  it("an all-pass stays in the excess phase: magnitude 1, its own phase", () => {
    const allPass = responseOf({ zeros: [{ re: w(1000), im: 0 }], poles: [{ re: -w(1000), im: 0 }], gain: -1 }, grid);
    const found = excessPhase(multiplyResponses(driver, allPass));
    magnitude(found).forEach((size) => expect(size).toBeCloseTo(1, 9));
    const expected = phaseDegrees(allPass);
    phaseDegrees(found).forEach((phase, k) => {
      if (grid[k]! > 200 && grid[k]! < 5000) expect(Math.abs(phase - expected[k]!)).toBeLessThan(1);
    });
  });

  it("asks for enough points, and for a search that ends", () => {
    expect(() => acousticDelay(driver, { from: 1000, to: 1020 })).toThrow(/at least 4 frequencies/);
    expect(() => acousticDelay(driver, { longest: 10 })).toThrow(/2e8/);
  });
});

describe("relative acoustic offset of two drivers", () => {
  const grid = logGrid(300, 12000, 320);
  const woofer = responseOf(lowPass(2500, 0.7), grid);
  const tweeter = responseOf(highPass(1800, 0.9), grid);
  const together = (offset: number, sign: 1 | -1): FrequencyResponse =>
    addResponses(woofer, delayResponse(scaleResponse(tweeter, sign), offset / 343.2));

  it.each([
    [0.021, 1],
    [-0.034, 1],
    [0.012, -1],
    [0, 1],
  ] as const)("of %d m with sign %d is found from three measurements", (offset, sign) => {
    const found = relativeAcousticOffset({ first: woofer, second: tweeter, both: together(offset, sign), from: 800, to: 6000 });
    expect(found.offset).toBeCloseTo(offset, 7);
    expect(found.polarity).toBe(sign === 1 ? "same" : "reversed");
    expect(found.misfit).toBeLessThan(1e-7);
    expect(found.runnerUp!.misfitRatio).toBeGreaterThan(10);
  });

  it("uses only the magnitude of the sum: another time zero changes nothing", () => {
    const found = relativeAcousticOffset({ first: woofer, second: tweeter, both: delayResponse(together(0.021, 1), 0.0077) });
    expect(found.offset).toBeCloseTo(0.021, 7);
  });

  it("says how deep the other polarity's dip is, by both levels and the angle between them: there and 5 mm to either side", () => {
    const f = logGrid(500, 5000, 60);
    const level = (size: number, degrees: number) =>
      frequencyResponse(
        f,
        f.map(() => size * Math.cos((degrees * Math.PI) / 180)),
        f.map(() => size * Math.sin((degrees * Math.PI) / 180)),
      );
    const c = 340;
    for (const size of [1, 2]) {
      const { offset, nulls, polarity } = relativeAcousticOffset({
        first: level(size, 40),
        second: level(1, 0),
        both: addResponses(level(size, 40), delayResponse(level(1, 0), 0.02 / c)),
        air: { speedOfSound: c },
      });
      expect(offset).toBeCloseTo(0.02, 6);
      expect(polarity).toBe("same");
      // 40° and what the path turns, which is least at the lowest frequency.
      [0.015, 0.02, 0.025].forEach((path, i) => {
        const angle = (40 * Math.PI) / 180 + (2 * Math.PI * 500 * path) / c;
        expect(nulls[i]!.offset).toBeCloseTo(path, 6);
        expect(nulls[i]!.frequency).toBeCloseTo(500, 6);
        expect(nulls[i]!.depthDb).toBeCloseTo(20 * Math.log10((size + 1) / Math.sqrt(size * size + 1 - 2 * size * Math.cos(angle))), 3);
      });
    }
  });

  it("the uncertainty covers the error of scattered measurements", () => {
    const errors = Array.from({ length: 16 }, (_, seed) => {
      const found = relativeAcousticOffset({
        first: shaken(woofer, 0.03, seed + 1),
        second: shaken(tweeter, 0.03, seed + 100),
        both: shaken(together(0.021, 1), 0.03, seed + 200),
        polarity: "same",
      });
      expect(found.offsetUncertainty).toBeGreaterThan(1e-6);
      expect(found.offsetUncertainty).toBeLessThan(1e-3);
      return (found.offset - 0.021) / found.offsetUncertainty;
    });
    const rms = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length);
    expect(rms).toBeGreaterThan(0.3);
    expect(rms).toBeLessThan(2.5);
  });

  it("gives the null of the other polarity at the offset and 5 mm beside it", () => {
    // Fourth-order branches in phase at every frequency: reversed, they cancel at the corner.
    const fourth = (filter: (f: number, q: number) => TransferFunction): FrequencyResponse =>
      multiplyResponses(responseOf(filter(2000, Math.SQRT1_2), grid), responseOf(filter(2000, Math.SQRT1_2), grid));
    const [low, high] = [fourth(lowPass), fourth(highPass)];
    const { nulls, offset } = relativeAcousticOffset({
      first: low,
      second: high,
      both: addResponses(low, delayResponse(high, 0.00001)),
      polarity: "same",
    });
    expect(offset).toBeCloseTo(0.003432, 6);
    expect(nulls[1].offset - nulls[0].offset).toBeCloseTo(0.005, 12);
    // At the corner two equal branches with the phase 2πfτ between them: 2 sin(πfτ) of 2.
    for (const { offset: at, depthDb, frequency } of nulls) {
      expect(frequency).toBeGreaterThan(1700);
      expect(frequency).toBeLessThan(2300);
      expect(depthDb).toBeGreaterThanOrEqual(-20 * Math.log10(Math.sin((Math.PI * 2000 * Math.abs(at)) / 343.2)) - 0.5);
    }
    expect(nulls[2].depthDb).toBeLessThan(nulls[1].depthDb);
  });

  it("says so when one driver drowns the other, or when nothing is left to fit", () => {
    const faint = scaleResponse(tweeter, 1e-7);
    expect(() => relativeAcousticOffset({ first: woofer, second: faint, both: addResponses(woofer, faint) })).toThrow(/drowns/);
    expect(() => relativeAcousticOffset({ first: woofer, second: tweeter, both: together(0, 1), from: 11000 })).not.toThrow();
    expect(() => relativeAcousticOffset({ first: woofer, second: tweeter, both: together(0, 1), from: 11900 })).toThrow(/at least 4/);
  });

  it("works from magnitudes alone by way of minimum phase", () => {
    const wide = logGrid(20, 40000, 500);
    const [low, high] = [responseOf(lowPass(2500, 0.7), wide), responseOf(highPass(1800, 0.9), wide)];
    const both = addResponses(low, delayResponse(high, 0.02 / 343.2));
    const found = relativeAcousticOffset({
      first: minimumPhase(delayResponse(low, 0.003)),
      second: minimumPhase(delayResponse(high, 0.0031)),
      both,
      from: 800,
      to: 6000,
    });
    expect(found.offset).toBeCloseTo(0.02, 4);
  });
});

describe("a microphone's calibration", () => {
  const grid = logGrid(20, 20000, 200);
  const truth = responseOf(highPass(60, 0.7), grid);

  it("takes the microphone out again", () => {
    const dense = logGrid(10, 30000, 900);
    const microphone = responseOf(lowPass(15000, 0.8), dense);
    const measured = multiplyResponses(truth, responseOf(lowPass(15000, 0.8), grid));
    const corrected = applyCalibration(measured, microphone);
    levelDb(corrected).forEach((level, k) => expect(level).toBeCloseTo(levelDb(truth)[k]!, 3));
  });

  it("is refused where it does not reach, or held there and marked", () => {
    const short = frequencyResponse([50, 100, 10000], [1, 1, 2], [0, 0, 0]);
    expect(() => applyCalibration(truth, short)).toThrow(/cover the measurement/);
    const held = applyCalibration(truth, short, { outside: "hold" });
    expect(held.marks!.map(({ kind, from, to }) => [kind, from, to])).toEqual([
      ["uncertain", undefined, 50],
      ["uncertain", 10000, undefined],
    ]);
    expect(magnitude(held)[199]! / magnitude(truth)[199]!).toBeCloseTo(0.5, 2);
  });
});

describe("impedance from two channels", () => {
  const grid = logGrid(20, 20000, 50);
  const x = grid.map((f) => 3 * (f / 60 - 60 / f));
  const load = frequencyResponse(
    grid,
    x.map((v) => 6 + 40 / (1 + v * v)),
    x.map((v, k) => (-40 * v) / (1 + v * v) + 0.0003 * w(grid[k]!)),
  );
  it("comes back exactly, whatever the signal", () => {
    const source = frequencyResponse(
      grid,
      grid.map((_, k) => 1 + Math.sin(k)),
      grid.map((_, k) => Math.cos(3 * k)),
    );
    const found = impedanceFromChannels({ source, load: multiplyResponses(source, split(10)), reference: 10 });
    found.re.forEach((re, k) => expect([re, found.im[k]]).toEqual([expect.closeTo(load.re[k]!, 8), expect.closeTo(load.im[k]!, 8)]));
  });

  it("takes the channels' difference and the input's load out", () => {
    const source = frequencyResponse(
      grid,
      grid.map(() => 1),
      grid.map(() => 0),
    );
    const balance = responseOf(lowPass(50000, 0.7), grid);
    const found = impedanceFromChannels({
      source,
      load: multiplyResponses(balance, split(10, 1000)),
      reference: 10,
      balance,
      inputResistance: 1000,
    });
    found.re.forEach((re, k) => expect([re, found.im[k]]).toEqual([expect.closeTo(load.re[k]!, 7), expect.closeTo(load.im[k]!, 7)]));
  });

  it("is the same whatever the unit of the two voltages, from nanovolts to gigavolts", () => {
    for (const unit of [1e-9, 1, 1e9]) {
      const source = frequencyResponse([100], [3 * unit], [4 * unit]);
      // 3 + 4i volts before 10 Ω and a load of 6 + 2i Ω.
      const [sr, si] = [16 / (16 ** 2 + 4), -2 / (16 ** 2 + 4)];
      const [fr, fi] = [6 * sr - 2 * si, 6 * si + 2 * sr];
      const across = frequencyResponse([100], [unit * (3 * fr - 4 * fi)], [unit * (3 * fi + 4 * fr)]);
      const { re, im } = impedanceFromChannels({ source, load: across, reference: 10 });
      expect([re[0], im[0]]).toEqual([expect.closeTo(6, 9), expect.closeTo(2, 9)]);
      // And where the two are the same, nothing can be said in any unit.
      expect(() => impedanceFromChannels({ source, load: source, reference: 10 })).toThrow(
        expect.objectContaining({ code: "undetermined" }),
      );
    }
    const turned = frequencyResponse([100], [1], [-1]);
    expect(() => impedanceFromChannels({ source: turned, load: turned, reference: 10 })).toThrow(
      expect.objectContaining({ code: "undetermined" }),
    );
  });

  it("takes out a difference of the channels that turns the phase of a signal with phase", () => {
    // The load's channel reads 0.8 − 0.6i where the source's reads 1: a turn by 37°. Both at the amplifier: 2 + i and (2 + i)(0.8 − 0.6i) = 2.2 − 0.4i.
    const source = frequencyResponse([100], [2], [1]);
    const balance = frequencyResponse([100], [0.8], [-0.6]);
    // A load of 30 Ω behind 10 Ω: three quarters.
    const { re, im } = impedanceFromChannels({ source, load: frequencyResponse([100], [1.65], [-0.3]), reference: 10, balance });
    expect([re[0], im[0]]).toEqual([expect.closeTo(30, 9), expect.closeTo(0, 9)]);
  });

  it("refuses resistances that are none, and channels at different frequencies", () => {
    const source = frequencyResponse([100, 200], [1, 1], [0, 0]);
    const across = frequencyResponse([100, 200], [0.5, 0.5], [0, 0]);
    for (const wrong of [0, -10]) {
      expect(() => impedanceFromChannels({ source, load: across, reference: wrong })).toThrow(/"reference"/);
      expect(() => impedanceFromChannels({ source, load: across, reference: 10, inputResistance: wrong })).toThrow(/"inputResistance"/);
    }
    const other = frequencyResponse([100, 300], [1, 1], [0, 0]);
    expect(() => impedanceFromChannels({ source, load: other, reference: 10 })).toThrow(/200 Hz and 300 Hz at index 1/);
    expect(() => impedanceFromChannels({ source, load: across, reference: 10, balance: other })).toThrow(/200 Hz and 300 Hz at index 1/);
    // A beginning of the other's frequencies, either way.
    const short = frequencyResponse([100], [1], [0]);
    for (const [a, b] of [
      [source, short],
      [short, source],
    ] as const)
      expect(() => impedanceFromChannels({ source: a, load: b, reference: 10 })).toThrow(
        expect.objectContaining({ code: "grid-mismatch" }),
      );
  });

  it("refuses channels without a difference and marks what is far from the reference", () => {
    const source = frequencyResponse([100, 200], [1, 1], [0, 0]);
    expect(() => impedanceFromChannels({ source, load: source, reference: 10 })).toThrow(/no current flows/);
    const far = impedanceFromChannels({ source, load: frequencyResponse([100, 200], [0.5, 0.001], [0, 0]), reference: 10 });
    expect(far.marks!.map(({ kind, from }) => [kind, from])).toEqual([["uncertain", 200]]);
  });

  /** Voltage across the load, per volt, behind the reference resistor, with the channel's input resistance across it. */
  function split(reference: number, parallel = Infinity): FrequencyResponse {
    const re: number[] = [];
    const im: number[] = [];
    for (let k = 0; k < grid.length; k++) {
      const [zr, zi] = [load.re[k]!, load.im[k]!];
      const d = (1 + zr / parallel) ** 2 + (zi / parallel) ** 2;
      const [pr, pi] = [(zr * (1 + zr / parallel) + (zi * zi) / parallel) / d, (zi * (1 + zr / parallel) - (zr * zi) / parallel) / d];
      const s = (pr + reference) ** 2 + pi ** 2;
      re.push((pr * (pr + reference) + pi ** 2) / s);
      im.push((pi * reference) / s);
    }
    return frequencyResponse(grid, re, im);
  }
});

describe("repeated measurements", () => {
  it("average to the truth with a spread that is theirs", () => {
    const grid = logGrid(100, 10000, 300);
    const truth = responseOf(lowPass(2000, 0.8), grid);
    const runs = Array.from({ length: 12 }, (_, seed) => shaken(truth, 0.1, seed + 1));
    const { response, count, levelDeviationDb, levelUncertaintyDb, phaseDeviationDegrees } = averageMeasurements(runs);
    expect(count).toBe(12);
    const mean = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / values.length;
    // Evenly spread over ±5 %: standard deviation 0.1/√12 of the magnitude, in each direction.
    expect(mean(levelDeviationDb)).toBeCloseTo((20 / Math.LN10) * (0.1 / Math.sqrt(12)), 1);
    expect(mean(phaseDeviationDegrees)).toBeCloseTo((180 / Math.PI) * (0.1 / Math.sqrt(12)), 0);
    expect(levelUncertaintyDb[7]! * Math.sqrt(12)).toBeCloseTo(levelDeviationDb[7]!, 12);
    const off = levelDb(response).map((level, k) => (level - levelDb(truth)[k]!) / levelUncertaintyDb[k]!);
    expect(Math.sqrt(mean(off.map((e) => e * e)))).toBeLessThan(1.5);
    expect(response.marks).toBeUndefined();
  });

  it("that disagree are marked: in level, and where their phases cancel", () => {
    const run = (value: number, im = 0) => frequencyResponse([100, 200, 400], [1, value, 1], [0, im, 0]);
    expect(averageMeasurements([run(0.5), run(1), run(2)]).response.marks!.map(({ kind, from, to }) => [kind, from, to])).toEqual([
      ["uncertain", 200, 200],
    ]);
    expect(averageMeasurements([run(1), run(0, 1), run(0, -1)]).response.marks).toHaveLength(1);
    expect(() => averageMeasurements([run(1)])).toThrow(/at least two/);
    expect(() => averageMeasurements([run(1), run(0)])).toThrow(/above zero/);
  });
});

describe("marks of several measurements", () => {
  it("are kept once each, in order, and told apart by kind, band and note", () => {
    const mark = { kind: "coarse", from: 100, to: 200, note: "gate" } as const;
    const others = [
      { ...mark, kind: "uncertain" },
      { ...mark, from: 110 },
      { ...mark, to: 210 },
      { ...mark, note: "hum" },
    ] as const;
    const of = (...marks: readonly (typeof mark | (typeof others)[number])[]) => frequencyResponse([100, 200], [1, 1], [0, 0], marks);
    const sum = addResponses(of(mark), of({ ...mark }), ...others.map((other) => of(other)), of(mark, others[0]));
    expect(sum.marks).toEqual([mark, ...others]);
  });
});
