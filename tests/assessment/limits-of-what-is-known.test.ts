// Tests src/assessment/: bass.ts, silence.ts, source-seen.ts, trust.ts
// Where a judgement begins and ends: silence at the edges of a band, what a woofer sees where little is known of it, and what trust says. Values by hand.
import { assess, compare, goal, lossOf } from "dividing-network/assessment";
import { loudspeaker, pressurePerVolt, type Loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { logGrid } from "dividing-network/numeric";
import { driverImpedance, inductor, resistor } from "dividing-network/parts";
import { frequencyResponse, type Mark } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { isSilent } from "../../src/assessment/silence";
import { dampedAt, woofersOf } from "../../src/assessment/source-seen";
import { trustOf } from "../../src/assessment/trust";
import { checkMeasuredOnce } from "../../src/loudspeaker/measured-once";
import { samePlace } from "../../src/loudspeaker/internal";
import { flat, grid, measure, over, plus, sampled, size, type C } from "../support/synthetic";

const [re, fs, qms, qes] = [5.6, 90, 4.2, 0.42];
const woofer = driverImpedance({ re, fs, qms, qes, le: "0.1 mH" });
const known = (from: number, to: number, z: (f: number) => C = () => [6, 0]) => driverImpedance(sampled(z, logGrid(from, to, 200)));
const box = (network: object, role = "woofer", pressures: readonly PressurePerVolt[] = flat): Loudspeaker =>
  loudspeaker({
    network,
    drivers: ["woofer", "tweeter"].filter((name) => name in network).map((name) => ({ name, role: name === "woofer" ? role : "midrange", pressures })),
  } as never) as unknown as Loudspeaker; // prettier-ignore
const bassOf = (of: Loudspeaker, aim: object = {}) => assess(of, { ratedImpedance: 4, goal: aim }).bass;
const plain = (own: object = woofer) => ({ R1: [resistor(0.5), "in", "w"], woofer: [own, "w", "gnd"] });

describe("silence", () => {
  const heardAt = (...at: readonly number[]) => sampled((f) => [at.includes(f) ? 0.1 : 0, 0], [100, 200, 400, 800, 1600]);
  it.each<[number, boolean]>([
    [100, true],
    [200, false],
    [400, false],
    [800, false],
    [1600, true],
  ])("of a band from 200 Hz to 800 Hz that ends on samples: sound at %d Hz alone leaves it silent: %s", (at, silent) => {
    expect(isSilent(heardAt(at), { from: 200, to: 800 })).toBe(silent);
    // Ends that differ from the samples by rounding alone.
    expect(isSilent(heardAt(at), { from: 200 * (1 - 5e-10), to: 800 * (1 + 5e-10) })).toBe(silent);
  });

  it.each<[number, boolean]>([
    [100, true],
    [200, false],
    [800, false],
    [1600, true],
  ])("of a band between samples counts the samples next to it: sound at %d Hz alone leaves it silent: %s", (at, silent) => {
    expect(isSilent(heardAt(at), { from: 250, to: 700 })).toBe(silent);
  });

  it("may lie at the ends of the data, and is what is no louder than rounding", () => {
    expect(isSilent(heardAt(1600), { from: 1000, to: 1600 })).toBe(false);
    expect(isSilent(heardAt(100), { from: 100, to: 150 })).toBe(false);
    expect(isSilent(heardAt(), { from: 100, to: 1600 })).toBe(true);
    for (const [pascal, silent] of [[1e-18, true], [1.1e-18, false]] as const) expect(isSilent(sampled(() => [pascal, 0], [100, 1000]), { from: 200, to: 800 })).toBe(silent); // prettier-ignore
  });

  it("at one of two places is no silence, and at both is told of both", () => {
    const aside = (gain: number, azimuth: number) => measure(() => [gain, 0], { azimuth });
    const places = [{}, { azimuth: 30 }];
    const at = (one: number, other: number) => lossOf(box(plain(), "woofer", [aside(one, 0), aside(other, 30)]), { places });
    expect(at(0.1, 0).lossDb).toBeGreaterThan(100);
    expect(at(0, 0.1).lossDb).toBeGreaterThan(100);
    expect(() => at(0, 0)).toThrow(/elevation 0°, nor at any other of the goal's places, from/);
    expect(() => lossOf(box(plain(), "woofer", [aside(0, 0)]), {})).toThrow(/elevation 0°, from/);
  });
});

describe("where what a woofer sees is looked at", () => {
  const at = (network: object, anyway: boolean) => dampedAt(network as Entries, "woofer", anyway);
  const model = (own: number) => driverImpedance({ re, fs: own, qms, qes });
  it("is its resonance, up to 300 Hz and to the ends of what is known, these included", () => {
    expect(at(plain(model(300)), false)).toStrictEqual({ frequency: 300, resonance: 300 });
    expect(at(plain(model(300.1)), true)).toBeUndefined();
    const beside = (from: number, to: number) => ({ ...plain(), tweeter: [known(from, to), "in", "gnd"] });
    for (const [from, to] of [[90, 20_000], [20, 90]] as const) expect(at(beside(from, to), false)).toStrictEqual({ frequency: 90, resonance: 90 }); // prettier-ignore
  });

  it("is, where a limit is stated, the lowest frequency that is known otherwise", () => {
    const beside = (from: number, to = 20_000) => ({ ...plain(), tweeter: [known(from, to), "in", "gnd"] });
    expect(at(beside(200), true)).toStrictEqual({ frequency: 200, resonance: 90 });
    expect(at(beside(20, 80), true)).toStrictEqual({ frequency: 20, resonance: 90 });
    expect(at(beside(300), true)).toStrictEqual({ frequency: 300, resonance: 90 });
    expect(at(beside(301), true)).toBeUndefined();
    expect(at(beside(200), false)).toBeUndefined();
    expect(at(plain(resistor(6)), true)).toStrictEqual({ frequency: 20 });
    expect(at(plain(resistor(6)), false)).toBeUndefined();
    // Impedances that share no frequency.
    expect(at({ ...beside(100, 150), R2: [known(200, 2000), "in", "gnd"] }, true)).toBeUndefined();
  });

  it("is asked of woofers and full-range drivers, and of whatever shares their part", () => {
    expect(bassOf(box(plain(), "full-range"))).toHaveLength(1);
    expect(bassOf(box(plain(), "midrange"))).toEqual([]);
    const both = loudspeaker({
      network: plain(),
      drivers: (["midrange", "woofer"] as const).map((role) => ({ name: role, part: "woofer", role, pressures: flat })),
    } as never) as unknown as Loudspeaker;
    expect(woofersOf(both)).toEqual([{ part: "woofer", parts: ["woofer"] }]);
  });
});

describe("a row of the bass", () => {
  const marked = (mark: Mark) => {
    const { frequencies, re: x, im: y } = sampled(() => [0.1, 0], grid);
    return [pressurePerVolt({ response: frequencyResponse(frequencies, x, y, [mark]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" })]; // prettier-ignore
  };
  it.each<[string, Mark, boolean]>([
    ["coarse below 100 Hz", { kind: "coarse", to: 100, note: "a gate" }, false],
    ["coarse below 80 Hz", { kind: "coarse", to: 80, note: "a gate" }, true],
    ["coarse from 5 kHz on", { kind: "coarse", from: 5000, note: "a step" }, true],
    ["without data below 100 Hz", { kind: "no-data", to: 100, note: "a gate" }, false],
    ["coarse from where the data begin to 100 Hz", { kind: "coarse", from: 62.5, to: 100, note: "a gate" }, false],
    ["coarse everywhere", { kind: "coarse", note: "a small room" }, false],
    ["coarse between 70 and 100 Hz", { kind: "coarse", from: 70, to: 100, note: "few points" }, true],
    ["smoothed below 100 Hz", { kind: "smoothed", to: 100, note: "a third of an octave" }, true],
  ])("says whether a resonance at 90 Hz is heard: %s", (_, mark, heard) => {
    expect(bassOf(box(plain(), "woofer", marked(mark)))[0]!.heard).toBe(heard);
  });

  it("has its rise where an octave above the resonance is known, and is left out otherwise, unless a limit is stated", () => {
    const ends = (to: number) => box({ ...plain(driverImpedance({ re, fs: 250, qms, qes })), tweeter: [known(20, to), "in", "gnd"] });
    const band = { from: 100, to: 350 };
    expect(bassOf(ends(520), { band })[0]!.riseDb).toBeGreaterThan(0);
    expect(bassOf(ends(400), { band })).toEqual([]);
    const [row, ...more] = bassOf(ends(400), { band, damping: { largestSourceResistance: 1 } });
    expect(more).toEqual([]);
    expect(row).toMatchObject({ frequency: 250, resonance: 250 });
    expect("riseDb" in row!).toBe(false);
    expect(row!.sourceResistance).toBeCloseTo(0.5, 9);
  });

  it("reckons the rise from the least impedance, which lies inside three octaves where the coil's grows", () => {
    const [le, own] = [2e-3, 50];
    const z = (f: number): C => plus([re, 2 * Math.PI * f * le], over([(re * qms) / qes, 0], [1, qms * (f / own - own / f)]));
    const gain = (f: number) => size(over(z(f), plus(z(f), [3, 0])));
    const all = Array.from({ length: 73 }, (_, i) => own * 2 ** (i / 24));
    const least = all.reduce((best, f) => (size(z(f)) < size(z(best)) ? f : best));
    expect(least).toBeLessThan(all.at(-1)! / 1.2);
    const [row] = bassOf(box({ R1: [resistor(3), "in", "w"], woofer: [driverImpedance({ re, fs: own, qms, qes, le }), "w", "gnd"] }));
    expect(row!.riseDb).toBeCloseTo(20 * Math.log10(gain(own) / gain(least)), 9);
  });

  it("holds the source's own impedance, and is left out where the driver hangs on nothing", () => {
    const weak = { ...box(plain()), sourceImpedance: 2 } as unknown as Loudspeaker;
    const z = (f: number): C => plus([re, 2 * Math.PI * f * 1e-4], over([(re * qms) / qes, 0], [1, qms * (f / fs - fs / f)]));
    const gain = (f: number) => size(over(z(f), plus(z(f), [2.5, 0])));
    const least = Array.from({ length: 73 }, (_, i) => fs * 2 ** (i / 24)).reduce((best, f) => (size(z(f)) < size(z(best)) ? f : best));
    expect(bassOf(weak)[0]!.riseDb).toBeCloseTo(20 * Math.log10(gain(fs) / gain(least)), 9);
    expect(bassOf(weak)[0]!.sourceResistance).toBeCloseTo(2.5, 9);
    expect(bassOf(box({ woofer: [woofer, "w", "gnd"], tweeter: [resistor(8), "in", "gnd"] }))).toEqual([]);
  });

  it("tells a Q of one peak below 300 Hz, whatever a second one above does, and none where there are two", () => {
    const motional = (f: number, own: number, q: number, peak: number): C => over([peak, 0], [1, q * (f / own - own / f)]);
    const measured = (second: number, peak: number) =>
      box(plain(known(15, 20_000, (f) => plus(plus([re, 0], motional(f, 60, qms, (re * qms) / qes)), motional(f, second, 6, peak)))));
    const alone = (qms * qes) / (qms + qes);
    for (const [second, peak] of [[1500, 20], [200, 0.3]] as const) expect(bassOf(measured(second, peak))[0]!.qAlone! / alone).toBeCloseTo(1, 1); // prettier-ignore
    expect(bassOf(measured(200, 20))[0]!.qAlone).toBeUndefined();
    expect(bassOf(measured(200, 20), { damping: { largestQ: 2 } })[0]!.q).toBeUndefined();
    expect(bassOf(measured(1500, 20), { damping: { largestQ: 2 } })[0]!.q).toBeGreaterThan(0);
  });
});

describe("trust", () => {
  const drawn = box({ woofer: [resistor(8), "in", "gnd"] });
  const whole = (gain: number) => ({ distance: 1, azimuth: 0, elevation: 0, voltage: 1, response: sampled(() => [gain, 0]) });
  const ohms = (r: number) => sampled(() => [r, 0]);
  it("isn't checked without a measurement, and says so", () => {
    const none = {
      state: "not checked",
      repeatability: { levelDb: 1, impedance: 0.03, path: 0.003 },
      sentence: "The model was not checked against a measurement of the whole loudspeaker",
    };
    expect(trustOf(drawn, undefined)).toStrictEqual(none);
    expect(trustOf(drawn, { pressures: [] })).toStrictEqual(none);
  });

  it("of an impedance alone says by how much it is missed, and what impedance can't see", () => {
    // 8 Ω drawn and 8.2 Ω measured: 0.2/8.2.
    const sentence =
      "misses its impedance by 2.4 % (may differ by 3 %); impedance alone sees no polarity of a driver, and nothing of what the drivers give";
    expect(trustOf(drawn, { pressures: [], impedance: ohms(8.2) })).toMatchObject({
      state: "explained",
      sentence: `The model was checked against the loudspeaker as measured, and ${sentence}`,
    });
    const refuted = trustOf(drawn, { pressures: [], impedance: ohms(8.2) }, { levelDb: 1, impedance: 0.02, path: 0.003 });
    expect(refuted).toMatchObject({
      state: "refuted",
      sentence: `The loudspeaker as measured is not the one as drawn: the model ${sentence.replace("3 %", "2 %")}`,
    });
    expect(refuted.impedance).toBeCloseTo(0.2 / 8.2, 9);
    expect("levelDb" in refuted).toBe(false);
  });

  it("of a level alone says by how much of the stronger branch, and of both says both", () => {
    // Drawn 0.1 Pa, measured 0.105 Pa: 8.686 dB times 0.005/0.105.
    const level = trustOf(drawn, { pressures: [whole(0.105)] });
    expect(level.levelDb).toBeCloseTo((8.685889638 * 0.005) / 0.105, 9);
    expect(level.sentence).toBe(
      "The model was checked against the loudspeaker as measured, and misses its level by 0.41 dB of the stronger branch (a repeated measurement may differ by 1 dB). Of its pressures only the level was compared, not the phase: the whole was measured without phase",
    );
    expect("impedance" in level).toBe(false);
    const both = trustOf(drawn, { pressures: [whole(0.105)], impedance: ohms(8.2) });
    expect(both.sentence).toMatch(
      /misses its level by 0\.41 dB of the stronger branch \(a repeated measurement may differ by 1 dB\), impedance by 2\.4 % \(may differ by 3 %\)\. Of its/,
    );
    expect(both.levelDb).toBeCloseTo(level.levelDb!, 9);
    expect(both.impedance).toBeCloseTo(0.2 / 8.2, 9);
  });

  it("is refuted by either", () => {
    const state = (gain: number, r: number) => trustOf(drawn, { pressures: [whole(gain)], impedance: ohms(r) }).state;
    expect([state(0.1, 8), state(0.2, 8), state(0.1, 9), state(0.2, 9)]).toEqual(["explained", "refuted", "refuted", "refuted"]);
    const judged = assess(drawn, { ratedImpedance: 8, goal: goal({}) });
    expect(compare(judged, judged, { measured: { impedance: ohms(9) } }).verdict.overall).toBe("no verdict");
  });
});

describe("one measurement, twice", () => {
  const one = measure(() => [0.1, 0]);
  const twice = (other: Partial<PressurePerVolt>) => () => checkMeasuredOnce("test", "cone", [one, { ...one, ...other }]);
  it("is the same only with the same numbers, taken the same way", () => {
    expect(twice({})).not.toThrow();
    expect(twice({ response: sampled(() => [0.1, 0]) })).not.toThrow();
    const { frequencies, re: x, im } = one.response;
    const more = frequencyResponse([...frequencies, 20_000], [...x, 0.1], [...im, 0]);
    const others: readonly Partial<PressurePerVolt>[] = [
      { timed: !one.timed },
      { rotationCentre: [0, 0.1, 0] },
      { rotationCentre: [0.1, 0.1, 0.1] },
      { response: more },
      { response: sampled((f) => [f === 1000 ? 0.2 : 0.1, 0]) },
      { response: sampled(() => [0.1, 0.01]) },
    ];
    for (const other of others) expect(twice(other)).toThrow(/got two that differ at 1 m/);
    expect(() => checkMeasuredOnce("test", "cone", [{ ...one, response: more }, one])).toThrow(/got two that differ/);
  });

  it("is at one place within a millimetre and a hundredth of a degree, the whole way round", () => {
    const at = (distance: number, azimuth: number, elevation = 0) => ({ distance, azimuth, elevation });
    for (const [a, b, same] of [
      [at(1, 0), at(1, 359.995), true],
      [at(1, 0), at(1, 359.98), false],
      [at(1, 180), at(1, -180), true],
      [at(1, 0), at(1, 720), true],
      [at(1, 0), at(1.0009, 0), true],
      [at(1, 0), at(1.0011, 0), false],
      [at(1, 0), at(1, 0, 0.009), true],
      [at(1, 0), at(1, 0, -0.011), false],
    ] as const)
      expect([samePlace(a, b), samePlace(b, a)]).toEqual([same, same]);
    for (const wrong of [
      { ...at(1, 0), distance: NaN },
      { ...at(1, 0), azimuth: undefined },
      { ...at(1, 0), elevation: "0" },
      null,
    ] as never[]) {
      expect(() => samePlace(wrong, at(1, 0))).toThrow(/samePlace: a place must be \{ distance, azimuth, elevation \}/);
      expect(() => samePlace(at(1, 0), wrong)).toThrow(expect.objectContaining({ code: "invalid-argument" }));
    }
  });
});

it("a coil before a woofer leaves the resistance that it sees to the coil's own", () => {
  expect(bassOf(box({ L1: [inductor(1e-3, { dcr: 0.35 }), "in", "w"], woofer: [woofer, "w", "gnd"] }))[0]!.sourceResistance).toBeCloseTo(
    0.35,
    9,
  );
});
