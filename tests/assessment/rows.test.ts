// Tests src/assessment/: handover-findings.ts, load-findings.ts, off-axis-findings.ts, bass-findings.ts, axis-cause-findings.ts
// Tests src/assessment/: distance-findings.ts, sensitivity-findings.ts, smoothness-findings.ts, ideal-pair.ts
// Rows of findings from numbers made up here: what each row takes from which of the two, its limit, and what it says.
import { describe, expect, it } from "vitest";
import { axisFindings } from "../../src/assessment/axis-findings";
import { bassFindings } from "../../src/assessment/bass-findings";
import type { Context } from "../../src/assessment/context";
import { handoverFindings } from "../../src/assessment/handover-findings";
import { idealPair } from "../../src/assessment/ideal-pair";
import { loadFindings } from "../../src/assessment/load-findings";
import { offAxisFindings } from "../../src/assessment/off-axis-findings";
import type { Finding } from "dividing-network/assessment";
import { sampled } from "../support/synthetic";

const context = (more: object): Context => more as Context;
const row = (rows: readonly Finding[], code: string): Finding => {
  const found = rows.filter((each) => each.code === code);
  expect(found.map(({ code: own }) => own)).toEqual([code]);
  return found[0]!;
};
const codes = (rows: readonly Finding[]) => rows.map(({ code }) => code);

