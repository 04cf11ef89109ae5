// Tests src/response/: average-measurements.ts, apply-calibration.ts, excess-phase.ts, impedance-from-channels.ts, merge-at.ts, near-field.ts
// Measurements of two or three points whose results are worked out by hand: means, standard deviations, limits between what is marked and what isn't.
import {
  acousticDelay,
  applyCalibration,
  averageMeasurements,
  combineNearFields,
  farFieldFromNearField,
  frequencyResponse,
  impedanceFromChannels,
  mergeAt,
  nearFieldErrorDb,
  type FrequencyResponse,
  type Mark,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";

const rad = Math.PI / 180;
/** A response by levels in dB and phases in degrees. */
const polar = (f: readonly number[], levels: readonly number[], degrees: readonly number[] = f.map(() => 0), marks: readonly Mark[] = []) =>
  frequencyResponse(
    f,
    f.map((_, k) => 10 ** (levels[k]! / 20) * Math.cos(degrees[k]! * rad)),
    f.map((_, k) => 10 ** (levels[k]! / 20) * Math.sin(degrees[k]! * rad)),
    marks,
  );
const bands = ({ marks = [] }: FrequencyResponse) => marks.map(({ kind, from, to }) => [kind, from, to]);
const near = (value: number, digits = 9): unknown => expect.closeTo(value, digits);

describe("the spread of two measurements", () => {
  const f = [100, 200, 300, 400];

  it("in level is their difference over √2, in phase half of it times √2, and that of the mean √2 less", () => {
    const found = averageMeasurements([polar(f, [0, 1, -3, 0], [10, 0, 175, 40]), polar(f, [0.4, 0, -3, 0], [-10, 0, -175, 40])], {
      thresholdDb: 9,
    });
    expect([...found.levelDeviationDb]).toEqual([0.4, 1, 0, 0].map((d) => near(d / Math.SQRT2)));
    expect([...found.levelUncertaintyDb]).toEqual([0.4, 1, 0, 0].map((d) => near(d / 2)));
    expect(found.phaseDeviationDegrees[2]).toBeCloseTo(5 * Math.SQRT2, 9);
    expect(found.phaseUncertaintyDegrees[2]).toBeCloseTo(5, 9);
    // Of unequal levels the mean leans to the louder one, by about 10° · (0.4 dB in nepers)/2.
    expect(found.phaseDeviationDegrees[0]).toBeGreaterThan(10 * Math.SQRT2);
    expect(found.phaseDeviationDegrees[0]).toBeLessThan(10.05 * Math.SQRT2);
    expect([...found.phaseDeviationDegrees.subarray(3)]).toEqual([near(0)]);
    expect(found.response.re[2]).toBeCloseTo(-(10 ** (-3 / 20)) * Math.cos(5 * rad), 9);
    expect(found.response.im[2]).toBeCloseTo(0, 9);
    expect(found.count).toBe(2);
  });

  it("is marked where the mean's level is uncertain by more than 0.5 dB, or by what is asked", () => {
    // Two levels d apart: d/√2 each, d/2 of the mean.
    const runs = [polar(f, [0, 0, 0, 0]), polar(f, [1.05, 0.95, 1.05, 1.05])];
    expect(bands(averageMeasurements(runs).response)).toEqual([
      ["uncertain", 100, 100],
      ["uncertain", 300, 400],
    ]);
    expect(averageMeasurements(runs).response.marks![0]!.note).toContain("2 measurements differ");
    expect(bands(averageMeasurements(runs, { thresholdDb: 0.4 }).response)).toEqual([["uncertain", 100, 400]]);
    expect(bands(averageMeasurements(runs, { thresholdDb: 0.6 }).response)).toEqual([]);
  });

  it("is marked where opposite phases cost the mean as much: 0.5 dB at ± 19.2°", () => {
    const apart = (degrees: number) =>
      averageMeasurements([polar(f, [0, 0, 0, 0], [0, degrees, 0, 0]), polar(f, [0, 0, 0, 0], [0, -degrees, 0, 0])]).response;
    expect(bands(apart(19))).toEqual([]);
    expect(bands(apart(19.5))).toEqual([["uncertain", 200, 200]]);
  });

  it("leaves the marks of the measurements in front of its own", () => {
    const gate: Mark = { kind: "coarse", to: 200, note: "gate" };
    expect(bands(averageMeasurements([polar(f, [0, 0, 0, 0], [0, 0, 0, 0], [gate]), polar(f, [0, 0, 0, 3])]).response)).toEqual([
      ["coarse", undefined, 200],
      ["uncertain", 400, 400],
    ]);
  });
});

describe("an impedance from two channels", () => {
  it("is marked where it is more than thirty times the reference or less than a thirtieth, band by band", () => {
    const ohms = [299, 301, 400, 10, 0.34, 0.33, 0.1];
    const f = ohms.map((_, k) => 100 * (k + 1));
    const source = polar(
      f,
      f.map(() => 0),
    );
    const load = frequencyResponse(
      f,
      ohms.map((z) => z / (z + 10)),
      f.map(() => 0),
    );
    expect(bands(impedanceFromChannels({ source, load, reference: 10 }))).toEqual([
      ["uncertain", 200, 300],
      ["uncertain", 600, 700],
    ]);
  });
});

describe("joining", () => {
  const f = Array.from({ length: 49 }, (_, k) => 100 * 2 ** (k / 12));
  const flat = (level: number, degrees = 0, grid = f) =>
    polar(
      grid,
      grid.map(() => level),
      grid.map(() => degrees),
    );
  const middle = f[24]!;

  it("fades by a half cosine over the overlap: twice as loud below, halfway in its middle", () => {
    const { response, levelDifferenceDb, levelSpreadDb, phaseDifferenceDegrees, delayDifference } = mergeAt(
      flat(20 * Math.log10(2)),
      flat(0),
      {
        frequency: middle,
        overlapOctaves: 1,
      },
    );
    [...response.re].forEach((re, k) => {
      const place = Math.min(1, Math.max(0, (k - 18) / 12));
      expect(re, `${k}`).toBeCloseTo(1 + (1 + Math.cos(Math.PI * place)) / 2, 9);
    });
    expect([levelDifferenceDb, levelSpreadDb, phaseDifferenceDegrees, delayDifference]).toEqual([
      near(20 * Math.log10(2)),
      near(0),
      near(0),
      near(0),
    ]);
    expect(bands(response)).toEqual([["splice", near(middle / Math.SQRT2), near(middle * Math.SQRT2)]]);
    expect(response.marks![0]!.note).toBe("two responses joined at 400 Hz; before joining they differed by 6.02 dB and 0°");
  });

  it("over a third of an octave unless another overlap is stated", () => {
    expect(bands(mergeAt(flat(0), flat(0), { frequency: middle }).response)).toEqual([
      ["splice", near(middle * 2 ** (-1 / 6)), near(middle * 2 ** (1 / 6))],
    ]);
  });

  it("matches the level alone, or the phase alone", () => {
    const [low, high] = [flat(6, 50), flat(0, 0)];
    const level = mergeAt(low, high, { frequency: middle, matchLevel: true }).response;
    expect([Math.hypot(level.re[0]!, level.im[0]!), Math.atan2(level.im[0]!, level.re[0]!) / rad]).toEqual([near(1), near(50)]);
    const phase = mergeAt(low, high, { frequency: middle, matchPhase: true }).response;
    expect([Math.hypot(phase.re[0]!, phase.im[0]!), Math.atan2(phase.im[0]!, phase.re[0]!) / rad]).toEqual([near(10 ** 0.3), near(0)]);
    expect(level.re[48]).toBeCloseTo(1, 9);
    expect(mergeAt(low, high, { frequency: middle, matchLevel: true }).levelDifferenceDb).toBeCloseTo(6, 9);
  });

  it("tells the difference in phase within half a turn, of the low one against the high one, and its delay", () => {
    expect(mergeAt(flat(0, 100), flat(0, -100), { frequency: middle }).phaseDifferenceDegrees).toBeCloseTo(-160, 9);
    expect(mergeAt(flat(0, 30), flat(0, -20), { frequency: middle }).phaseDifferenceDegrees).toBeCloseTo(50, 9);
    const late = polar(
      f,
      f.map(() => 0),
      f.map((hz) => -360 * hz * 0.0002 + 40),
    );
    const merged = mergeAt(late, flat(0, 0), { frequency: middle, overlapOctaves: 1, matchPhase: true });
    expect(merged.delayDifference).toBeCloseTo(0.0002, 9);
    expect(merged.phaseDifferenceDegrees).toBeCloseTo(-360 * 400 * 0.0002 + 40, 5);
    merged.response.im.forEach((im) => expect(im).toBeCloseTo(0, 5));
    expect(mergeAt(flat(0, 0), late, { frequency: middle, overlapOctaves: 1 }).delayDifference).toBeCloseTo(-0.0002, 9);
  });

  it("of a slope of s dB per octave against a level is spread by s·w/√12 over w octaves, and differs by its middle", () => {
    const sloping = polar(
      f,
      f.map((hz) => 3 + 5 * Math.log2(hz / middle)),
    );
    const { levelDifferenceDb, levelSpreadDb } = mergeAt(sloping, flat(0), { frequency: middle, overlapOctaves: 1 });
    expect(levelDifferenceDb).toBeCloseTo(3, 6);
    // 33 points evenly over the octave: the standard deviation of n even steps of 1 is √((n² − 1)/12).
    expect(levelSpreadDb).toBeCloseTo((5 / 32) * Math.sqrt((33 ** 2 - 1) / 12), 6);
  });

  it("takes the denser one's frequencies in the overlap, whichever it is, and each one's own outside", () => {
    const sparse = f.filter((_, k) => k % 4 === 0);
    const at = (low: readonly number[], high: readonly number[]) => [
      ...mergeAt(flat(0, 0, [...low]), flat(0, 0, [...high]), { frequency: middle, overlapOctaves: 2 }).response.frequencies,
    ];
    const [from, to] = [middle / 2, middle * 2];
    const inside = f.filter((hz) => hz >= from && hz <= to);
    expect(at(sparse, f)).toEqual([...sparse.filter((hz) => hz < from), ...inside, ...f.filter((hz) => hz > to)]);
    expect(at(f, sparse)).toEqual([...f.filter((hz) => hz < from), ...inside, ...sparse.filter((hz) => hz > to)]);
  });

  it("cuts each one's marks to where it is used", () => {
    const marked = (level: number, ...marks: Mark[]) =>
      polar(
        f,
        f.map(() => level),
        undefined,
        marks,
      );
    const note = "so";
    const low = marked(0, { kind: "coarse", note }, { kind: "coarse", from: 150, to: 300, note }, { kind: "coarse", from: 600, note });
    const high = marked(
      0,
      { kind: "uncertain", note },
      { kind: "uncertain", from: 300, to: 900, note },
      { kind: "uncertain", to: 250, note },
    );
    const { response } = mergeAt(low, high, { frequency: middle, overlapOctaves: 1 });
    const [from, to] = [near(middle / Math.SQRT2), near(middle * Math.SQRT2)];
    expect(bands(response)).toEqual([
      ["coarse", undefined, to],
      ["coarse", 150, 300],
      ["uncertain", from, undefined],
      ["uncertain", 300, 900],
      ["splice", from, to],
    ]);
    expect(response.marks!.slice(0, 4).every((mark) => mark.note === "so")).toBe(true);
  });

  it("must have sound of both in the overlap", () => {
    const silent = frequencyResponse(
      f,
      f.map(() => 0),
      f.map(() => 0),
    );
    expect(() => mergeAt(silent, flat(0), { frequency: middle })).toThrow(/above zero in the overlap/);
    expect(() => mergeAt(flat(0), silent, { frequency: middle })).toThrow(/above zero in the overlap/);
  });
});

describe("a near field", () => {
  it("carried away falls to a/2r, later by r − a/2, and is coarse above ka = 1 where it goes so far", () => {
    const c = 340;
    const limit = c / (2 * Math.PI * 0.05);
    const f = [100, 500, 1000];
    const { re, im, marks } = farFieldFromNearField(polar(f, [0, 6, 0]), { radius: 0.05, distance: 2, air: { speedOfSound: c } });
    f.forEach((hz, k) => {
      const size = ((k === 1 ? 10 ** 0.3 : 1) * 0.05) / 4;
      const angle = (-2 * Math.PI * hz * (2 - 0.025)) / c;
      expect([re[k], im[k]]).toEqual([near(size * Math.cos(angle)), near(size * Math.sin(angle))]);
    });
    expect(marks).toBeUndefined();
    const wide = farFieldFromNearField(polar([100, 1100], [0, 0]), { radius: 0.05, distance: 2, air: { speedOfSound: c } });
    expect(bands(wide)).toEqual([["coarse", near(limit), undefined]]);
    expect(wide.marks![0]!.note).toBe("near field carried to 2 m: valid to ka = 1, 1080 Hz");
  });

  it("at ka = 0 needs no correction, and at ka = 2 one of 20 lg sin 1", () => {
    expect(nearFieldErrorDb(0)).toBe(0);
    expect(nearFieldErrorDb(2)).toBeCloseTo(20 * Math.log10(Math.sin(1)), 12);
  });

  it("of several radiators is their sum by radius, marked for each where the first one comes within 12 dB of it", () => {
    const f = [20, 30, 40, 50, 60];
    const cone = { response: polar(f, [0, 0, 0, 0, 0]), radius: 0.1 };
    // Of a spacing of 0.5 m, a/(2 · 0.5) = 0.1: −20 dB, 12 dB more make −8 (exactly a factor of 4: −7.96 dB).
    const first = { response: polar(f, [-7.9, -8, -9, -7.9, -8], [90, 90, 90, 90, 90]), radius: 0.05 };
    const second = { response: polar(f, [0, 0, -30, -30, -30]), radius: 0.02 };
    const sum = combineNearFields([cone, first, second], { spacing: 0.5 });
    expect(bands(sum)).toEqual([
      ["uncertain", 30, 40],
      ["uncertain", 60, 60],
      ["uncertain", 40, 60],
    ]);
    expect(sum.marks!.map(({ note }) => /radiator \d/.exec(note)?.[0])).toEqual(["radiator 2", "radiator 2", "radiator 3"]);
    expect([sum.re[0], sum.im[0]]).toEqual([near(1 + 0.2), near(0.5 * 10 ** (-7.9 / 20))]);
    expect(combineNearFields([cone, first, second]).marks).toBeUndefined();
    // Nearer, it drowns what it didn't; the first radiator is never held against itself.
    expect(bands(combineNearFields([cone, first], { spacing: 0.49 }))).toEqual([["uncertain", 20, 60]]);
    expect(bands(combineNearFields([cone], { spacing: 0.01 }))).toEqual([]);
  });
});

describe("a calibration", () => {
  const f = [100, 200, 400];
  it("is divided out with its phase; where it ends before the measurement it is refused or held", () => {
    const response = polar(f, [0, 6, 0], [0, 30, 0]);
    const exact = applyCalibration(response, polar(f, [1, 2, 3], [10, 20, 30]));
    f.forEach((_, k) => {
      const level = [-1, 4, -3][k]!;
      const phase = [-10, 10, -30][k]! * rad;
      expect([exact.re[k], exact.im[k]]).toEqual([near(10 ** (level / 20) * Math.cos(phase)), near(10 ** (level / 20) * Math.sin(phase))]);
    });
    expect(exact.marks).toBeUndefined();
    const low = polar([50, 100, 200], [1, 1, 2]);
    const high = polar([200, 400, 800], [2, 3, 3]);
    for (const [short, kept, marks] of [
      [low, [-1, 4, -2], [["uncertain", 200, undefined]]],
      [high, [-2, 4, -3], [["uncertain", undefined, 200]]],
    ] as const) {
      expect(() => applyCalibration(response, short)).toThrow(expect.objectContaining({ code: "outside-band" }));
      const held = applyCalibration(response, short, { outside: "hold" });
      expect([...held.re].map((re, k) => 20 * Math.log10(Math.hypot(re, held.im[k]!)))).toEqual(kept.map((level) => near(level)));
      expect(bands(held)).toEqual(marks);
    }
  });

  it("that has no frequency in common with the measurement can't be held either, and one of nothing can't be divided by", () => {
    const response = polar(f, [0, 0, 0]);
    for (const apart of [
      [10, 50],
      [500, 1000],
      [210, 390],
    ])
      expect(() => applyCalibration(response, polar(apart, [0, 0]), { outside: "hold" })).toThrow(
        expect.objectContaining({ code: "outside-band" }),
      );
    expect(() => applyCalibration(response, frequencyResponse(f, [1, 0, 1], [0, 0, 0]))).toThrow(/above zero, got 0 at 200 Hz/);
    expect(applyCalibration(response, frequencyResponse(f, [1, 0, 1], [0, 1, 0])).im[1]).toBeCloseTo(-1, 9);
  });
});

describe("the delay of a flat response", () => {
  // Its minimum phase is 0: what is left is its own, and a least-squares line through 0 Hz of −360° f τ.
  const f = [100, 200, 300, 400, 500];
  const tails = { lowSlope: 0, highSlope: 0 };
  const squares = f.reduce((sum, hz) => sum + hz * hz, 0);

  it("is that of the line through 0 Hz, with its standard error", () => {
    const off = [4, -3, 5, -2, 1];
    const tau = 0.0013;
    const found = acousticDelay(
      polar(
        f,
        f.map(() => 0),
        f.map((hz, k) => -360 * hz * tau + off[k]!),
      ),
      { ...tails, longest: 0.008 },
    );
    // Turns against f: −τ + Σ f·off/360 / Σ f².
    const slope = f.reduce((sum, hz, k) => sum + (hz * off[k]!) / 360, 0) / squares;
    const left = f.reduce((sum, hz, k) => sum + (off[k]! / 360 - slope * hz) ** 2, 0);
    expect(found.delay).toBeCloseTo(tau - slope, 10);
    expect(found.uncertainty).toBeCloseTo(Math.sqrt(left / 4 / squares), 10);
    expect(found.residualDegrees).toBeCloseTo(360 * Math.sqrt(left / 4), 6);
  });

  it("is read between the two limits alone, both included", () => {
    const at = (from: number, to: number) =>
      acousticDelay(polar([50, ...f, 600], [0, 0, 0, 0, 0, 0, 0], [90, ...f.map((hz) => -360 * hz * 0.001), 200]), {
        ...tails,
        from,
        to,
        longest: 0.005,
      });
    expect(at(100, 500).delay).toBeCloseTo(0.001, 9);
    expect(at(100, 500).residualDegrees).toBeCloseTo(0, 6);
    expect(at(99, 501).residualDegrees).toBeCloseTo(0, 6);
    expect(at(50, 500).residualDegrees).toBeGreaterThan(1);
    expect(at(100, 600).residualDegrees).toBeGreaterThan(1);
    expect(at(100, 400).residualDegrees).toBeCloseTo(0, 6);
    expect(() => at(101, 400)).toThrow(/got 3/);
    expect(() => at(100, 399)).toThrow(/got 3/);
  });

  it("is sought from a tenth of the longest before zero up to the longest: at points 100 Hz apart, delays 10 ms apart look the same", () => {
    const at = (tau: number, longest?: number) =>
      acousticDelay(
        polar(
          f,
          f.map(() => 0),
          f.map((hz) => -360 * hz * tau),
        ),
        { ...tails, longest },
      ).delay;
    expect(at(0.012, 0.009)).toBeCloseTo(0.002, 9);
    expect(at(0.0088, 0.009)).toBeCloseTo(0.0088, 9);
    expect(at(0.0092, 0.009)).toBeCloseTo(-0.0008, 9);
    expect(at(-0.0005, 0.005)).toBeCloseTo(-0.0005, 9);
  });
});
