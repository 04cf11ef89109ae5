// Tests src/assessment/: corridor.ts, dangers.ts, heard-places.ts, judged-bands.ts, spared.ts, target-shape.ts
// Tests src/assessment/: third-octaves.ts, trust.ts
// The rules by which topics, words and dangers come from numbers, on numbers made by hand: each limit from both of its sides.
import { goal, suspectText, type Quality } from "dividing-network/assessment";
import { highPass, linkwitzRiley } from "dividing-network/alignments";
import { capacitor, driverImpedance, resistor } from "dividing-network/parts";
import { frequencyResponse, type FrequencyResponse } from "dividing-network/response";
import type { Entries } from "dividing-network/network";
import { describe, expect, it } from "vitest";
import { againstCorridor } from "../../src/assessment/corridor";
import { dangersOf } from "../../src/assessment/dangers";
import { distanceOf, heardWithPartner, withPartner } from "../../src/assessment/heard-places";
import { bandOf, judgedBands } from "../../src/assessment/judged-bands";
import { lossAt } from "../../src/assessment/loss";
import { PLANES } from "../../src/assessment/planes";
import { aroundResonance, notchFilled, passbandGrid, resonanceOf, spareDb, sparesOf } from "../../src/assessment/spared";
import { shapeOf } from "../../src/assessment/target-shape";
import { integralBetween, thirdOctaves } from "../../src/assessment/third-octaves";
import type { Trust } from "../../src/assessment/trust";
import { judgement } from "../../src/assessment/judgement";
import { topicsOf } from "../../src/assessment/topics";

const band = { from: 300, to: 10_000 };
type Place = Quality["places"][number];
const place = (azimuth: number, elevation: number, lossDb: number, more: Partial<Place> = {}): Place => ({
  azimuth,
  elevation,
  lossDb,
  worstDb: lossDb,
  worstFrequency: 1000,
  octavesOutside: 0,
  outside: [],
  band,
  ...more,
});
const quality = (more: Partial<Quality> = {}): Quality => ({
  band,
  axisDb: 1,
  worstDb: 2,
  worstFrequency: 1500,
  octavesOutside: 0,
  outside: [],
  levelDb: 90,
  places: [],
  load: { minimum: 8, limit: 4, peakDissipation: 8 },
  spared: [],
  ...more,
});
const aim = goal({ band });
const of = (before: Partial<Quality>, after: Partial<Quality>, topic: string, at = aim) =>
  topicsOf(quality(before), quality(after), at).find((each) => each.topic === topic)!;
const checked: Trust = { state: "explained", repeatability: { levelDb: 1, impedance: 0.03, path: 0.003 }, sentence: "The model fits" };
const verdict = (before: Partial<Quality>, after: Partial<Quality>, trust = checked) =>
  judgement(topicsOf(quality(before), quality(after), aim), [], trust, []);

describe("the topic of the axis", () => {
  it.each([
    [1, 1.09, "unchanged"],
    [1, 1.11, "worse"],
    [1.11, 1, "better"],
    [1.09, 1, "unchanged"],
  ] as const)("from %d dB to %d dB is %s: a tenth of a decibel is nothing", (a, b, change) => {
    expect(of({ axisDb: a }, { axisDb: b }, "on the axis")).toMatchObject({ change, before: a, after: b, unit: "dB" });
  });

  it("keeps its limit where nothing lies outside, and says how much does", () => {
    const inside = of({}, {}, "on the axis");
    expect(inside).toMatchObject({ kept: true, limit: "within ±3 dB" });
    expect(inside.sentence).toBe(
      "On the axis the response strays from its target by 1.00 dB before and 1.00 dB after; largest +2.0 dB at 1.5 kHz",
    );
    const out = of({}, { octavesOutside: 0.25 }, "on the axis");
    expect(out.kept).toBe(false);
    expect(out.sentence).toMatch(/, 0\.25 octaves outside the corridor$/);
  });
});

describe("the topics off the axis", () => {
  const sides = "off the axis, to the sides";
  it("are paired by direction; a place that only one of them has is left out", () => {
    const topic = of(
      { places: [place(20, 0, 3), place(-20, 0, 1), place(40, 0, 9)] },
      { places: [place(-20, 0, 1.1), place(20, 0, 2), place(60, 0, 20)] },
      sides,
    );
    expect(topic).toMatchObject({ change: "better", before: 3, after: 2, kept: true, limit: "within ±3 dB" });
    expect(topic.sentence).toContain("at 2 measured angles");
  });

  it.each([
    [0.19, "unchanged"],
    [0.21, "worse"],
  ] as const)("count %d dB at one angle as %s", (more, change) => {
    expect(of({ places: [place(20, 0, 1)] }, { places: [place(20, 0, 1 + more)] }, sides).change).toBe(change);
    expect(of({ places: [place(20, 0, 1 + more)] }, { places: [place(20, 0, 1)] }, sides).change).toBe(
      change === "worse" ? "better" : change,
    );
  });

  it.each([
    // A gain against a loss: what is more than twice the other rules, else both are said.
    [2, 1.01, "both"],
    [2.1, 1, "better"],
    [1, 2.1, "worse"],
    [2, 1, "both"],
    [1, 2, "both"],
    [1, 0.1, "better"],
    [0.1, 1, "worse"],
  ] as const)("with %d dB gained here and %d dB lost there are %s", (gain, loss, change) => {
    const topic = of({ places: [place(20, 0, 4), place(-20, 0, 4)] }, { places: [place(20, 0, 4 - gain), place(-20, 0, 4 + loss)] }, sides);
    expect(topic.change).toBe(change);
  });

  it("say where the largest is, at how many angles the corridor is left and by how much, and what was measured over less", () => {
    const topic = of(
      { places: [place(20, 0, 1), place(-20, 0, 1), place(40, 0, 1)] },
      {
        places: [
          place(20, 0, 1, { worstDb: 3, worstFrequency: 2000, octavesOutside: 0.1 }),
          place(-20, 0, 1, { worstDb: -5, worstFrequency: 4000, octavesOutside: 0.4, band: { from: 500, to: 10_000 } }),
          place(40, 0, 1, { worstDb: 1, band: { from: 300, to: 9000 } }),
        ],
      },
      sides,
    );
    expect(topic.kept).toBe(false);
    expect(topic.sentence).toContain("largest −5.0 dB at 4 kHz, azimuth −20°, elevation 0°");
    expect(topic.sentence).toContain("; outside the corridor at 2 of them, by 0.40 octaves at most");
    expect(topic.sentence).toMatch(
      /; less was measured at azimuth −20°, elevation 0° \(500 Hz to 10 kHz\), azimuth \+40°, elevation 0° \(300 Hz to 9 kHz\)$/,
    );
    // Within a thousandth, a band is the whole band.
    const hair = of({ places: [place(20, 0, 1)] }, { places: [place(20, 0, 1, { band: { from: 300.2, to: 9995 } })] }, sides);
    expect(hair.sentence).not.toContain("less was measured");
    expect(hair.sentence).toContain("at 1 measured angle,");
  });

  it("take a place given twice once, and tell elevations apart", () => {
    const twice = of({ places: [place(20, 0, 1)] }, { places: [place(20, 0, 1), place(20, 0, 9), place(20, 10, 1)] }, sides);
    expect(twice).toMatchObject({ after: 1 });
    expect(twice.sentence).toContain("at 1 measured angle,");
    expect(of({ places: [place(20, 10, 2), place(20, 0, 1)] }, { places: [place(20, 0, 1), place(20, 10, 2)] }, sides).change).toBe(
      "unchanged",
    );
  });

  it("are not checked where nothing was measured, and behind it is said what may be missed", () => {
    const topics = topicsOf(quality(), quality({ places: [place(20, 0, 1)] }), aim);
    expect(topics.filter(({ change }) => change === "not checked").map(({ sentence }) => sentence)).toEqual([
      "Off the axis, to the sides: not measured",
      "Off the axis, up and down: not measured",
      "Off the axis, behind: not measured; a dipole or a panel sends half of its sound there",
      "No driver is named that must be spared",
    ]);
  });
});