describe("where one branch hands over to the next", () => {
  const pair = {
    lower: "woofer",
    upper: "tweeter",
    frequency: 2000,
    crossovers: [2000],
    overlap: { from: 1500, to: 2600 },
    overlapOctaves: 0.79,
    overlapCut: false,
    phaseRmsDegrees: 20,
    nullDepthDb: 25,
    nullFrequency: 2010,
    lowerSlopeDbPerOctave: -22,
    upperSlopeDbPerOctave: 19,
  };
  const rows = (after: object, before: object = {}, model?: object) =>
    handoverFindings(
      context({
        model,
        before: { handovers: [{ ...pair, ...before }] },
        after: { handovers: [{ ...pair, ...after }], marks: [{ kind: "coarse", to: 1600, note: "gate" }] },
      }),
    );
  const lr4 = { meant: { family: "linkwitz-riley", order: 4 } };

  it("is judged where both networks have that pair, and nowhere else", () => {
    expect(rows({ lower: "mid" })).toEqual([]);
    expect(rows({ upper: "mid" })).toEqual([]);
    expect(codes(rows({}))).toEqual(["crossover", "slope-steepness", "slope-match", "overlap", "phase-tracking", "reversed-null"]);
    expect(rows({}).every(({ marks }) => marks.length === 1)).toBe(true);
    expect(rows({ overlap: { from: 1700, to: 2600 } }).every(({ marks }) => marks.length === 0)).toBe(true);
  });

  it("other frequencies of equal level stand beside the main one", () => {
    expect(row(rows({}), "crossover").sentence).toBe("The levels of woofer and tweeter are equal at 2 kHz before and at 2 kHz after.");
    expect(row(rows({ crossovers: [500, 2000, 4000], frequency: 2000 }), "crossover").sentence).toContain(
      "and at 2 kHz (equal levels also at 500 Hz, 4 kHz) after",
    );
  });

  it("slopes are counted as falls away from the crossover: the lower branch's upwards, the upper's downwards", () => {
    const steep = row(rows({ lowerSlopeDbPerOctave: -24, upperSlopeDbPerOctave: 26 }), "slope-steepness");
    expect([steep.before, steep.after, steep.verdict]).toEqual([20.5, 25, "better"]);
    const match = row(rows({ lowerSlopeDbPerOctave: -24, upperSlopeDbPerOctave: 26 }), "slope-match");
    expect([match.before, match.after, match.verdict]).toEqual([3, 2, "better"]);
    const rising = row(rows({ lowerSlopeDbPerOctave: 5, upperSlopeDbPerOctave: -1 }), "slope-steepness");
    expect(rising.after).toBe(-3);
    expect(rising.sentence).toContain("woofer rises by 5.0 dB per octave and tweeter rises by 1.0 dB per octave after");
    expect(rising.sentence).toContain("woofer falls by 22.0 dB per octave and tweeter falls by 19.0 dB per octave before");
  });

  it("slopes that either network's data don't cover are no row", () => {
    for (const [after, before] of [
      [{ lowerSlopeDbPerOctave: undefined }, {}],
      [{ upperSlopeDbPerOctave: undefined }, {}],
      [{}, { lowerSlopeDbPerOctave: undefined }],
      [{}, { upperSlopeDbPerOctave: undefined }],
    ])
      expect(codes(rows(after!, before))).toEqual(["crossover", "overlap", "phase-tracking", "reversed-null"]);
  });

  it("where there was hardly a slope, below first order, there is nothing to match", () => {
    const match = (steep: number) => row(rows({}, { lowerSlopeDbPerOctave: -steep, upperSlopeDbPerOctave: steep }), "slope-match");
    expect([match(5.9).verdict, match(6).verdict]).toEqual(["for information", "worse"]);
    expect(match(5.9).sentence).toContain("before, where there is hardly a slope to match, and by 3.0");
    expect(match(6).sentence).not.toContain("hardly");
  });

  it("limits are stated where an alignment was meant, and are its own", () => {
    for (const code of ["slope-steepness", "slope-match", "overlap", "phase-tracking", "reversed-null"])
      expect(row(rows({}), code).threshold, code).toBeUndefined();
    const meant = rows(lr4);
    // A fourth-order Linkwitz–Riley low-pass is 1/(1 + x⁴): the line through its level from √2 to 2√2 times the corner.
    const levels = Array.from({ length: 25 }, (_, i) => ({ x: 0.5 + i / 24, y: -20 * Math.log10(1 + 16 ** (0.5 + i / 24)) }));
    const slope = levels.reduce((sum, { x, y }) => sum + (x - 1) * y, 0) / levels.reduce((sum, { x }) => sum + (x - 1) ** 2, 0);
    expect(row(meant, "slope-steepness").threshold!.value).toBeCloseTo(-0.9 * slope, 3);
    expect(row(meant, "slope-match").threshold).toMatchObject({ value: 4, comparison: "at most" });
    // Levels 80 lg(f/fc) apart: 10 dB are reached at 10^(1/8) of the corner on either side.
    expect(row(meant, "overlap").threshold!.value).toBeCloseTo(1.25 * 2 * Math.log2(10 ** (1 / 8)), 4);
    expect(row(meant, "phase-tracking").threshold!.value).toBeCloseTo(30, 6);
    expect(row(meant, "phase-tracking").threshold!.reason).toContain("an ideal pair of order 4 (linkwitz-riley) are 0° apart");
    expect(row(meant, "reversed-null").threshold).toMatchObject({ value: 20, comparison: "at least" });
    expect(row(meant, "reversed-null").threshold!.reason).toContain("any depth");
  });

  it("a pair of odd order is a quarter turn apart, and is asked for no null", () => {
    const third = rows({ meant: { family: "butterworth", order: 3 } });
    expect(row(third, "phase-tracking").threshold!.value).toBeCloseTo(120, 6);
    expect(row(third, "reversed-null").threshold).toBeUndefined();
    expect(row(rows({ meant: { order: 2 } }), "overlap").threshold!.reason).toContain("an ideal pair of order 2 is within");
  });

  it("an ideal pair that makes a shallow null is asked for 3 dB less than its own", () => {
    const chebyshev = { family: "chebyshev", order: 4, rippleDb: 2 } as const;
    const { nullDepthDb } = idealPair(chebyshev);
    expect(nullDepthDb).toBeGreaterThan(6);
    expect(nullDepthDb).toBeLessThan(23);
    const { threshold } = row(rows({ meant: chebyshev }), "reversed-null");
    expect(threshold!.value).toBeCloseTo(nullDepthDb - 3, 12);
    expect(threshold!.reason).toContain(`makes one of ${nullDepthDb.toFixed(1)} dB`);
  });

  it("a stated corner may be missed by a quarter of an octave, to either side", () => {
    const meant = (frequency: number) => ({ frequency, meant: { order: 4, frequency: 2000 } });
    expect(codes(rows({ meant: { order: 4 } }))).not.toContain("crossover-place");
    const place = (octaves: number) => row(rows(meant(2000 * 2 ** octaves), { frequency: 1000 }), "crossover-place");
    expect(place(0.25).before).toBeCloseTo(-1, 12);
    expect(place(0.25).after).toBeCloseTo(0.25, 12);
    expect([-0.26, -0.24, 0.24, 0.26].map((octaves) => place(octaves).kept)).toEqual([false, true, true, false]);
    expect(place(0.24).verdict).toBe("better");
  });

  it("what the model misses stands beside each: of an overlap in octaves, as 20 dB run across it", () => {
    const missed = rows({}, {}, { levelDb: 2, angleDegrees: 7 });
    expect(row(missed, "slope-steepness").residual).toBe(2);
    expect(row(missed, "slope-match").residual).toBe(2);
    expect(row(missed, "reversed-null").residual).toBe(2);
    expect(row(missed, "phase-tracking").residual).toBe(7);
    expect(row(missed, "overlap").residual).toBeCloseTo((2 * 0.79) / 20, 12);
    expect(row(rows({}, {}, {}), "overlap").residual).toBeUndefined();
  });

  it("an overlap that the data cut is at least that wide", () => {
    expect(row(rows({}), "overlap").sentence).toContain("over 0.79 octaves (1.5 kHz to 2.6 kHz) before and 0.79 octaves");
    expect(row(rows({ overlapCut: true }), "overlap").sentence).toContain(
      "over 0.79 octaves (1.5 kHz to 2.6 kHz) before and at least 0.79",
    );
    expect(row(rows({}, { overlapCut: true }), "overlap").sentence).toContain("over at least 0.79 octaves");
    // 3.32/n octaves for order n, since levels are 20 n lg(f/fc) apart.
    expect(row(rows({}), "overlap").sentence).toContain("order 2, 3 and 4 overlap by 1.66, 1.11 and 0.83");
  });

  it("narrower, nearer in phase and with a deeper null is better", () => {
    const good = rows({ overlapOctaves: 0.6, phaseRmsDegrees: 10, nullDepthDb: 30 });
    for (const code of ["overlap", "phase-tracking", "reversed-null"]) expect(row(good, code).verdict, code).toBe("better");
    const same = rows({ overlapOctaves: 0.7, phaseRmsDegrees: 18.5, nullDepthDb: 25.4 });
    for (const code of ["overlap", "phase-tracking", "reversed-null"]) expect(row(same, code).verdict, code).toBe("unchanged");
  });
});

