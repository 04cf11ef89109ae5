// Tests src/assessment/: axis-findings.ts, model-check.ts, one-loudspeaker.ts
// Tests src/errors/: owned.ts
import { describe, expect, it } from "vitest";
import { assess, checkModel, compare, type Comparison, type Verdict } from "dividing-network/assessment";
import { loudspeaker, predict, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { inductor, resistor } from "dividing-network/parts";
import { measure, sampled, scaled, times, turned, twoWay, twoWayBox, flat, type C } from "../support/synthetic";

const R = 8;
const good = twoWay("Linkwitz–Riley 4", R, 2000);
const spread = twoWay("Butterworth 2", R, 3500, 1200);
const box = (network: Entries): Loudspeaker => twoWayBox(network, flat, flat);
const judge = (network: Entries) => assess(box(network), { ratedImpedance: R });

/** The whole loudspeaker as it would be measured, if the prediction were wrong by this much. */
function measuredWith(network: Entries, wrong: (f: number) => C) {
  const { places, voltage } = predict(box(network));
  const { sum } = places[0]!;
  let index = -1;
  const response = sampled(
    (f) => times(((index = sum.frequencies.indexOf(f)), [sum.re[index]!, sum.im[index]!]), wrong(f)),
    sum.frequencies,
  );
  return { distance: 1, azimuth: 0, elevation: 0, response, voltage };
}
const verdictOf = ({ findings }: Comparison, code: string): Verdict => findings.find((finding) => finding.code === code)!.verdict;

describe("the check of the model", () => {
  it("is by how much the prediction misses the measured level, in dB, over all and by octave band", () => {
    const { levelDb, angleDegrees, bands, places } = checkModel(box(good), {
      pressures: [measuredWith(good, (f) => [f < 1000 ? 1.1 : 1, 0])],
    });
    const wrong = 20 * Math.log10(1.1);
    expect(places).toBe(1);
    expect(bands.find(({ centre }) => centre === 250)!.levelDb).toBeCloseTo(wrong, 9);
    expect(bands.find(({ centre }) => centre === 4000)!.levelDb).toBeCloseTo(0, 9);
    // 96 of the 193 points from 62.5 Hz to 16 kHz lie below 1 kHz.
    expect(levelDb).toBeCloseTo(wrong * Math.sqrt(96 / 193), 9);
    expect(angleDegrees).toBeGreaterThan(0);
  });

  it("sees a difference of phase as an angle, but not as one of level", () => {
    const { levelDb, angleDegrees } = checkModel(box(good), { pressures: [measuredWith(good, () => turned(1, 10))] });
    expect(levelDb).toBeCloseTo(0, 9);
    // |1 − e^(j10°)| = 2 sin 5°.
    expect(angleDegrees).toBeCloseTo((Math.atan(2 * Math.sin((5 * Math.PI) / 180)) * 180) / Math.PI, 9);
  });

  it("compares impedance as a complex number, in Ω", () => {
    const { impedance, bands, levelDb } = checkModel(box(twoWay("Butterworth 2", R, 2000, 2000, true)), {
      pressures: [],
      impedance: sampled(() => [R + 0.3, 0.4]),
    });
    // The Butterworth pair presents R: |0.3 + 0.4j| = 0.5 Ω everywhere.
    expect(impedance).toBeCloseTo(0.5, 6);
    for (const band of bands) expect(band.impedance).toBeCloseTo(0.5, 6);
    expect(levelDb).toBeUndefined();
  });

  it("takes the measurement's own voltage", () => {
    const whole = measuredWith(good, () => [1, 0]);
    const half = { ...whole, response: scaled(whole.response, 0.5), voltage: whole.voltage / 2 };
    expect(checkModel(box(good), { pressures: [half] }).levelDb).toBeCloseTo(0, 9);
  });

  it("is refused where one driver was measured and another wasn't, and takes every place that both share", () => {
    const at = (azimuth: number) => measure(() => [0.1, 0], { azimuth });
    const both = twoWayBox(good, [...flat, at(20)], [...flat, at(20)]);
    const one = twoWayBox(good, [...flat, at(20)], [...flat, at(30)]);
    const places = [0, 20].map((azimuth) => ({ ...measuredWith(good, () => [1, 0]), azimuth }));
    expect(checkModel(both, { pressures: places })).toMatchObject({ places: 2, levelDb: expect.closeTo(0, 9) as number });
    expect(() => checkModel(one, { pressures: places })).toThrowError(expect.objectContaining({ code: "not-measured" }));
  });

  it("begins at 20 Hz, and where nothing is shared compares nothing", () => {
    const wide = [measure(() => [0.1, 0], {}, [5, 10, 100, 1000, 10_000])];
    const cone = loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures: wide }] });
    const whole = (at: (f: number) => number, frequencies: readonly number[]) => ({
      distance: 1,
      azimuth: 0,
      elevation: 0,
      voltage: 1,
      response: sampled((f) => [at(f), 0], frequencies),
    });
    const low = checkModel(cone, { pressures: [whole((f) => (f < 19.9 ? 9 : 0.1), [5, 19.8, 20, 100, 1000, 10_000])] });
    expect(low.levelDb).toBeCloseTo(0, 9);
    const aside = checkModel(cone, { pressures: [whole(() => 0.1, [5, 8, 12])] });
    expect([aside.places, aside.bands]).toEqual([0, []]);
    expect(Object.keys(aside)).toEqual(["bands", "places", "measured"]);
  });

  it("holds bands in order, each with what was measured there, of an impedance with its sign", () => {
    const coil = loudspeaker({
      network: { L1: [inductor(1e-3), "in", "w"], cone: [resistor(8), "w", "gnd"] },
      drivers: [{ name: "cone", pressures: flat }],
    });
    const impedance = (sign: number) => sampled((f) => [8, sign * 2 * Math.PI * f * 1e-3], [20, 50, 100, 200, 400, 700, 1000]); // prettier-ignore
    const found = checkModel(coil, { pressures: [], impedance: impedance(1) });
    expect(found.impedance).toBeLessThan(0.05);
    expect(checkModel(coil, { pressures: [], impedance: impedance(-1) }).impedance).toBeGreaterThan(1);
    expect("levelDb" in found || "angleDegrees" in found || "levelDb" in found.bands[0]!).toBe(false);
    const { response } = predict(coil, { voltage: 1 }).places.map(({ sum }) => ({ response: sum }))[0]!;
    const whole = { distance: 1, azimuth: 0, elevation: 0, voltage: 1, response };
    const both = checkModel(coil, { pressures: [whole], impedance: impedance(1) }).bands;
    expect(both.map(({ centre }) => centre)).toEqual(Array.from({ length: 11 }, (_, i) => 1000 * 2 ** (i - 6)).filter((centre) => centre >= both[0]!.centre)); // prettier-ignore
    expect(both.map(({ levelDb, impedance: ohms }) => [levelDb === undefined, ohms === undefined])).toEqual(
      both.map(({ centre }) => [centre < 62, centre > 1000]),
    );
    expect(both.every((band) => Object.values(band).every(Number.isFinite))).toBe(true);
  });

  it("takes no place, and no voltage, that can't be", () => {
    const whole = measuredWith(good, () => [1, 0]);
    for (const [key, value] of [
      ["distance", 0],
      ["azimuth", "20"],
      ["elevation", NaN],
      ["voltage", 0],
    ] as const)
      // prettier-ignore
      expect(() => checkModel(box(good), { pressures: [{ ...whole, [key]: value }] }), key).toThrow(`measured.pressures[0].${key}`);
    const ohms = (size: number) => checkModel(box(good), { pressures: [], impedance: sampled(() => [size, 0]) }).impedance;
    expect([ohms(1e-6), ohms(1e12)].every(Number.isFinite)).toBe(true);
  });

  it("is refused where the whole was measured but a driver wasn't", () => {
    expect(() => checkModel(box(good), { pressures: [{ ...measuredWith(good, () => [1, 0]), azimuth: 20 }] })).toThrowError(
      expect.objectContaining({ code: "not-measured", message: expect.stringContaining("azimuth 20°") as unknown }),
    );
  });
});