describe("the topic of the load", () => {
  const ohms = (minimum: number, limit?: number) => ({
    load: { minimum, peakDissipation: minimum, ...(limit === undefined ? {} : { limit }) },
  });
  it.each([
    // dB above a limit of 4 Ω, at most 6.02; half a decibel is nothing.
    [4, 4.2, 4, "unchanged"],
    [4, 4.3, 4, "better"],
    [4.3, 4, 4, "worse"],
    [8, 16, 4, "unchanged"],
    [16, 8, 4, "unchanged"],
    [6, 16, 4, "better"],
    [3, 3.3, 4, "better"],
    // Without a limit: against half of the easier.
    [8, 8.3, undefined, "unchanged"],
    [4, 8, undefined, "better"],
    [8, 4, undefined, "worse"],
  ] as const)("from %d Ω to %d Ω with a limit of %s Ω is %s", (a, b, limit, change) => {
    expect(of(ohms(a, limit), ohms(b, limit), "load")).toMatchObject({ change, before: a, after: b, unit: "Ω" });
  });

  it("keeps a limit that it stands on, and has none where none is known", () => {
    expect(of(ohms(8, 4), ohms(4, 4), "load")).toMatchObject({ kept: true, limit: "at least 4.00 Ω" });
    expect(of(ohms(8, 4), ohms(3.999, 4), "load").kept).toBe(false);
    const free = of(ohms(8), ohms(2), "load");
    expect(free.limit).toBe("");
    expect(free).not.toHaveProperty("kept");
  });

  it.each([
    // An ease of 3.52 dB (4 → 6 Ω over a limit of 3 Ω) that costs as much level, or less.
    [-4, "unchanged"],
    [-3.1, "unchanged"],
    [-2.9, "better"],
    [4, "better"],
  ] as const)("that is easier by 3.52 dB with %d dB of level is %s, and the other way round", (louder, change) => {
    const [one, two] = [
      { ...ohms(4, 3), levelDb: 90 },
      { ...ohms(6, 3), levelDb: 90 + louder },
    ];
    expect(of(one, two, "load").change).toBe(change);
    expect(of(two, one, "load").change).toBe(change === "better" ? "worse" : change);
  });
});

describe("the topic of the drivers", () => {
  const spared = (...list: readonly (readonly [driver: string, belowDb: number | undefined, limitDb: number])[]) => ({
    spared: list.map(([driver, belowDb, limitDb]) => ({
      driver,
      part: driver,
      limitDb,
      ...(belowDb === undefined ? {} : { resonance: 900, belowDb }),
    })),
  });
  it.each([
    [12, 13.1, "better"],
    [12, 12.9, "unchanged"],
    [13.1, 12, "worse"],
    // What lies 6 dB beyond the limit counts no more.
    [18, 40, "unchanged"],
    [17.1, 40, "unchanged"],
    [16.9, 40, "better"],
  ] as const)("from %d dB to %d dB with a limit of 12 dB is %s", (a, b, change) => {
    expect(of(spared(["tweeter", a, 12]), spared(["tweeter", b, 12]), "drivers")).toMatchObject({ change, before: a, after: b });
  });

  it("names the least spared of each column, against its own limit, and keeps all limits or none", () => {
    const topic = of(spared(["mid", 8, 6], ["tweeter", 10, 12]), spared(["mid", 7, 9], ["tweeter", 12, 12]), "drivers");
    expect(topic).toMatchObject({ before: 10, after: 7, kept: false, limit: "at least 9 dB" });
    expect(topic.sentence).toBe(
      "Least spared at its resonance is the tweeter before, with 10.0 dB less than in its passband, and the mid after, with 7.0 dB less",
    );
    expect(of(spared(["tweeter", 11, 12]), spared(["tweeter", 12, 12]), "drivers")).toMatchObject({
      kept: true,
      sentence: "At its resonance the tweeter gets 11.0 dB less than in its passband before and 12.0 dB less after",
    });
  });

  it("aren't checked without a resonance, in either of the two", () => {
    for (const [a, b] of [
      [undefined, 12],
      [12, undefined],
    ] as const) {
      const topic = of(spared(["tweeter", a, 12]), spared(["tweeter", b, 12]), "drivers");
      expect(topic.change).toBe("not checked");
      expect(topic.sentence).toBe("Drive of tweeter: not checked, no resonance in the impedance");
    }
    expect(of(spared(["mid", 5, 12]), spared(["tweeter", 12, 12]), "drivers").change).toBe("not checked");
  });
});

describe("the topic of loudness", () => {
  it.each([
    [-2.9, "unchanged", true],
    [-3, "unchanged", true],
    [-3.1, "worse", false],
    [3.1, "better", true],
    [2.9, "unchanged", true],
  ] as const)("by %d dB is %s where 3 dB may be lost", (gain, change, kept) => {
    expect(of({}, { levelDb: 90 + gain }, "loudness")).toMatchObject({ change, kept, limit: "loss at most 3 dB" });
  });

  it.each([
    [91, 90, true],
    [90, 90, true],
    [89.9, 90, false],
  ])("of %d dB with at least %d dB asked for is kept: %s", (level, least, kept) => {
    expect(of({}, { levelDb: level }, "loudness", goal({ band, leastLevelDb: least }))).toMatchObject({ kept, limit: "at least 90 dB" });
  });
});