describe("the load", () => {
  const load = {
    minimum: 5,
    minimumFrequency: 200,
    shares: [],
    octavesBelowLimit: 1,
    lowestPhaseDegrees: -40,
    lowestPhaseFrequency: 100,
    highestPhaseDegrees: 30,
    highestPhaseFrequency: 3000,
    impedance: { frequencies: Float64Array.of(100, 1000) },
  };
  const none = { rising: [], quality: { spared: [] }, ratings: { drivers: [] } };
  const rows = ({ after = {}, before = {}, more = {}, less = {}, model }: Record<string, object | undefined>) =>
    loadFindings(
      context({
        model,
        before: { ...none, load: { ...load, ...before }, ...less },
        after: { ...none, ratedImpedance: 8, load: { ...load, ...after }, ...more },
      }),
    );

  it("should nowhere fall below 80 % of what it is rated", () => {
    const { threshold, verdict, kept } = row(rows({ after: { minimum: 6.4 } }), "impedance-minimum");
    expect(threshold!.value).toBeCloseTo(6.4, 12);
    expect([verdict, kept]).toEqual(["better", true]);
    const band = row(rows({ after: { octavesBelowLimit: 0 } }), "impedance-below-limit");
    expect([band.before, band.after, band.verdict, band.kept]).toEqual([1, 0, "better", true]);
    expect(row(rows({ after: { octavesBelowLimit: 0.9 } }), "impedance-below-limit")).toMatchObject({ verdict: "better", kept: false });
  });

  it("the phase that is said is the larger of both ends", () => {
    const phase = row(rows({ after: { highestPhaseDegrees: 61, lowestPhaseDegrees: -10 } }), "impedance-phase");
    expect([phase.before, phase.after, phase.verdict, phase.kept]).toEqual([-40, 61, "worse", false]);
    expect(phase.sentence).toContain("reaches −40° at 100 Hz before and +61° at 3 kHz after");
    // Of two ends of one size, the inductive one.
    expect(row(rows({ after: { highestPhaseDegrees: 40 } }), "impedance-phase").after).toBe(40);
    expect(row(rows({ after: { highestPhaseDegrees: 60, lowestPhaseDegrees: 0 } }), "impedance-phase").kept).toBe(true);
  });

  it("is missed by the difference to the measured minimum, looked for where the load is known", () => {
    const measured = (at: readonly (readonly [frequency: number, ohms: number])[]) => ({
      model: {
        measured: {
          impedance: sampled(
            (f) => [0, at.find(([frequency]) => frequency === f)![1]],
            at.map(([frequency]) => frequency),
          ),
        },
      },
    });
    const residual = (at: readonly (readonly [number, number])[]) => row(rows(measured(at)), "impedance-minimum").residual;
    expect(residual([[50, 1], [100, 8], [500, 7], [1000, 9], [2000, 2]])).toBe(2); // prettier-ignore
    expect(residual([[50, 1], [100, 4.5], [2000, 2]])).toBe(0.5); // prettier-ignore
    expect(residual([[50, 1], [1000, 4.5], [2000, 2]])).toBe(0.5); // prettier-ignore
    expect(residual([[50, 1], [2000, 2]])).toBeUndefined(); // prettier-ignore
    expect(row(rows({ model: { measured: {} } }), "impedance-minimum").residual).toBeUndefined();
    expect(row(rows({}), "impedance-minimum").residual).toBeUndefined();
  });

  it("a driver that is to be spared has a row where its resonance is known in both", () => {
    const spared = (belowDb?: number, driver = "dome", resonance: number | undefined = 800) => ({
      quality: { spared: [{ driver, part: "T1", resonance, belowDb, limitDb: 12 }] },
    });
    const made = row(rows({ more: spared(12), less: spared(6) }), "spared-driver");
    expect([made.before, made.after, made.verdict, made.kept, made.unit]).toEqual([6, 12, "better", true, "dB"]);
    expect(made.sentence).toContain("At its resonance, 800 Hz, the dome gets 6.0 dB less");
    for (const given of [
      { more: spared(12), less: spared(6, "horn") },
      { more: spared(12), less: spared(undefined) },
      { more: spared(undefined), less: spared(6) },
    ])
      expect(codes(rows(given))).not.toContain("spared-driver");
  });

  it("heat and excursion of a driver stand with its own ratings, in W and in mm", () => {
    const driver = (mean: number, peak?: number, more: object = {}) => ({
      ratings: {
        drivers: [{ driver: "dome", power: { mean }, ...(peak === undefined ? {} : { excursion: { peak } }), ratings: {}, ...more }],
      },
    });
    const rated = { ratings: { power: 3, excursion: 0.5e-3 }, first: { limit: "excursion", voltage: 12.34 } };
    const made = rows({ more: driver(3, 0.4e-3, rated), less: driver(6, 0.8e-3) });
    const [heat, moved] = [row(made, "driver-heat"), row(made, "driver-excursion")];
    expect([heat.before, heat.after, heat.threshold!.value, heat.verdict, heat.kept]).toEqual([6, 3, 3, "better", true]);
    expect([moved.before, moved.after, moved.threshold!.value, moved.verdict, moved.kept]).toEqual([0.8, 0.4, 0.5, "better", true]);
    expect(heat.sentence).toContain("now its first limit is excursion, at 12.3 V rms");
    const warm = { first: { limit: "power", voltage: 9 } };
    expect(row(rows({ more: driver(3, undefined, warm), less: driver(6) }), "driver-heat").sentence).toContain(
      "first limit is heat, at 9.0 V",
    );
    const bare = rows({ more: driver(3, 0.4e-3), less: driver(6, 0.8e-3) });
    expect([row(bare, "driver-heat").threshold, row(bare, "driver-excursion").threshold]).toEqual([undefined, undefined]);
    expect(row(bare, "driver-heat").sentence).not.toContain("first limit");
    expect(codes(rows({ more: driver(3, 1e-3), less: driver(6) }))).not.toContain("driver-excursion");
    expect(codes(rows({ more: driver(3), less: driver(6, 1e-3) }))).not.toContain("driver-excursion");
    expect(codes(rows({ more: driver(3, 1e-3) }))).not.toContain("driver-heat");
  });

  it("a tenth of the heat or of the excursion is nothing, and at least 0.1 W and 0.01 mm", () => {
    const driver = (mean: number, peak: number) => ({
      ratings: { drivers: [{ driver: "dome", power: { mean }, excursion: { peak: peak / 1000 }, ratings: {} }] },
    });
    const verdicts = (before: readonly [number, number], after: readonly [number, number]) => {
      const made = rows({ less: driver(...before), more: driver(...after) });
      return [row(made, "driver-heat").verdict, row(made, "driver-excursion").verdict];
    };
    expect(verdicts([10, 1], [9.1, 0.91])).toEqual(["unchanged", "unchanged"]);
    expect(verdicts([10, 1], [8.9, 0.89])).toEqual(["better", "better"]);
    expect(verdicts([0.2, 0.02], [0.11, 0.011])).toEqual(["unchanged", "unchanged"]);
    expect(verdicts([0.2, 0.02], [0.09, 0.009])).toEqual(["better", "better"]);
  });

  it("a branch that rises above the source is said of either network, with what resonates there", () => {
    const branch = { part: "T1", gainDb: 4, frequency: 1850, resonating: ["C1", "L1"], q: 2.5 };
    const gone = row(rows({ less: { rising: [branch] } }), "rising-branch");
    expect([gone.before, gone.after]).toEqual([4, 0]);
    expect(gone.sentence).toBe(
      "The voltage at T1 is 4.0 dB above the source at 1.85 kHz, where C1 and L1 resonate (Q 2.5) before, and nowhere above the source after.",
    );
    const come = row(rows({ more: { rising: [{ ...branch, q: undefined }] } }), "rising-branch");
    expect([come.before, come.after]).toEqual([0, 4]);
    expect(come.sentence).toContain(
      "nowhere above the source before, and 4.0 dB above the source at 1.85 kHz, where C1 and L1 resonate after",
    );
    const both = rows({ less: { rising: [branch] }, more: { rising: [{ ...branch, resonating: [] }] } });
    expect(row(both, "rising-branch").sentence).toMatch(/at 1\.85 kHz after\.$/);
    expect(rows({ less: { rising: [branch] }, more: { rising: [{ ...branch, part: "W1" }] } }).slice(-2).map(({ before, after }) => [before, after])).toEqual([[4, 0], [0, 4]]); // prettier-ignore
  });
});

