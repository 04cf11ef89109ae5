// Tests src/assessment/: compare-pair.ts
// Left against right, by constructions whose difference is known: a factor, a tilt, a mirrored baffle, one capacitor that dried out.
import { describe, expect, it } from "vitest";
import { comparePair } from "dividing-network/assessment";
import { predict } from "dividing-network/loudspeaker";
import { frequencyResponse, scaleResponse, type FrequencyResponse, type Mark } from "dividing-network/response";
import { faultyCase } from "./faulty-networks";
import { sampled, turned, type C } from "../support/synthetic";

const at = (level: (f: number) => number, azimuth = 0, voltage = 2.83) => ({
  distance: 1,
  azimuth,
  elevation: 0,
  voltage,
  response: sampled((f): C => turned(0.1 * 10 ** (level(f) / 20), -f)),
});
const pair = (left: readonly ReturnType<typeof at>[], right: readonly ReturnType<typeof at>[], options = {}) =>
  comparePair({ pressures: left }, { pressures: right }, options);
const markResponse = ({ frequencies, re, im }: FrequencyResponse, marks: readonly Mark[]) => frequencyResponse(frequencies, re, im, marks);

describe("left against right", () => {
  it("of one and the same is alike, to nothing at all", () => {
    const { places, alike, sentence } = pair([at(() => 0)], [at(() => 0)]);
    expect(places[0]).toMatchObject({ meanDb: 0, spreadDb: 0, worstDb: 0 });
    expect(alike).toBe(true);
    expect(sentence).toMatch(/^Left and right are alike/);
  });

  it("says the balance, whatever the voltages were", () => {
    const { places, alike } = pair(
      [at(() => 2)],
      [{ ...at(() => 0), voltage: 1, response: scaleResponse(at(() => 0).response, 1 / 2.83) }],
    );
    expect(places[0]!.meanDb).toBeCloseTo(2, 9);
    expect(places[0]!.spreadDb).toBeCloseTo(0, 6);
    expect(alike).toBe(false);
  });

  it("says the difference in colour: of a tilt of s dB per octave over W octaves, s W/√12", () => {
    const band = { from: 125, to: 8000 };
    const { places, sentence } = pair([at((f) => 1.5 * Math.log2(f / 1000))], [at(() => 0)], { band });
    expect(places[0]!.meanDb).toBeCloseTo(0, 2);
    expect(places[0]!.spreadDb).toBeCloseTo((1.5 * 6) / Math.sqrt(12), 3);
    expect(Math.abs(places[0]!.worstDb)).toBeCloseTo(4.5, 2);
    expect(sentence).toMatch(/are not one loudspeaker twice: at azimuth 0°.*colour by 2\.6 dB/);
  });

  it("isn't judged where either is coarse, unless that was asked for or nothing else is left: then it is said", () => {
    const coarse = (level: (f: number) => number, marks: readonly Mark[]) => {
      const whole = at(level);
      return { ...whole, response: markResponse(whole.response, marks) };
    };
    // Below 400 Hz the left one is 9 dB off: a room, not a loudspeaker.
    const room = (f: number) => (f < 400 ? 9 : 0);
    const gated = [{ kind: "coarse" as const, to: 450, note: "gate" }];
    const {
      places: [place],
      alike,
      sentence,
    } = pair([coarse(room, gated)], [at(() => 0)]);
    expect(place).toMatchObject({ band: { from: 450 }, marks: [] });
    expect(alike).toBe(true);
    expect(sentence).not.toMatch(/coarse/);
    expect(pair([at(() => 0)], [coarse(() => 0, [{ kind: "coarse", from: 5000, note: "smoothed" }])]).places[0]!.band.to).toBe(5000);
    const asked = pair([coarse(room, gated)], [at(() => 0)], { band: { from: 100, to: 5000 } });
    expect(asked.places[0]).toMatchObject({ band: { from: 100, to: 5000 }, marks: gated });
    expect(asked.alike).toBe(false);
    expect(asked.sentence).toMatch(/where the data are coarse in part of the band/);
    expect(pair([coarse(room, [{ kind: "coarse", to: 15_000, note: "gate" }])], [at(() => 0)]).places[0]!.band.from).toBeLessThan(70);
  });

  describe("is compared over what both cover", () => {
    const marked = (marks: readonly Mark[], level: (f: number) => number = () => 0) => {
      const whole = at(level);
      return { ...whole, response: markResponse(whole.response, marks) };
    };
    const bandOf = (marks: readonly Mark[], options = {}) => pair([marked(marks)], [at(() => 0)], options).places[0]!.band;
    const data = { from: 62.5, to: 16_000 };

    it("without ends that hold no data, whatever was asked for", () => {
      const ends: readonly Mark[] = [
        { kind: "no-data", to: 300, note: "gate" },
        { kind: "no-data", from: 9000, note: "microphone" },
      ];
      expect(bandOf(ends)).toEqual({ from: 300, to: 9000 });
      expect(bandOf(ends, { band: { from: 100, to: 12_000 } })).toEqual({ from: 300, to: 9000 });
      expect(pair([at(() => 0)], [marked(ends)]).places[0]!.band).toEqual({ from: 300, to: 9000 });
      expect(bandOf(ends, { band: { from: 1000, to: 4000 } })).toEqual({ from: 1000, to: 4000 });
    });

    it("an end is marked from where the data begin, or from below, as well as from nowhere", () => {
      expect(bandOf([{ kind: "no-data", from: 62.5, to: 300, note: "gate" }])).toEqual({ ...data, from: 300 });
      expect(bandOf([{ kind: "coarse", from: 20, to: 300, note: "gate" }])).toEqual({ ...data, from: 300 });
      expect(bandOf([{ kind: "no-data", from: 9000, to: 16_000, note: "end" }])).toEqual({ ...data, to: 9000 });
      expect(bandOf([{ kind: "coarse", from: 9000, to: 20_000, note: "end" }])).toEqual({ ...data, to: 9000 });
    });

    it("what is marked between the ends, or otherwise, takes nothing away", () => {
      const inner: readonly Mark[] = [
        { kind: "coarse", from: 300, to: 400, note: "few points" },
        { kind: "splice", from: 100, to: 200, note: "spliced" },
        { kind: "smoothed", to: 5000, note: "smoothed" },
      ];
      expect(bandOf(inner)).toEqual(data);
      const { marks } = pair([marked(inner)], [marked(inner)], { band: { from: 200, to: 4000 } }).places[0]!;
      expect(marks.map(({ note }) => note)).toEqual(["few points", "smoothed"]);
      expect(pair([marked(inner.slice(1))], [at(() => 0)]).sentence).not.toContain("coarse");
    });

    it("what is only coarse is left out, as long as a third of an octave remains", () => {
      expect(bandOf([{ kind: "coarse", to: 12_500, note: "gate" }])).toEqual({ ...data, from: 12_500 });
      expect(bandOf([{ kind: "coarse", to: 13_000, note: "gate" }])).toEqual(data);
      expect(() => bandOf([{ kind: "no-data", to: 13_000, note: "gate" }])).toThrowError(
        expect.objectContaining({ code: "outside-band", message: expect.stringContaining("got 1.300e+4 Hz to 1.600e+4 Hz") as unknown }),
      );
    });

    it("from the first frequency above 0 Hz on", () => {
      const whole = at(() => 0);
      const { frequencies, re, im } = whole.response;
      const impulse = frequencyResponse([0, ...frequencies], [0, ...re], [0, ...im]);
      expect(pair([{ ...whole, response: impulse }], [{ ...whole, response: impulse }]).places[0]!.band).toEqual(data);
    });
  });

  it("says where the largest difference is, at the end of the band too", () => {
    const band = { from: 125, to: 8000 };
    const [up] = pair([at((f) => Math.log2(f / 125))], [at(() => 0)], { band }).places;
    // At 8 kHz six octaves up; a third of an octave there has the power mean of 10^(x/10) over ±1/6 octave, 0.002 dB more.
    expect(up!.worstDb).toBeCloseTo(6, 2);
    expect(up!.worstFrequency).toBeCloseTo(8000, 6);
    const [bump] = pair([at((f) => 6 * Math.exp(-((Math.log2(f / 1000) / 0.5) ** 2)))], [at(() => 0)]).places;
    expect(Math.abs(Math.log2(bump!.worstFrequency / 1000))).toBeLessThan(1 / 48);
    const [dip] = pair([at(() => 0)], [at((f) => 6 * Math.exp(-((Math.log2(f / 1000) / 0.5) ** 2)))]).places;
    expect(dip!.worstDb).toBeCloseTo(-bump!.worstDb, 9);
  });

  it("takes the stated repeatability: its level, three times that at a single frequency, and its part of |Z|", () => {
    const narrow = (f: number) => (Math.abs(Math.log2(f / 1000)) < 0.1 ? -20 : 0);
    const of = (levelDb: number) => pair([at(() => 0)], [at(narrow)], { repeatability: { levelDb } });
    const { spreadDb, meanDb, worstDb } = of(1).places[0]!;
    const limit = Math.max(Math.hypot(meanDb, spreadDb), worstDb / 3);
    expect([0.99 * limit, 1.01 * limit].map((levelDb) => of(levelDb).alike)).toEqual([false, true]);
    const wide = (levelDb: number) => pair([at(() => 2)], [at(() => 0)], { repeatability: { levelDb } }).alike;
    expect([1.99, 2.01].map(wide)).toEqual([false, true]);
    const ohms = (impedance: number) =>
      comparePair({ impedance: sampled(() => [6, 0]) }, { impedance: sampled(() => [5, 0]) }, { repeatability: { impedance } }).alike;
    // 1 Ω of a mean of 5.5 Ω: 18.2 %.
    expect([0.18, 0.184].map(ohms)).toEqual([false, true]);
  });

  it("an impedance that one of them lacks isn't compared, and what isn't has no key", () => {
    const impedance = sampled((): C => [6, 0]);
    const pressures = [at(() => 0)];
    for (const [left, right] of [
      [{ pressures, impedance }, { pressures }],
      [{ pressures }, { pressures, impedance }],
    ]) {
      const found = comparePair(left!, right!);
      expect("impedance" in found).toBe(false);
      expect(found.sentence).not.toContain("impedances");
      expect(found.suspects).toEqual({ left: [], right: [] });
    }
  });

  it("says in words the place that differs most, and by how much the impedances do", () => {
    const places = (more: readonly number[]) => more.map((level, index) => at(() => level, 10 * index));
    expect(pair(places([1, -3, 2]), places([0, 0, 0])).sentence).toMatch(/: at azimuth 10°, elevation 0° the left is −3\.0 dB against/);
    const peak = (f: number): C => [Math.abs(Math.log2(f / 1000)) < 0.25 ? 6 : 4, 0];
    const { impedance, sentence } = comparePair({ impedance: sampled(peak) }, { impedance: sampled(() => [4, 0]) });
    // 2 Ω of a mean of 5 Ω, over half an octave of eight.
    expect(impedance!.worst).toBeCloseTo(0.4, 12);
    expect(impedance!.part).toBeCloseTo(0.4 * Math.sqrt(0.5 / 8), 2);
    expect(Math.abs(Math.log2(impedance!.worstFrequency / 1000))).toBeLessThanOrEqual(0.25);
    expect(sentence).toMatch(/^Left and right are not one loudspeaker twice: the impedances differ by 1\d\.\d %, most by 40 % at /);
    expect(pair(places([0]), places([0])).sentence).not.toContain("impedance");
  });

  it("looks at a mirror image's other side", () => {
    const [left, right] = [[at((f) => -f / 4000, 20)], [at((f) => -f / 4000, -20)]];
    expect(pair(left, right, { mirrored: true })).toMatchObject({ alike: true, places: [{ azimuth: 20 }] });
    expect(() => pair(left, right)).toThrowError(expect.objectContaining({ code: "not-measured" }));
  });

  it("compares impedances as complex numbers, in parts of their mean size", () => {
    const [a, b] = [sampled(() => [6, 0]), sampled(() => [6, 0.6])];
    const { impedance, alike, places } = comparePair({ impedance: a }, { impedance: b });
    expect(places).toEqual([]);
    expect(impedance!.part).toBeCloseTo(0.6 / ((6 + Math.hypot(6, 0.6)) / 2), 9);
    expect(alike).toBe(false);
    expect(comparePair({ impedance: a }, { impedance: sampled(() => [6, 0.06]) }).alike).toBe(true);
  });

  it("doesn't call alike what a narrow hole tells apart, though its root mean square is small", () => {
    const { places, alike } = pair([at(() => 0)], [at((f) => (Math.abs(Math.log2(f / 1000)) < 0.1 ? -20 : 0))]);
    expect(Math.hypot(places[0]!.meanDb, places[0]!.spreadDb)).toBeLessThan(1);
    expect(places[0]!.worstDb).toBeGreaterThan(3);
    expect(alike).toBe(false);
  });

  it("knows that 180° is −180°", () => {
    expect(pair([at(() => 0, 180)], [at(() => 0, -180)]).places).toHaveLength(1);
    expect(pair([at(() => 0, 180)], [at(() => 0, 180)], { mirrored: true }).places).toHaveLength(1);
  });

  it("refuses what holds nothing, and keeps a part of |Z| below 2", () => {
    const nothing = sampled((): C => [0, 0]);
    expect(() => pair([{ ...at(() => 0), response: nothing }], [{ ...at(() => 0), response: nothing }])).toThrowError(
      expect.objectContaining({ code: "not-measured" }),
    );
    expect(() => comparePair({ impedance: nothing }, { impedance: nothing })).toThrowError(
      expect.objectContaining({ code: "not-measured" }),
    );
    const { impedance } = comparePair({ impedance: sampled((): C => [0, 8]) }, { impedance: sampled((): C => [0, -8]) });
    expect(impedance!.worst).toBeCloseTo(2, 12);
  });

  it("by a drawing says which of the two has a fault, and what it is", () => {
    // The drawing's own response, measured twice with noise of its own, and the same with a fault.
    const broken = faultyCase(30_001)!;
    const sound = { pressures: [], impedance: undefined };
    expect(() => comparePair(sound, broken.measured)).toThrowError(expect.objectContaining({ code: "not-measured" }));
    const whole = wholeOf(broken);
    const { alike, suspects } = comparePair(whole, broken.measured, { drawing: broken.drawn });
    expect(alike).toBe(false);
    expect(suspects.left).toEqual([]);
    expect(suspects.right[0]).toMatchObject({ parts: ["C2"], fault: "loss" });
  });

  it("is refused without a common band, and with what isn't an option", () => {
    expect(() => pair([at(() => 0)], [at(() => 0)], { band: { from: 20_001, to: 30_000 } })).toThrowError(
      expect.objectContaining({ code: "outside-band" }),
    );
    expect(() => pair([at(() => 0)], [at(() => 0)], { mirrored: "yes" })).toThrowError(
      expect.objectContaining({ code: "invalid-argument" }),
    );
    expect(() => pair([at(() => 0)], [at(() => 0)], { mirror: true })).toThrowError(expect.objectContaining({ code: "unknown-option" }));
  });
});

/** What the drawing itself would measure. */
function wholeOf({ drawn }: NonNullable<ReturnType<typeof faultyCase>>) {
  const { places, sweep, voltage } = predict(drawn);
  return {
    pressures: places.map(({ distance, azimuth, elevation, sum }) => ({ distance, azimuth, elevation, response: sum, voltage })),
    impedance: sweep.impedance,
  };
}