describe("the topic outside the judged band", () => {
  const hump = (aboveDb: number, limitDb?: number, more: object = {}) => ({
    outsideBand: {
      aboveDb,
      frequency: 80,
      azimuth: 0,
      elevation: 0,
      ...(limitDb === undefined ? {} : { limitDb }),
      ...more,
    } as NonNullable<Quality["outsideBand"]>,
  });
  const topic = (before: Partial<Quality>, after: Partial<Quality>) => of(before, after, "outside the judged band");

  it("counts what stands above its limit, and nothing below", () => {
    expect(topic(hump(2, 3), hump(2.9, 3)).change).toBe("unchanged");
    expect(topic(hump(2, 3), hump(6, 3)).change).toBe("worse");
    expect(topic(hump(6, 3), hump(-5, 3)).change).toBe("better");
    expect(topic(hump(2, 3), hump(3, 3)).kept).toBe(true);
    expect(topic(hump(2, 3), hump(3.01, 3)).kept).toBe(false);
    expect(topic(hump(2), hump(9))).not.toHaveProperty("kept");
    expect(topic(hump(2), hump(9)).change).toBe("unchanged");
  });

  it("isn't there where nothing was measured beyond the band", () => {
    expect(topic({}, hump(2, 3))?.change ?? "not checked").toBe("not checked");
    expect(topic(hump(2, 3), {})?.change ?? "not checked").toBe("not checked");
  });
});