describe("off the axis", () => {
  const change = (azimuth: number, elevation: number, ...changes: readonly number[]) => ({
    azimuth,
    elevation,
    bands: changes.map((changeDb, index) => ({ centre: 500 * 2 ** index, changeDb })),
  });
  const flat = (pascal: number) => sampled(() => [pascal, 0]);
  const places = (axis: number, side: number) =>
    [
      { distance: 1, azimuth: 0, elevation: 0, sum: flat(axis) },
      { distance: 1, azimuth: 20, elevation: 0, sum: flat(side) },
    ] as const;
  const one = (position: readonly [number, number, number]) => ({ position });
  const side = {
    distance: 1,
    prediction: { voltage: 1, places: places(1, 0.5), loudspeaker: { drivers: [one([0, 0, 0])], air: { temperature: 20 } } },
    offAxis: [],
    sides: [],
    causes: [],
    quality: { places: [] },
    marks: [],
    band: { from: 300, to: 10_000 },
  };
  const rows = (before: object, after: object, more: object = {}) =>
    offAxisFindings(
      context({ centre: 1000, listenerAngle: 30, model: undefined, before: { ...side, ...before }, after: { ...side, ...after }, ...more }),
    );

  it("is said for each angle within the listener's, where both networks have it: the largest change of its octaves", () => {
    const made = rows({ offAxis: [change(20, 0, 0, 1, -4)] }, { offAxis: [change(20, 0, -2, 1, 1)] });
    const { before, after, verdict, kept, subject, sentence } = row(made, "off-axis");
    expect([before, after, verdict, kept, subject]).toEqual([-4, -2, "better", true, "change 20° to the loudspeaker's left"]);
    expect(sentence).toContain(
      "20° to the loudspeaker's left the level changes against the axis by up to −4.0 dB (octave at 2 kHz) before",
    );
    expect(sentence).toContain("−2.0 dB (octave at 500 Hz) after");
    expect(rows({ offAxis: [change(20, 0, 1)] }, { offAxis: [change(-20, 0, 1)] })).toEqual([]);
    expect(rows({ offAxis: [change(20, 0, 1)] }, { offAxis: [change(20, 5, 1)] })).toEqual([]);
    expect(rows({ offAxis: [change(20, 0, 1)] }, { offAxis: [change(20, 0)] })).toEqual([]);
    expect(rows({ offAxis: [change(20, 0)] }, { offAxis: [change(20, 0, 1)] })).toEqual([]);
  });

  it("ends at the listener's angle, to the sides and up and down", () => {
    const at = (azimuth: number, elevation: number) => {
      const offAxis = [change(azimuth, elevation, 1)];
      return rows({ offAxis }, { offAxis }).length;
    };
    expect([at(30, 0), at(-30, 0), at(0, 30), at(0, -30), at(30, -30)]).toEqual([1, 1, 1, 1, 1]);
    expect([at(31, 0), at(-31, 0), at(0, 31), at(0, -31), at(31, 5), at(5, 31)]).toEqual([0, 0, 0, 0, 0, 0]);
  });

  it("names directions as the loudspeaker has them", () => {
    const named = (azimuth: number, elevation: number) => {
      const offAxis = [change(azimuth, elevation, 1)];
      return row(rows({ offAxis }, { offAxis }), "off-axis").subject;
    };
    expect([named(-20, 0), named(0, 10), named(0, -10), named(20, -10)]).toEqual([
      "change 20° to the loudspeaker's right",
      "change 10° up",
      "change 10° down",
      "change 20° to the loudspeaker's left and 10° down",
    ]);
  });

  it("says what the spacing of two drivers alone does there", () => {
    const loudspeaker = (...drivers: readonly object[]) => ({
      prediction: { ...side.prediction, loudspeaker: { drivers, air: { temperature: 20 } } },
    });
    const said = (elevation: number, ...drivers: readonly object[]) => {
      const offAxis = [change(elevation === 0 ? 20 : 0, elevation, 1)];
      return row(rows({ offAxis }, { offAxis, ...loudspeaker(...drivers) }), "off-axis").sentence;
    };
    // 0.2 m above each other, 30° up: 0.1 m of path at 1 kHz, cos(π · 0.1 / 0.3432) = 0.609, −4.3 dB.
    expect(said(30, one([0, 0, 0.1]), one([0, 0, -0.1]))).toContain("; two in-phase drivers so far apart change by −4.3 dB at 1 kHz");
    expect(said(0, one([0, 0, 0.1]), one([0, 0, -0.1]))).toContain("; in this plane the spacing of the drivers changes nothing");
    // Beside each other, 20° aside: 0.2 sin 20° = 0.0684 m, cos(π · 0.0684 / 0.3432) = 0.810, −1.8 dB.
    expect(said(0, one([0, 0.1, 0]), one([0, -0.1, 0]))).toContain("change by −1.8 dB");
    // One 0.5 m behind the other: the way to the front shrinks by 0.5 (1 − cos 30°) = 0.067 m, cos(π · 0.067 / 0.3432) = 0.818, −1.7 dB.
    expect(said(30, one([0.5, 0, 0]), one([0, 0, 0]))).toContain("change by −1.7 dB");
    for (const drivers of [[one([0, 0, 0])], [one([0, 0, 0.1]), one([0, 0, 0]), one([0, 0, -0.1])]])
      expect(said(30, ...drivers)).toMatch(/after: unchanged\.$/);
  });

  it("is missed by how much the same octave, measured, changes otherwise", () => {
    const offAxis = [change(20, 0, 0, -6, 0)];
    const whole = places(1, 0.4).map(({ sum, ...place }) => ({ ...place, response: sum, voltage: 1 }));
    const model = (pressures: readonly object[]) => ({ model: { measured: { pressures } } });
    // 20 lg(0.5/0.4) = 1.94 dB.
    expect(row(rows({ offAxis }, { offAxis }, model(whole)), "off-axis").residual).toBeCloseTo(20 * Math.log10(1.25), 9);
    expect(row(rows({ offAxis }, { offAxis }, model(whole.slice(1))), "off-axis").residual).toBeUndefined();
    expect(row(rows({ offAxis }, { offAxis }, model(whole.slice(0, 1))), "off-axis").residual).toBeUndefined();
  });

  it("the two sides are held against each other, up to the listener's angle", () => {
    const sides = (azimuth: number, differenceDb: number) => ({ sides: [{ azimuth, differenceDb, frequency: 2000 }] });
    const made = row(rows(sides(30, -3), sides(30, 2)), "sides");
    expect([made.before, made.after, made.verdict, made.kept]).toEqual([3, 2, "better", true]);
    expect(made.sentence).toContain("Listeners 30° to the left and to the right hear levels up to 3.0 dB apart (at 2 kHz) before");
    expect(row(rows(sides(30, -3), sides(30, -2.5)), "sides").kept).toBe(false);
    expect(rows(sides(31, -3), sides(31, 2))).toEqual([]);
    expect(rows(sides(20, -3), sides(30, 2))).toEqual([]);
    const measured = (axis: number, left: number, right: number) =>
      [[0, axis] as const, [20, left] as const, [-20, right] as const].map(([azimuth, pascal]) => ({
        distance: 1,
        azimuth,
        elevation: 0,
        sum: flat(pascal),
      }));
    const prediction = { ...side.prediction, places: measured(1, 1, 0.5) };
    const pressures = measured(1, 0.5, 0.4).map(({ sum, ...place }) => ({ ...place, response: sum, voltage: 1 }));
    const missed = rows({ ...sides(20, 6), prediction }, sides(20, 6), { model: { measured: { pressures } } });
    // 6.02 dB predicted, 1.94 dB measured.
    expect(row(missed, "sides").residual).toBeCloseTo(20 * Math.log10(2 / 1.25), 9);
    const oneSided = rows({ ...sides(20, 6), prediction }, sides(20, 6), { model: { measured: { pressures: pressures.slice(0, 2) } } });
    expect(row(oneSided, "sides").residual).toBeUndefined();
  });

  it("what makes the largest deviation of a plane is said where either network leaves its corridor there", () => {
    const cause = (topic: string, sentence: string) => ({ causes: [{ topic, sentence }] });
    const quality = (...found: readonly (readonly [azimuth: number, elevation: number, worstDb: number])[]) => ({
      quality: { places: found.map(([azimuth, elevation, worstDb]) => ({ azimuth, elevation, worstDb })) },
    });
    const before = { ...cause("off the axis, up and down", "A null"), ...quality([20, 0, -9], [0, 10, -5], [0, -10, 4]) };
    const gone = rows(before, quality([0, 10, 2]));
    const made = row(gone, "off-axis-cause");
    expect([made.before, made.after, made.subject]).toEqual([-5, 2, "largest deviation off the axis, up and down, in third octaves"]);
    expect(made.sentence).toBe("Before: A null. After: Every angle keeps its corridor.");
    expect(row(rows(quality([0, 10, 2]), before), "off-axis-cause").after).toBe(-5);
    expect(rows({}, {})).toEqual([]);
  });
});