describe("before against after", () => {
  it("calls better what is better and worse what is worse, each with its numbers and a reason", () => {
    const forth = compare(judge(spread), judge(good));
    const back = compare(judge(good), judge(spread));
    for (const code of ["smoothness", "overlap", "slope-steepness", "impedance-minimum"]) {
      expect(verdictOf(forth, code), code).toBe("better");
      expect(verdictOf(back, code), code).toBe("worse");
    }
    expect(forth.verdict.overall).toBe("better");
    expect(["worse", "not fit to be connected"]).toContain(back.verdict.overall);
    for (const finding of forth.findings) {
      expect(Number.isFinite(finding.before) && Number.isFinite(finding.after), finding.code).toBe(true);
      expect(finding.sentence, finding.code).toMatch(/^[A-Zw].*\.$/);
      if (finding.threshold !== undefined) expect(finding.threshold.reason.length, finding.code).toBeGreaterThan(10);
    }
  });

  it("calls unchanged what didn't change", () => {
    const { findings, verdict } = compare(judge(good), judge(good));
    expect(new Set(findings.map((finding) => finding.verdict))).toEqual(new Set(["unchanged", "for information"]));
    expect(verdict.overall).toBe("unchanged");
  });

  it("judges both in the region and the band of the loudspeaker after", () => {
    const { crossover, before, after } = compare(judge(spread), judge(good));
    expect(crossover).toBeCloseTo(2000, 0);
    expect(before.band).toEqual(after.band);
  });

  it("keeps thresholds apart from verdicts: better may still be not what it should be", () => {
    // Second order was meant, and is missed by both.
    const meant = (network: Parameters<typeof box>[0]) =>
      assess(box(network), { ratedImpedance: R, goal: { intentions: [{ lower: "woofer", upper: "tweeter", order: 2 }] } });
    const wide = twoWay("Butterworth 2", R, 8000, 500);
    const { findings } = compare(meant(wide), meant(spread));
    const overlap = findings.find(({ code }) => code === "overlap")!;
    expect(overlap.verdict).toBe("better");
    expect(overlap.kept).toBe(false);
    expect(overlap.sentence).toContain("but not yet what it should be");
  });

  it("is refused of two distances or bands, which are said, and of what assess didn't give", () => {
    const own = judge(good);
    const refused = (other: unknown) => expect(() => compare(own, other as never));
    expect(() => compare(own, { ...own, distance: 1.0009 } as never)).toThrow(/must be what assess gives/);
    const made = (more: object) => Object.freeze({ ...own, ...more });
    expect(() => compare(own, made({ distance: 1.0009 }))).not.toThrow();
    refused(made({ distance: 1.002 })).toThrow(/got 1 m, 8 Ω, 300 Hz to 10000 Hz and 1\.002 m, 8 Ω/);
    refused(made({ band: { ...own.band, from: 301 } })).toThrow(/and 1 m, 8 Ω, 301 Hz to 10000 Hz/);
    refused(made({ band: { ...own.band, to: 9000 } })).toThrow(/300 Hz to 9000 Hz/);
    for (const value of [undefined, null, 3, {}, Object.freeze({}), { ...own }])
      refused(value).toThrow(/compare: "after" must be what assess gives/);
    for (const key of ["quality", "prediction", "goal"]) {
      const { [key as "goal"]: _, ...less } = own;
      refused(Object.freeze(less)).toThrow(/"after" must be what assess gives/);
    }
    expect(() => compare(Object.freeze({}) as never, own)).toThrow(/compare: "before" must be/);
  });

  it("is refused where the goal names a driver or a part that neither has", () => {
    const aimed = (goal: object) => () => {
      const made = assess(box(good), { ratedImpedance: R, goal });
      return compare(made, made);
    };
    const part = (lower: string, upper: string) => ({ intentions: [{ lower, upper, order: 4 }] });
    expect(aimed({ drivers: { dome: 10 } })).toThrow(/"goal\.drivers" names "dome", which isn't there/);
    expect(aimed(part("woofer", "dome"))).toThrow(/"goal\.intentions" names "dome", which isn't there/);
    expect(aimed(part("cone", "tweeter"))).toThrow(/names "cone"/);
    expect(aimed({ drivers: { tweeter: 10 }, ...part("woofer", "tweeter") })).not.toThrow();
    expect(aimed({ drivers: { dome: 10 } })).toThrow(expect.objectContaining({ code: "unknown-part", hint: "There are woofer, tweeter" }));
  });

  it("shows rows up to the listener's angle, which lies between 0° and 180°", () => {
    const at = (azimuth: number) => measure(() => [0.1, 0], { azimuth });
    const wide = assess(twoWayBox(good, [...flat, at(40)], [...flat, at(40)]), { ratedImpedance: R });
    const rows = (listenerAngle?: number) =>
      compare(wide, wide, listenerAngle === undefined ? {} : { listenerAngle }).findings.filter(({ code }) => code === "off-axis").length;
    expect([rows(), rows(39), rows(40), rows(180)]).toEqual([0, 0, 1, 1]);
    for (const angle of [-1, 181]) expect(() => rows(angle)).toThrow(/listenerAngle/);
  });

  it("has no keys for what isn't there: a check of the model, a crossover, a loss of level", () => {
    const made = compare(judge(good), judge(good));
    expect("model" in made || "levelLoss" in made).toBe(false);
    expect("crossover" in made).toBe(true);
    const cone = loudspeaker({
      network: { cone: [resistor(8), "in", "gnd"] },
      drivers: [{ name: "cone", role: "woofer", pressures: flat }],
    });
    const single = assess(cone, { ratedImpedance: R });
    expect("crossover" in compare(single, single)).toBe(false);
    expect("model" in compare(judge(good), judge(good), { measured: { pressures: [] } })).toBe(false);
    expect("model" in compare(judge(good), judge(good), { measured: { pressures: [measuredWith(good, () => [1, 0])] } })).toBe(true);
  });

  it("says what took the level beside the loudness alone", () => {
    const padded = (ohms: number) =>
      assess(
        loudspeaker({
          network: { R1: [resistor(ohms), "in", "x"], cone: [resistor(8), "x", "gnd"] },
          drivers: [{ name: "cone", role: "woofer", pressures: flat }],
        }),
        { ratedImpedance: R },
      );
    const { levelLoss, verdict } = compare(padded(0.5), padded(9));
    for (const { topic, sentence } of verdict.topics)
      expect(sentence.endsWith(`: ${levelLoss!.sentence}`), topic).toBe(topic === "loudness");
    expect("levelLoss" in compare(padded(9), padded(9))).toBe(false);
  });

  it("is refused at two distances or two rated impedances", () => {
    expect(() => compare(judge(good), assess(box(good), { ratedImpedance: 4 }))).toThrowError(
      expect.objectContaining({ code: "invalid-argument" }),
    );
    expect(() => compare(judge(good), judge(spread), { angle: 20 } as never)).toThrowError(
      expect.objectContaining({ code: "unknown-option" }),
    );
  });
});

describe("what the model can't resolve", () => {
  // The two networks differ by some tenths of a dB; the model misses the loudspeaker as found by a ripple of 4 dB and 2 dB of level.
  const nearly = twoWay("Linkwitz–Riley 4", R, 2000, 1900);
  const wrong = (f: number): C => [10 ** ((2 + 4 * Math.sin(2 * Math.PI * 1.3 * Math.log2(f / 1000))) / 20), 0];
  const blurred = compare(judge(good), judge(nearly), { measured: { pressures: [measuredWith(good, wrong)] } });
  const sharp = compare(judge(good), judge(nearly), { measured: { pressures: [measuredWith(good, () => [1, 0])] } });

  it("cannot be decided from these data, finding by finding", () => {
    for (const code of ["smoothness", "worst-deviation"]) {
      const finding = blurred.findings.find((each) => each.code === code)!;
      expect(finding.residual, code).toBeGreaterThan(Math.abs(finding.after - finding.before));
      expect(finding.verdict, code).toBe("cannot be decided from these data");
      expect(finding.sentence, code).toContain("cannot be decided from these data");
    }
  });

  it("is by how much the same number, taken from the measurement, is another one", () => {
    const { residual } = blurred.findings.find(({ code }) => code === "sensitivity-2.83V")!;
    expect(residual).toBeGreaterThan(1.5);
    expect(sharp.findings.find(({ code }) => code === "sensitivity-2.83V")!.residual).toBeCloseTo(0, 9);
  });

  it("is decided as soon as the model is right", () => {
    for (const code of ["smoothness", "worst-deviation"]) expect(["better", "worse"], code).toContain(verdictOf(sharp, code));
  });

  it("is judged by the stated repeatability: with a wide one the same measurement explains the drawing", () => {
    const measured = { pressures: [measuredWith(good, wrong)] };
    const { trust, suspects } = compare(judge(good), judge(nearly), { measured, repeatability: { levelDb: 20 } }).verdict;
    expect([trust.state, suspects]).toEqual(["explained", []]);
    expect(sharp.verdict.suspects).toEqual([]);
  });

  it("is no verdict, when the measured loudspeaker isn't the one as drawn", () => {
    expect(blurred.verdict.trust.state).toBe("refuted");
    expect(blurred.verdict.overall).toBe("no verdict");
    expect(sharp.verdict.trust.state).toBe("explained");
  });

  it("is undecided for the smallest impedance when the impedance is missed by more than it changes", () => {
    const { residual, verdict } = compare(judge(good), judge(nearly), { measured: { impedance: sampled(() => [5, 0]) } }).findings.find(
      ({ code }) => code === "impedance-minimum",
    )!;
    expect(residual).toBeGreaterThan(2.9);
    expect(verdict).toBe("cannot be decided from these data");
  });
});