describe("the verdict in a word", () => {
  const better = { axisDb: 0.5 };
  const worse = { axisDb: 2 };
  it("comes from what got better and what got worse", () => {
    expect(verdict({}, {}).overall).toBe("unchanged");
    expect(verdict({}, {}).sentence).toBe("By this goal the new network changes nothing.");
    expect(verdict({}, better).overall).toBe("better");
    expect(verdict({}, better).sentence).toBe("The new network is better: on the axis (1.00 → 0.50 dB); worse in no topic.");
    // Level that the goal lets go is said, from half a dB on.
    expect(verdict({}, { ...better, levelDb: 88 }).sentence).toMatch(/; worse in no topic, 2\.0 dB quieter as the goal allows\.$/);
    expect(verdict({}, { ...better, levelDb: 89.6 }).sentence).toMatch(/; worse in no topic\.$/);
    expect(verdict({}, { ...better, levelDb: 92 }).sentence).toMatch(/; worse in no topic\.$/);
    expect(verdict({}, worse).overall).toBe("worse");
    expect(verdict({}, worse).sentence).toBe("The new network is worse: on the axis (1.00 → 2.00 dB); better in no topic.");
    expect(verdict({}, { ...better, levelDb: 80 })).toMatchObject({
      overall: "a trade",
      sentence: "The new network is a trade: better on the axis (1.00 → 0.50 dB), bought with loudness (90.0 → 80.0 dB).",
    });
  });

  it("is a trade where one topic is better here and worse there, and nothing is better as a whole", () => {
    const both = verdict({ places: [place(20, 0, 4), place(-20, 0, 4)] }, { places: [place(20, 0, 3), place(-20, 0, 5)] });
    expect(both.overall).toBe("a trade");
    expect(both.sentence).toMatch(
      /^The new network is a trade: better in nothing as a whole, bought with off the axis, to the sides \(4\.00 → 5\.00 dB\)/,
    );
  });

  it("is none where the drawing is refuted, with its suspects; and says where nothing was checked", () => {
    const refuted = judgement(topicsOf(quality(), quality(better), aim), [], { ...checked, state: "refuted", sentence: "It isn't" }, [
      { parts: ["C1"], fault: "open", misfit: 1, explains: false },
    ] as never);
    expect(refuted.overall).toBe("no verdict");
    expect(refuted.sentence).toMatch(/^There is no verdict\. It isn't\. First suspects: C1 open\. None of them alone explains/);
    const unchecked = { ...checked, state: "not checked" } as const;
    for (const [after, start] of [
      [better, "better"],
      [worse, "worse"],
      [{}, "changes nothing"],
    ] as const)
      expect(verdict({}, after, unchecked).sentence).toMatch(
        new RegExp(`${start}.* The model was not checked against the whole as measured\\.$`),
      );
  });

  it("is not fit to be connected with one danger, before anything else", () => {
    const danger = { code: "load", sentence: "It falls", value: 1, limit: 2, unit: "Ω" } as const;
    const made = judgement(
      topicsOf(quality(), quality(better), aim),
      [danger, { ...danger, sentence: "It burns" }],
      { ...checked, state: "refuted" },
      [],
    );
    expect(made).toMatchObject({
      overall: "not fit to be connected",
      sentence: "The new network is not fit to be connected. It falls. It burns.",
    });
  });
});

describe("dangers", () => {
  const load = { minimumFrequency: 500 } as never;
  const none = { checks: [], drivers: [], notChecked: [], level: "" };
  const codes = (more: Partial<Quality>, ratings: object = none) => dangersOf(quality(more), load, ratings as never);

  it("are a load below its limit, not on it, and none without a limit", () => {
    expect(codes({ load: { minimum: 3.99, limit: 4, peakDissipation: 8 } })).toEqual([
      {
        code: "load",
        value: 3.99,
        limit: 4,
        unit: "Ω",
        sentence: "The load falls to 3.99 Ω at 500 Hz, and the amplifier bears 4.00 Ω at least",
      },
    ]);
    expect(codes({ load: { minimum: 4, limit: 4, peakDissipation: 1 } })).toEqual([]);
    expect(codes({ load: { minimum: 0.1, peakDissipation: 1 } })).toEqual([]);
  });

  it("are a peak dissipation below its limit", () => {
    const [danger, ...rest] = codes({ load: { minimum: 8, peakDissipation: 2, peakDissipationLimit: 2.5 } });
    expect(danger).toMatchObject({ code: "peak-dissipation", value: 2, limit: 2.5 });
    expect(rest).toEqual([]);
    expect(codes({ load: { minimum: 8, peakDissipation: 2.5, peakDissipationLimit: 2.5 } })).toEqual([]);
  });

  it.each([
    [3, 12, false],
    [2.9, 12, true],
    [-1, 12, true],
    // A driver of which less is asked is in danger below that.
    [2, 2, false],
    [1.9, 2, true],
  ])("are a driver %d dB below its passband where %d dB are asked for: %s", (belowDb, limitDb, is) => {
    const found = codes({ spared: [{ driver: "tweeter", part: "t", resonance: 900, belowDb, limitDb }] });
    expect(found.length).toBe(is ? 1 : 0);
    if (is)
      expect(found[0]!.sentence).toContain(
        belowDb < 0 ? "at its resonance, 900 Hz, it gets 1.0 dB more than in its passband" : `only ${belowDb.toFixed(1)} dB less than`,
      );
    expect(codes({ spared: [{ driver: "tweeter", part: "t", limitDb }] })).toEqual([]);
  });

  it("are what is beyond its rating, and nothing that is only beyond the share to use", () => {
    const check = {
      code: "part-rating",
      name: "R1",
      quantity: "power",
      value: 9,
      sine: 9,
      required: 18,
      unit: "W",
      frequency: 100,
      sentence: "R1 burns",
    };
    const made = codes(
      {},
      {
        ...none,
        checks: [
          { ...check, rating: 5, state: "beyond its rating" },
          { ...check, rating: 10, state: "beyond the share to use" },
          { ...check, state: "not checked" },
        ],
      },
    );
    expect(made).toEqual([{ code: "part-rating", value: 9, limit: 5, unit: "W", sentence: "R1 burns" }]);
  });
});

describe("a deviation against its corridor", () => {
  const octaves = (count: number) => count * Math.LN2;
  it("of a straight line from −4 to 4 dB over four octaves is outside ±3 dB over half an octave at each end", () => {
    const found = againstCorridor((x) => -4 + (2 * x) / Math.LN2, 0, octaves(4), 3);
    expect(found.octavesOutside).toBeCloseTo(1, 1);
    expect(found.outside.map(({ worstDb }) => worstDb)).toEqual([expect.closeTo(-4, 9), expect.closeTo(4, 9)]);
    expect(Math.log2(found.outside[0]!.to)).toBeCloseTo(0.5, 1);
    expect(Math.log2(found.outside[1]!.from)).toBeCloseTo(3.5, 1);
    expect(found.outside[1]!.worstFrequency).toBeCloseTo(16, 9);
    expect(Math.abs(found.worstDb)).toBeCloseTo(4, 9);
  });

  it("that jumps from too loud to too quiet is two stretches, and a steady one a single one over all", () => {
    expect(againstCorridor((x) => (x < octaves(1) ? 5 : -6), 0, octaves(2), 3).outside.map(({ worstDb }) => worstDb)).toEqual([5, -6]);
    const whole = againstCorridor(() => 5, 0, octaves(2), 3);
    expect(whole.octavesOutside).toBeCloseTo(2, 9);
    expect(whole.outside).toEqual([{ from: 1, to: expect.closeTo(4, 9) as number, worstDb: 5, worstFrequency: 1 }]);
  });

  it("on its edge is inside, and nothing outside leaves the largest all the same", () => {
    const edge = againstCorridor((x) => (Math.abs(x - octaves(1)) < 1e-9 ? -3 : 0), 0, octaves(2), 3);
    expect(edge).toMatchObject({ worstDb: -3, octavesOutside: 0, outside: [] });
    expect(edge.worstFrequency).toBeCloseTo(2, 9);
  });

  it("has a hill with its top inside a stretch: largest with sign, where it is", () => {
    const hill = againstCorridor((x) => 6 * Math.exp(-(((x - octaves(1)) / 0.3) ** 2)), 0, octaves(2), 3);
    expect(hill.outside).toHaveLength(1);
    expect(hill.outside[0]!.worstFrequency).toBeCloseTo(2, 9);
    expect(hill.outside[0]!.worstDb).toBeCloseTo(6, 9);
    // 6·exp(−(x/0.3)²) > 3 within ±0.3·√ln 2: 0.3·2·0.8326/ln 2 = 0.7207 octaves.
    expect(hill.octavesOutside).toBeCloseTo(0.7207, 1);
  });
});

describe("bands that are judged", () => {
  const over = (from: number, to: number): FrequencyResponse => frequencyResponse([from, Math.sqrt(from * to), to], [1, 1, 1], [0, 0, 0]);
  const places = [{}, { azimuth: 30 }];

  it("are those of the axis where it is named, each place's own part of it", () => {
    const { band: whole, ofPlace } = judgedBands(goal({ band, places }), [over(100, 20_000), over(1000, 5000)]);
    expect(whole).toEqual(band);
    expect(ofPlace).toEqual([band, { from: 1000, to: 5000 }]);
    // Without one that is stated, the axis cuts it, and no other place.
    expect(judgedBands(goal({ places }), [over(500, 8000), over(1000, 20_000)])).toEqual({
      band: { from: 500, to: 8000 },
      ofPlace: [
        { from: 500, to: 8000 },
        { from: 1000, to: 8000 },
      ],
    });
    // An elevation is off the axis too.
    expect(judgedBands(goal({ places: [{ elevation: 10 }, { azimuth: 30 }] }), [over(1000, 8000), over(400, 5000)]).band).toEqual({
      from: 400,
      to: 8000,
    });
  });

  it("end at a measured frequency as printed, and are refused a thousandth beyond it", () => {
    const at = (low: number, high: number) => bandOf(goal({ band }), [over(low, high)]);
    expect(at(300.2, 9995)).toEqual({ from: 300.2, to: 9995 });
    expect(() => at(300.4, 20_000)).toThrowError(expect.objectContaining({ code: "outside-band" }));
    expect(() => at(100, 9985)).toThrowError(expect.objectContaining({ code: "outside-band" }));
    // A point at 0 Hz lies nowhere on the axis: the next one is the first.
    const zero = frequencyResponse([0, 250, 20_000], [1, 1, 1], [0, 0, 0]);
    expect(bandOf(goal({ band }), [zero])).toEqual(band);
    expect(() => bandOf(goal({ band }), [frequencyResponse([0, 350, 20_000], [1, 1, 1], [0, 0, 0])])).toThrow(/350 Hz/);
  });

  it("hold a third of an octave at least where none is stated", () => {
    expect(() => bandOf(goal(), [over(8000, 20_000)])).toThrowError(expect.objectContaining({ code: "band-too-narrow" }));
    expect(bandOf(goal(), [over(7900, 20_000)]).from).toBe(7900);
  });

  it("are those of the stated frequencies, at every place", () => {
    const stated = goal({ frequencies: [400, 800, 1600], places });
    expect(judgedBands(stated, [over(400, 1600), over(400, 1600)])).toEqual({
      band: { from: 400, to: 1600 },
      ofPlace: [
        { from: 400, to: 1600 },
        { from: 400, to: 1600 },
      ],
    });
  });

  it("of a place may be a third of an octave, and not less; a goal that is narrower itself asks for no more than it has", () => {
    const third = 1000 * 2 ** (1 / 3);
    expect(judgedBands(goal({ band, places }), [over(100, 20_000), over(1000, third)]).ofPlace[1]!.to).toBeCloseTo(third, 9);
    expect(() => judgedBands(goal({ band, places }), [over(100, 20_000), over(1000, third * 0.99)])).toThrow(/azimuth 30°/);
    expect(judgedBands(goal({ band: { from: 1000, to: 1100 }, places }), [over(100, 20_000), over(900, 1200)]).ofPlace[1]).toEqual({
      from: 1000,
      to: 1100,
    });
  });
});

describe("what is heard with a partner", () => {
  const grid = [100, 200, 400, 800, 1600];
  const sum = frequencyResponse(grid, [1, 2, 3, 4, 5], [0, 0, 0, 0, 1]);
  const partner = (from: number, count: number) =>
    goal({
      partner: {
        pressures: [
          {
            azimuth: 0,
            elevation: 0,
            response: frequencyResponse(
              grid.slice(from, from + count),
              grid.slice(from, from + count).map(() => 10),
              grid.slice(from, from + count).map(() => 0),
            ),
          },
        ],
      },
    });
  const axis = { azimuth: 0, elevation: 0 };

  it("is the sum over what both cover", () => {
    const heard = heardWithPartner(partner(1, 3), axis, sum);
    expect([...heard.frequencies]).toEqual([200, 400, 800]);
    expect([...heard.re]).toEqual([12, 13, 14]);
    expect([...heardWithPartner(partner(0, 5), axis, sum).re]).toEqual([11, 12, 13, 14, 15]);
    expect([...withPartner(partner(0, 5), axis, sum).im]).toEqual([0, 0, 0, 0, 1]);
    expect([...heardWithPartner(partner(3, 2), axis, sum).re]).toEqual([14, 15]);
    expect([...heardWithPartner(partner(0, 2), axis, sum).re]).toEqual([11, 12]);
  });

  it("is the loudspeaker alone without one, and refused where the goal's place isn't known of it", () => {
    expect(heardWithPartner(aim, axis, sum)).toBe(sum);
    expect(heardWithPartner(goal({ partner: { highPass: highPass(linkwitzRiley(2), 80) } }), axis, sum)).toBe(sum);
    for (const where of [
      { azimuth: 20, elevation: 0 },
      { azimuth: 0, elevation: 20 },
      { azimuth: 0.02, elevation: 0 },
    ])
      expect(() => heardWithPartner(partner(0, 5), where, sum)).toThrowError(expect.objectContaining({ code: "not-measured" }));
    expect([...heardWithPartner(partner(0, 5), { azimuth: 0.005, elevation: -0.005 }, sum).re]).toHaveLength(5);
  });

  it("is refused where they share less than two frequencies", () => {
    const low = goal({ partner: { pressures: [{ ...axis, response: frequencyResponse([20, 100], [1, 1], [0, 0]) }] } });
    expect(() => heardWithPartner(low, axis, sum)).toThrowError(expect.objectContaining({ code: "outside-band" }));
    const beyond = goal({ partner: { pressures: [{ ...axis, response: frequencyResponse([1700, 2000], [1, 1], [0, 0]) }] } });
    expect(() => heardWithPartner(beyond, axis, sum)).toThrowError(expect.objectContaining({ code: "outside-band" }));
  });
});

describe("the shape of a target", () => {
  it("is its slope through 1 kHz, the place's own before the goal's, with its curve held beyond its ends", () => {
    const made = goal({ band, slopeDbPerOctave: -1, curve: { frequencies: [500, 2000], levelDb: [2, 4] } });
    const shape = shapeOf(made, {});
    expect(shape(1000)).toBeCloseTo(3, 9);
    expect(shape(500)).toBeCloseTo(1 + 2, 9);
    expect(shape(250)).toBeCloseTo(2 + 2, 9);
    expect(shape(2000)).toBeCloseTo(-1 + 4, 9);
    expect(shape(8000)).toBeCloseTo(-3 + 4, 9);
    expect(shapeOf(made, { slopeDbPerOctave: 2 })(4000)).toBeCloseTo(4 + 4, 9);
    expect(shapeOf(aim, {})(4000)).toBe(0);
  });

  it("carries a high-pass: −6.02 dB at a Linkwitz–Riley corner, and no −∞ far below", () => {
    const shape = shapeOf(goal({ band, partner: { highPass: highPass(linkwitzRiley(2), 500) } }), {});
    expect(shape(500)).toBeCloseTo(-6.0206, 4);
    // x²/(1 + x²) at x = 100.
    expect(shape(50_000)).toBeCloseTo(-20 * Math.log10(1.0001), 9);
    expect(shape(1e-30)).toBe(-400);
  });
});

describe("an integral over log frequency", () => {
  it("is exact for a polynomial of the fifth degree, and between bends of one that has any", () => {
    expect(integralBetween(0, 2, [], (x) => x ** 5)).toBeCloseTo(2 ** 6 / 6, 9);
    expect(integralBetween(-1, 3, [1], (x) => Math.abs(x - 1))).toBeCloseTo(4, 12);
    // Bends outside, and on the ends, change nothing.
    expect(integralBetween(-1, 3, [-5, -1, 1, 3, 9], (x) => Math.abs(x - 1))).toBeCloseTo(4, 12);
    expect(integralBetween(1, 1, [], () => 7)).toBe(0);
  });

  it("has the third-octave power of a line p² ∝ f^n: sinh(a)/a above it, a = n·ln2/6, and half a window at the ends", () => {
    const grid = Float64Array.from({ length: 121 }, (_, i) => 100 * 2 ** (i / 24));
    const power = (n: number) =>
      frequencyResponse(
        grid,
        grid.map((f) => (f / 1000) ** (n / 2)),
        grid.map(() => 0),
      );
    for (const n of [-4, 1, 3]) {
      const thirds = thirdOctaves(power(n));
      const a = (n * Math.LN2) / 6;
      expect(thirds.levelDb(Math.log(800))).toBeCloseTo(10 * n * Math.log10(0.8) + 10 * Math.log10(Math.sinh(a) / a), 3);
      // At the first sample the window reaches upwards alone: the mean of e^(n x) from 0 to ln2/6.
      const half = Math.LN2 / 6;
      expect(thirds.levelDb(Math.log(100))).toBeCloseTo(-10 * n + 10 * Math.log10((Math.exp(n * half) - 1) / (n * half)), 3);
      expect([thirds.from, thirds.to]).toEqual([Math.log(100), Math.log(grid.at(-1)!)]);
      expect(thirds.bends.length).toBe(242);
      expect([...thirds.bends].sort((x, y) => x - y)).toEqual(thirds.bends);
    }
  });

  it("takes silence for −400 dB, and a point at 0 Hz for none", () => {
    const silent = thirdOctaves(frequencyResponse([100, 200, 400], [0, 0, 0], [0, 0, 0]));
    expect(silent.levelDb(Math.log(200))).toBe(-400);
    const zero = thirdOctaves(frequencyResponse([0, 100, 200, 400], [9, 1, 1, 1], [0, 0, 0, 0]));
    expect(zero.from).toBe(Math.log(100));
    expect(zero.levelDb(Math.log(200))).toBeCloseTo(0, 9);
  });
});

describe("a driver that is to be spared", () => {
  it("has its passband in the octave of the band in which its mean square is highest", () => {
    const grid = passbandGrid({ from: 500, to: 8000 });
    expect(grid.length).toBe(49);
    expect([grid[0], grid.at(-1)]).toEqual([500, expect.closeTo(8000, 9)]);
    // 2 V/V over the upper two octaves, 1 V/V below: against 0.5 V/V at the resonance 12.04 dB.
    const volts = grid.map((f) => (f < 2000 ? 1 : 2));
    expect(spareDb(grid, volts, 0.5)).toBeCloseTo(20 * Math.log10(4), 9);
    // A peak on one point of the octave: trapezia give it a twelfth.
    const peaked = grid.map((f) => (Math.abs(f / 2000 - 1) < 0.01 ? 3 : 1));
    expect(spareDb(grid, peaked, 1)).toBeCloseTo(10 * Math.log10((11 + 9) / 12), 9);
    expect(
      spareDb(
        grid,
        grid.map(() => 0),
        0.5,
      ),
    ).toBe(400);
    expect(
      spareDb(
        grid,
        grid.map(() => 1),
        0,
      ),
    ).toBe(400);
  });

  it("in a band below an octave has it as a whole; a single tone is a passband too", () => {
    const grid = passbandGrid({ from: 1000, to: 1500 });
    expect(
      spareDb(
        grid,
        grid.map(() => 2),
        1,
      ),
    ).toBeCloseTo(20 * Math.log10(2), 9);
    expect([...passbandGrid({ from: 1000, to: 1000 })]).toEqual([1000]);
    expect(spareDb(Float64Array.of(1000), [2], 1)).toBeCloseTo(20 * Math.log10(2), 9);
  });

  it("is looked at over a third of an octave around its resonance, as far as it is known", () => {
    const around = aroundResonance(1000, { from: 20, to: 20_000 });
    expect([around[0], around.at(-1)]).toEqual([expect.closeTo(1000 * 2 ** (-1 / 6), 9), expect.closeTo(1000 * 2 ** (1 / 6), 9)]);
    expect(aroundResonance(1000, { from: 1000, to: 20_000 })[0]).toBe(1000);
    expect([...aroundResonance(1000, { from: 1000, to: 1000 })]).toEqual([1000]);
    // The root mean square counts where it is 3 dB more: √2 = 3.01 dB.
    expect(notchFilled(1, [1.41, 1.41])).toBe(1);
    expect(notchFilled(1, [1, Math.sqrt(3.1)])).toBeCloseTo(Math.sqrt(2.05), 9);
    expect(notchFilled(0, [0, 0])).toBe(0);
  });

  it("has its resonance at its stated fs, or at the peak of what was measured, or shows none", () => {
    const of = (part: unknown) => resonanceOf({ d: [part, "in", "gnd"] } as unknown as Entries, "d");
    expect(of(resistor(8))).toBeUndefined();
    expect(of(capacitor(1e-6))).toBeUndefined();
    expect(of(driverImpedance({ re: 5, fs: 900, qms: 2, qes: 1 }))).toBe(900);
    const shaped = (at: (f: number) => number) => {
      const grid = Float64Array.from({ length: 200 }, (_, i) => 50 * 2 ** (i / 24));
      return of(
        driverImpedance(
          frequencyResponse(
            grid,
            grid.map(at),
            grid.map(() => 0),
          ) as never,
        ),
      );
    };
    const hill = (f: number, at: number) => Math.exp(-((Math.log2(f / at) / 0.3) ** 2));
    expect(shaped((f) => 6 + 10 * hill(f, 800))! / 800).toBeCloseTo(1, 1);
    // A tenth above what surrounds it makes a peak, less doesn't; of two the higher is taken; above 5 kHz none.
    expect(shaped((f) => 6 + 0.5 * hill(f, 800))).toBeUndefined();
    expect(shaped((f) => 6 + 0.7 * hill(f, 800))! / 800).toBeCloseTo(1, 1);
    expect(shaped((f) => 6 + 4 * hill(f, 300) + 9 * hill(f, 1500))! / 1500).toBeCloseTo(1, 1);
    expect(shaped((f) => 6 + 9 * hill(f, 300) + 4 * hill(f, 1500))! / 300).toBeCloseTo(1, 1);
    expect(shaped((f) => 6 + 9 * hill(f, 7000))).toBeUndefined();
    expect(shaped((f) => 4 + f / 1000)).toBeUndefined();
  });
});

describe("the loss of pressures made by hand", () => {
  const level = (db: number) => 20e-6 * 10 ** (db / 20);
  const heard = (levels: readonly number[]): FrequencyResponse =>
    frequencyResponse(
      levels.map((_, i) => 500 * 2 ** i),
      levels.map(level),
      levels.map(() => 0),
    );
  const at = (levels: readonly number[], more: object = {}) =>
    lossAt(goal({ frequencies: levels.map((_, i) => 500 * 2 ** i), ...more }), 1, [heard(levels)]);

  it("at stated frequencies has the largest deviation with its sign and place, and the share outside of all octaves", () => {
    // Mean 90, deviations −4, 1, 3.5, −0.5; two of four beyond 3 dB, of three octaves.
    const { places, levelDb: free, lossDb } = at([86, 91, 93.5, 89.5]);
    expect(free).toBeCloseTo(90, 9);
    expect(lossDb).toBeCloseTo(Math.sqrt((16 + 1 + 12.25 + 0.25) / 4), 9);
    expect(places[0]).toMatchObject({
      worstDb: expect.closeTo(-4, 9) as number,
      worstFrequency: 500,
      octavesOutside: expect.closeTo(1.5, 9) as number,
    });
    expect(at([90, 90, 90]).places[0]).toMatchObject({ worstDb: expect.closeTo(0, 9) as number, octavesOutside: 0 });
    // A slope of −1 dB an octave about 1 kHz is taken out before.
    expect(at([91, 90, 89], { slopeDbPerOctave: -1 }).lossDb).toBeCloseTo(0, 9);
    expect(at([91, 90, 89], { slopeDbPerOctave: 1 }).places[0]!.worstDb).toBeCloseTo(2, 9);
  });

  it("has no free level where every place has its own, and the places' own weigh where others are free", () => {
    const two = (places: object[]) => lossAt(goal({ frequencies: [500, 1000], places } as never), 1, [heard([90, 90]), heard([80, 80])]);
    const own = two([{ levelDb: 89 }, { azimuth: 20, levelDb: 82 }]);
    expect(own.levelDb).toBe(89);
    expect(own.lossDb).toBeCloseTo(Math.sqrt((1 + 4) / 2), 9);
    expect(two([{}, { azimuth: 20, levelDb: 80, weight: 3 }])).toMatchObject({
      levelDb: expect.closeTo(90, 9) as number,
      lossDb: expect.closeTo(0, 9) as number,
    });
  });

  it("over a band has its largest deviation from the target where it is, within the band", () => {
    const grid = Float64Array.from({ length: 97 }, (_, i) => 500 * 2 ** (i / 24));
    const line = frequencyResponse(
      grid,
      grid.map((f) => level(90 + 2 * Math.log2(f / 2000))),
      grid.map(() => 0),
    );
    const found = lossAt(goal({ band: { from: 1000, to: 4000 }, levelDb: 89, corridorDb: 1 }), 1, [line]).places[0]!;
    // At 1 kHz the line lies 1 dB below the target of 89 dB, at 4 kHz 3 dB above it.
    expect(found.worstDb).toBeCloseTo(3, 1);
    expect(found.worstFrequency).toBeCloseTo(4000, 6);
    // Above 1 dB from 2 kHz on.
    expect(found.octavesOutside).toBeCloseTo(1, 1);
  });

  it("is judged at the nearest distance that all drivers share on the axis, unless one is stated", () => {
    const on = (...distances: number[]) => ({ pressures: distances.map((distance) => ({ distance, azimuth: 0, elevation: 0 })) });
    const box = (...drivers: object[]) => ({ drivers }) as never;
    expect(distanceOf("test", box(on(2, 1), on(1.0005, 2)), aim)).toBe(1);
    expect(distanceOf("test", box(on(1, 2), on(2, 3)), aim)).toBe(2);
    expect(distanceOf("test", box(on(1)), goal({ distance: 3 }))).toBe(3);
    expect(() => distanceOf("test", box(on(1), on(1.002)), aim)).toThrowError(expect.objectContaining({ code: "not-measured" }));
    const off = {
      pressures: [
        { distance: 0.5, azimuth: 20, elevation: 0 },
        { distance: 0.5, azimuth: 0, elevation: 5 },
        { distance: 1, azimuth: 0, elevation: 0 },
      ],
    };
    expect(distanceOf("test", box(off), aim)).toBe(1);
  });
});

describe("planes, spared drivers and suspects in words", () => {
  it("put every direction into one plane, the larger angle's, and behind what is beyond 90°", () => {
    const plane = (azimuth: number, elevation: number) =>
      PLANES.filter(([, within]) => within({ azimuth, elevation })).map(([topic]) => topic);
    for (const [azimuth, elevation, topic] of [
      [20, 0, "to the sides"],
      [-20, 10, "to the sides"],
      [20, 20, "to the sides"],
      [90, 0, "to the sides"],
      [-90, 80, "to the sides"],
      [0, -10, "up and down"],
      [10, 20, "up and down"],
      [91, 0, "behind"],
      [-135, 60, "behind"],
      [180, 0, "behind"],
    ] as const)
      expect(plane(azimuth, elevation), `${azimuth} ${elevation}`).toEqual([`off the axis, ${topic}`]);
  });

  it("spare tweeters by 12 dB and whom the goal names, within what is known of the impedances", () => {
    const dome = driverImpedance({ re: 5, fs: 900, qms: 2, qes: 1 });
    const low = driverImpedance({ re: 5, fs: 10, qms: 2, qes: 1 });
    const box = {
      network: { w: [dome, "in", "gnd"], t: [dome, "in", "gnd"], s: [low, "in", "gnd"] },
      drivers: [
        { name: "woofer", part: "w", role: "woofer" },
        { name: "tweeter", part: "t", role: "tweeter" },
        { name: "super", part: "s", role: "tweeter" },
      ],
    } as never;
    const spares = (options: object) =>
      sparesOf(box, goal(options)).map(({ driver, limitDb, stated, resonance }) => [driver, limitDb, stated, resonance]);
    expect(spares({})).toEqual([
      ["tweeter", 12, false, 900],
      ["super", 12, false, undefined],
    ]);
    expect(spares({ limits: "stated" })).toEqual([]);
    expect(spares({ limits: "stated", drivers: { woofer: 6, tweeter: "not spared" } })).toEqual([["woofer", 6, true, 900]]);
    expect(spares({ drivers: { tweeter: 0, super: "not spared" } })).toEqual([["tweeter", 0, true, 900]]);
  });

  it("name a suspect with its value in its unit, to three digits, and three at most that can't be told apart", () => {
    const said = (suspect: object) => suspectText({ parts: ["C1"], misfit: 0, ...suspect } as never);
    expect(said({ fault: "open" })).toBe("C1 open");
    expect(said({ fault: "short" })).toBe("C1 shorted");
    expect(said({ fault: "short", value: 2.2222 })).toBe("C1 shorted by 2.22 Ω");
    expect(said({ fault: "value", value: 21.987e-6, unit: "F" })).toBe("C1 is 22 µF");
    expect(said({ fault: "loss", value: 1.5 })).toBe("C1 with 1.5 Ω in series");
    expect(said({ fault: "loss", value: 1.4, capacitance: 3.9e-6 })).toBe("C1 of 3.9 µF with 1.4 Ω in series");
    expect(said({ fault: "exchanged", parts: ["C1", "C2"] })).toBe("C1 and C2 exchanged");
    expect(said({ fault: "moved", to: "w" })).toBe("a wire of C1 at w");
    expect(said({ fault: "moved" })).toBe("a wire of C1 at another node");
    const alike = ["R1", "R2", "R3", "R4"].map((part) => ({ parts: [part], fault: "open" }));
    expect(said({ fault: "open", alike })).toBe("C1 open (or, not to be told apart: R1 open, R2 open, R3 open)");
    for (const wrong of [
      { fault: "value", value: NaN },
      { fault: "value", value: Infinity },
      { fault: "open", parts: [3] },
      { fault: "eaten" },
      { fault: "open", unit: "V" },
    ])
      expect(() => said(wrong), JSON.stringify(wrong)).toThrowError(expect.objectContaining({ name: "DividingNetworkError" }));
  });

  it("say where the level outside the judged band is highest, with its direction off the axis, and three suspects at most", () => {
    const hump = (azimuth: number, elevation: number, limitDb?: number) => ({
      outsideBand: { aboveDb: 1, frequency: 80, azimuth, elevation, ...(limitDb === undefined ? {} : { limitDb }) } as never,
    });
    const words = (azimuth: number, elevation: number) =>
      of(hump(azimuth, elevation), hump(azimuth, elevation), "outside the judged band").sentence;
    expect(words(0, 0)).toBe(
      "Outside the judged band the level is highest at 80 Hz, +1.0 dB from the target, before, and at 80 Hz, +1.0 dB, after",
    );
    expect(words(20, 0)).toContain("80 Hz, azimuth +20°, elevation 0°");
    expect(words(0, -5)).toContain("80 Hz, azimuth 0°, elevation −5°");
    expect(of(hump(0, 0, 3), hump(0, 0, 3), "outside the judged band").limit).toBe("at most +3.0 dB");
    expect(of(hump(0, 0), hump(0, 0), "outside the judged band").limit).toBe("");
    const suspected = (list: readonly object[]) =>
      judgement(topicsOf(quality(), quality(), aim), [], { ...checked, state: "refuted" }, list as never).sentence;
    expect(suspected([])).toBe("There is no verdict. The model fits.");
    const parts = ["A", "B", "C", "D"].map((part) => ({ parts: [part], fault: "open", misfit: 0, explains: true }));
    expect(suspected(parts)).toBe("There is no verdict. The model fits. First suspects: A open; B open; C open.");
  });

  it("count a load below the limit as it is, from either side, whatever it is bought with", () => {
    const ohms = (minimum: number, levelDb: number) => ({ load: { minimum, limit: 4, peakDissipation: minimum }, levelDb });
    expect(of(ohms(3.9, 90), ohms(5, 85), "load").change).toBe("better");
    expect(of(ohms(5, 85), ohms(3.9, 90), "load").change).toBe("worse");
    // One that is borne against one that isn't, however little lies between; two that aren't, or are, by half a dB.
    expect(of(ohms(3.99, 90), ohms(4.01, 90), "load").change).toBe("better");
    expect(of(ohms(4, 90), ohms(3.99, 90), "load").change).toBe("worse");
    expect(of(ohms(3.9, 90), ohms(3.99, 90), "load").change).toBe("unchanged");
    expect(of(ohms(4.01, 90), ohms(4.1, 90), "load").change).toBe("unchanged");
    // On the limit it is borne.
    expect(of(ohms(4, 90), ohms(5, 85), "load").change).toBe("unchanged");
    const topics = topicsOf(
      quality({ places: [place(0, 10, 1), place(20, 0, 5)] }),
      quality({ places: [place(0, 10, 2), place(20, 0, 4)] }),
      aim,
    );
    expect(topics.slice(1, 3).map(({ change }) => change)).toEqual(["better", "worse"]);
  });
});

describe("small differences that matter", () => {
  it("a free level is the weighted mean, and the highest deviation isn't the largest", () => {
    const of = (db: readonly number[]) =>
      frequencyResponse(
        [500, 1000, 2000],
        db.map((each) => 20e-6 * 10 ** (each / 20)),
        [0, 0, 0],
      );
    const stated = { frequencies: [500, 1000, 2000] };
    const { levelDb: free } = lossAt(goal({ ...stated, places: [{ weight: 3 }, { azimuth: 20 }] }), 1, [
      of([90, 90, 90]),
      of([80, 80, 80]),
    ]);
    expect(free).toBeCloseTo((3 * 90 + 80) / 4, 9);
    const [found] = lossAt(goal({ ...stated, levelDb: 90, corridorDb: 1 }), 1, [of([91.5, 84, 92])]).places;
    expect(found).toMatchObject({
      worstDb: expect.closeTo(-6, 9) as number,
      worstFrequency: 1000,
      highestDb: expect.closeTo(2, 9) as number,
    });
    expect(lossAt(goal({ ...stated, levelDb: 90 }), 1, [of([92, 91, 84])]).places[0]!.worstFrequency).toBe(2000);
    expect(lossAt(goal({ ...stated, levelDb: 90 }), 1, [of([84, 91, 92])]).places[0]!.worstFrequency).toBe(500);
  });

  it("a partner's pressure is that of the very place, of several, with their signs", () => {
    const grid = [100, 200, 400];
    const flat = (by: number) => frequencyResponse(grid, [by, by, by], [0, 0, 0]);
    const places = [
      [20, 0, 1],
      [-20, 0, 2],
      [20, 10, 3],
      [20, -10, 4],
      [0, 0, 5],
    ] as const;
    const made = goal({ partner: { pressures: places.map(([azimuth, elevation, by]) => ({ azimuth, elevation, response: flat(by) })) } });
    for (const [azimuth, elevation, by] of places) {
      expect(heardWithPartner(made, { azimuth, elevation }, flat(10)).re[1]).toBe(10 + by);
      expect(withPartner(made, { azimuth, elevation }, flat(10)).re[1]).toBe(10 + by);
    }
    // The one that is asked for is the one whose band counts.
    const uneven = goal({
      partner: {
        pressures: [
          { azimuth: 30, elevation: 0, response: frequencyResponse([100, 200], [1, 1], [0, 0]) },
          { azimuth: 30, elevation: 5, response: frequencyResponse([200, 400], [1, 1], [0, 0]) },
          { azimuth: 0, elevation: 0, response: flat(1) },
        ],
      },
    });
    expect([...heardWithPartner(uneven, { azimuth: 0, elevation: 0 }, flat(10)).frequencies]).toEqual(grid);
    expect([...heardWithPartner(uneven, { azimuth: 30, elevation: 5 }, flat(10)).frequencies]).toEqual([200, 400]);
    expect(heardWithPartner(made, { azimuth: 0, elevation: 0 }, frequencyResponse([100, 400], [1, 1], [0, 0])).frequencies).toHaveLength(2);
  });

  it("a measured resonance is a peak of its neighbours, above what follows within two octaves and what came before", () => {
    const at = (sizes: readonly number[], step = 1.5, from = 100) =>
      resonanceOf(
        {
          d: [
            driverImpedance(
              frequencyResponse(
                sizes.map((_, i) => from * step ** i),
                sizes,
                sizes.map(() => 0),
              ) as never,
            ),
            "in",
            "gnd",
          ],
        } as unknown as Entries,
        "d",
      );
    expect(at([6, 7, 10, 7, 6])).toBeCloseTo(225, 6);
    // No peak at either end, nor on a slope; of a flat top its last sample.
    expect(at([10, 7, 6, 6, 6])).toBeUndefined();
    expect(at([6, 6, 6, 7, 10])).toBeUndefined();
    expect(at([6, 8, 10, 12, 14])).toBeUndefined();
    expect(at([6, 10, 10, 6, 6])).toBeCloseTo(225, 6);
    // A dip that comes later than two octaves doesn't make a peak of a shoulder.
    expect(at([6, 10, 9.5, 9.4, 9.3, 9.2, 2], 2)).toBeUndefined();
    expect(at([6, 10, 9.5, 2, 2, 2, 2], 2)).toBeCloseTo(200, 6);
    // High before and low after, or the other way round, is a slope with a bump.
    expect(at([9.5, 9.4, 10, 5, 4])).toBeUndefined();
    expect(at([2, 3, 10, 9.8, 9.9])).toBeUndefined();
    expect(at([6, 6, 10, 6, 6], 1.5, 2500)).toBeUndefined();
  });
});