describe("bass and damping", () => {
  const bass = {
    part: "W1",
    resonance: 45,
    frequency: 45,
    sourceResistance: 0.5,
    sourceReactance: -0.25,
    heard: true,
    q: 0.8,
    qAlone: 0.7,
    riseDb: 1,
  };
  const rows = (now: object, then: object = {}, damping: object = {}) =>
    bassFindings(context({ before: { bass: [{ ...bass, ...then }] }, after: { goal: { damping }, bass: [{ ...bass, ...now }] } }));

  it("is said of each woofer that both have, with what either is", () => {
    expect(rows({ part: "W2" })).toEqual([]);
    const made = rows({ sourceResistance: 0.3, sourceReactance: 0.1, q: 0.75, riseDb: 0.5 });
    expect(made.map(({ code, before, after }) => [code, before, after])).toEqual([
      ["source-resistance", 0.5, 0.3],
      ["bass-q", 0.8, 0.75],
      ["bass-rise", 1, 0.5],
    ]);
    expect(made[0]!.sentence).toContain("W1, whose resonance is at 45 Hz, sees 0.50 − 0.25j Ω before and 0.30 + 0.10j Ω after");
    expect(made[1]!.sentence).toContain("is 0.70 on an ideal source");
    expect(made[2]!.sentence).not.toContain("impedances alone");
    expect(rows({ heard: false })[2]!.sentence).toContain("from impedances alone, since no sound pressure is trusted down there");
    expect(rows({ resonance: undefined, frequency: 30 })[0]!.sentence).toContain("W1, at 30 Hz, the lowest frequency at which all");
  });

  it("says no Q and no rise that either network doesn't have", () => {
    for (const [now, then] of [
      [{ q: undefined }, {}],
      [{}, { q: undefined }],
      [{ qAlone: undefined }, {}],
    ] as const)
      expect(codes(rows(now, then))).toEqual(["source-resistance", "bass-rise"]);
    for (const [now, then] of [
      [{ riseDb: undefined }, {}],
      [{}, { riseDb: undefined }],
    ] as const)
      expect(codes(rows(now, then))).toEqual(["source-resistance", "bass-q"]);
  });

  it("holds limits where the goal states them", () => {
    const [ohms, q, rise] = rows({}, {}, { largestQ: 0.75, largestSourceResistance: 0.5 });
    expect([ohms!.kept, q!.kept, rise!.kept]).toEqual([true, false, undefined]);
    expect([ohms!.threshold!.value, q!.threshold!.value]).toEqual([0.5, 0.75]);
    expect(rows({}).map(({ threshold }) => threshold)).toEqual([undefined, undefined, undefined]);
  });
});

