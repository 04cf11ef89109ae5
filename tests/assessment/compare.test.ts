// Tests src/assessment/: axis-findings.ts, model-check.ts, one-loudspeaker.ts
// Tests src/errors/: owned.ts
import { describe, expect, it } from "vitest";
import { assess, checkModel, compare, type Comparison, type Verdict } from "dividing-network/assessment";
import { predict, type Loudspeaker } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { sampled, scaled, times, turned, twoWay, twoWayBox, flat, type C } from "../support/synthetic";

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