describe("on the axis", () => {
  const level = (for2V83Db: number, for1WDb: number) => ({ for2V83Db, for1WDb });
  const side = {
    distance: 1,
    ratedImpedance: 4,
    band: { from: 300, to: 10_000 },
    sensitivityBand: { from: 300, to: 3000 },
    sensitivity: level(86, 83),
    smoothness: { standardDeviationDb: 1.5, worstDb: 4, worstFrequency: 900, slopeDbPerOctave: -0.5 },
    causes: [],
    quality: { worstDb: 3.5 },
    distances: [],
    marks: [],
    prediction: { voltage: 1, places: [{ distance: 1, azimuth: 0, elevation: 0, sum: sampled(() => [0.2, 0]) }] },
  };
  const rows = (after: object, before: object = {}, model?: object) =>
    axisFindings(context({ model, before: { ...side, ...before }, after: { ...side, ...after } }));

  it("is how loud, how smooth, how far off at most, and how tilted", () => {
    const made = rows({
      sensitivity: level(87, 84),
      smoothness: { standardDeviationDb: 1, worstDb: -3, worstFrequency: 1100, slopeDbPerOctave: 0.25 },
    });
    expect(made.map(({ code, before, after, verdict, kept }) => [code, before, after, verdict, kept])).toEqual([
      ["sensitivity-2.83V", 86, 87, "better", undefined],
      ["sensitivity-1W", 83, 84, "for information", undefined],
      ["smoothness", 1.5, 1, "better", true],
      ["worst-deviation", 4, -3, "better", true],
      ["tilt", -0.5, 0.25, "for information", undefined],
    ]);
    // 1 W into 4 Ω is 2 V.
    expect(made[1]!.sentence).toContain("for 1 W into the rated 4 Ω (2.00 V)");
  });

  it("is missed by how far the measured axis lies from the predicted", () => {
    const pressures = [{ distance: 1, azimuth: 0, elevation: 0, voltage: 1, response: sampled((f) => [f < 1000 ? 0.2 : 0.1, 0]) }];
    const missed = rows({}, {}, { measured: { pressures } });
    // A decade from 300 Hz, lg 3 of which lies above 1 kHz, at a quarter of the power; the step is one interval of the data.
    const mean = 10 * Math.log10(1 - Math.log10(3) + Math.log10(3) / 4);
    expect(row(missed, "sensitivity-2.83V").residual).toBeCloseTo(-mean, 1);
    // The predicted one is a straight line.
    expect(row(missed, "smoothness").residual).toBeGreaterThan(1);
    expect(row(missed, "worst-deviation").residual).toBeGreaterThan(row(missed, "smoothness").residual!);
    const aside = rows({}, {}, { measured: { pressures: [{ ...pressures[0], azimuth: 20 }] } });
    for (const code of ["sensitivity-2.83V", "smoothness", "worst-deviation"]) expect(row(aside, code).residual, code).toBeUndefined();
  });

  it("names at most three causes in a row, and none where both keep the corridor", () => {
    expect(codes(rows({}))).not.toContain("axis-cause");
    const causes = ["A", "B", "C", "D"].map((sentence) => ({ topic: "on the axis", sentence }));
    const other = { topic: "load", sentence: "Too low" };
    const made = row(rows({ causes: [other] }, { causes: [other, ...causes] }), "axis-cause");
    expect(made.sentence).toBe("Before: A. B. C. After: The response keeps its corridor.");
    expect([made.before, made.after]).toEqual([3.5, 3.5]);
    expect(row(rows({ causes }, {}), "axis-cause").sentence).toBe("Before: The response keeps its corridor. After: A. B. C.");
  });

  it("each other distance has a row: the same balance should be heard further back", () => {
    const at = (spreadDb: number) => ({ distances: [{ distance: 2, spreadDb }] });
    const made = row(rows(at(1), at(1.5)), "distance");
    expect([made.before, made.after, made.verdict, made.kept, made.subject]).toEqual([
      1.5,
      1,
      "better",
      true,
      "change of shape from 1 m to 2 m",
    ]);
    expect(row(rows(at(1.1), at(1.5)), "distance").kept).toBe(false);
  });
});
