// Two drivers side by side, d apart, that are in phase: by computation, off the axis their sum changes by cos(π d sin θ/λ) in the
// plane that holds both, and not at all perpendicular to it; each driver's own directivity multiplies that. Far away, at 200 m, the
// paths differ by d sin θ to within d²/8r = 0.01 mm.
import { describe, expect, it } from "vitest";
import { assess, compare, offAxisChange, sideDifferences } from "dividing-network/assessment";
import { predict, pressureAtPlace } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { dB, grid, meanOverOctaves, measure, sampled, turned, twentyFourths, twoWay, twoWayBox } from "../support/synthetic";

const c = 343.2; // at 20 °C
const distance = 200;
const crossover = 2000;
const spacing = 0.55 * (c / crossover); // 0.55 λ at the crossover: below the 0.6 λ up to which the whole front keeps one lobe
/** An invented directivity, the same for both drivers: 1 on the axis, falling with angle and frequency. */
const directivity = (f: number, offAxis: number): number => 1 / (1 + (f / 6000) * (1 - Math.cos((offAxis * Math.PI) / 180)));

/** What a driver at (0, y, 0) gives at each angle: 24 points an octave would do; the flight of 200 m turns quickly, so its common part is left out. */
function driver(y: number) {
  const at = (azimuth: number, elevation: number) => {
    const [a, e] = [(azimuth * Math.PI) / 180, (elevation * Math.PI) / 180];
    const microphone = [distance * Math.cos(e) * Math.cos(a), distance * Math.cos(e) * Math.sin(a), distance * Math.sin(e)] as const;
    const path = Math.hypot(microphone[0], microphone[1] - y, microphone[2]);
    const offAxis = (Math.acos(Math.cos(e) * Math.cos(a)) * 180) / Math.PI;
    return measure((f) => turned(0.1 * directivity(f, offAxis), (-360 * f * (path - distance)) / c), { distance, azimuth, elevation });
  };
  return [...[-40, -30, -20, -10, 0, 10, 20, 30, 40].map((azimuth) => at(azimuth, 0)), ...[-20, 20].map((elevation) => at(0, elevation))];
}

const both: Entries = { woofer: [resistor(8), "in", "gnd"], tweeter: [resistor(8), "in", "gnd"] };
const together = predict(twoWayBox(both, driver(spacing / 2), driver(-spacing / 2)), { voltage: 1 });
const pair = predict(twoWayBox(twoWay("Linkwitz–Riley 4", 8, crossover), driver(spacing / 2), driver(-spacing / 2)), { voltage: 1 });
const cosine = (f: number, azimuth: number) => Math.cos((Math.PI * spacing * Math.sin((azimuth * Math.PI) / 180) * f) / c);

const at = (prediction: typeof together, azimuth: number, elevation: number) => {
  const index = grid.findIndex((f) => Math.abs(f - crossover) < 1e-6);
  const { sum } = pressureAtPlace(prediction, { distance, azimuth, elevation });
  return Math.hypot(sum.re[index]!, sum.im[index]!);
};

describe("the change off the axis", () => {
  it("at an in-phase crossover, in the plane that holds both drivers, is cos(π d sin θ/λ) times the directivity", () => {
    for (const azimuth of [-40, -30, -20, -10, 10, 20, 30, 40]) {
      expect(at(pair, azimuth, 0) / at(pair, 0, 0)).toBeCloseTo(Math.abs(cosine(crossover, azimuth)) * directivity(crossover, azimuth), 4);
    }
  });

  it("perpendicular to that plane is the directivity and nothing else", () => {
    for (const elevation of [-20, 20]) expect(at(pair, 0, elevation) / at(pair, 0, 0)).toBeCloseTo(directivity(crossover, elevation), 6);
  });

  it("is given in three octave bands, as the ratio of their power averages", () => {
    const changes = offAxisChange(together, { distance, centre: crossover });
    expect(changes).toHaveLength(10);
    for (const { azimuth, elevation, bands } of changes) {
      expect(bands.map(({ centre }) => centre)).toEqual([crossover / 2, crossover, crossover * 2]);
      for (const { centre, changeDb } of bands) {
        const offAxis = azimuth === 0 ? elevation : azimuth;
        const power = meanOverOctaves((f) => (cosine(f, azimuth) * directivity(f, offAxis)) ** 2, centre / Math.SQRT2, centre * Math.SQRT2);
        expect(changeDb, `${azimuth}°, ${elevation}°, ${centre} Hz`).toBeCloseTo(10 * Math.log10(power), 3);
      }
    }
  });

  it("is the same on both sides of an in-phase pair, and isn't when one driver leads", () => {
    for (const { differenceDb } of sideDifferences(together, { distance, centre: crossover })) expect(differenceDb).toBeCloseTo(0, 6);
    // A lead of 40° in the left driver: cos(x + 20°) against cos(x − 20°), where x = π d sin θ/λ.
    const lead = driver(spacing / 2).map((measured) => ({
      ...measured,
      response: sampled((f) => {
        const index = grid.findIndex((each) => each === f);
        const { re, im } = measured.response;
        return [
          re[index]! * Math.cos(Math.PI / 4.5) - im[index]! * Math.sin(Math.PI / 4.5),
          re[index]! * Math.sin(Math.PI / 4.5) + im[index]! * Math.cos(Math.PI / 4.5),
        ];
      }),
    }));
    const sides = sideDifferences(predict(twoWayBox(both, lead, driver(-spacing / 2)), { voltage: 1 }), { distance, centre: crossover });
    expect(sides.map(({ azimuth }) => azimuth)).toEqual([10, 20, 30, 40]);
    for (const { azimuth, differenceDb, frequency } of sides) {
      // The left driver is nearer to the left: its lead adds to what the path gives it.
      const gap = (f: number) => {
        const x = (Math.PI * spacing * Math.sin((azimuth * Math.PI) / 180) * f) / c;
        return dB(Math.abs(Math.cos(x + Math.PI / 9) / Math.cos(x - Math.PI / 9)));
      };
      expect(differenceDb, `±${azimuth}°`).toBeCloseTo(gap(frequency), 2);
      const points = twentyFourths(crossover / 2, crossover * 2);
      expect(Math.abs(differenceDb)).toBeCloseTo(Math.max(...points.map((f) => Math.abs(gap(f)))), 1);
    }
  });

  it("stands in an assessment, around the middle of the judged band, whatever the network", () => {
    const own = assess(pair.loudspeaker, { ratedImpedance: 8, goal: { distance } });
    expect(own.handovers[0]!.frequency).toBeCloseTo(crossover, 0);
    expect(own.offAxis[0]!.bands[1]!.centre).toBeCloseTo(Math.sqrt(own.band.from * own.band.to), 9);
    expect(
      assess(pair.loudspeaker, { ratedImpedance: 8, goal: { distance, band: { from: 500, to: 2000 } } }).offAxis[0]!.bands.map(
        ({ centre }) => centre,
      ),
    ).toEqual([500, 1000, 2000]);
  });

  it("is refused where the axis wasn't measured, and for a region that is none", () => {
    expect(() =>
      offAxisChange({ places: together.places.filter(({ azimuth }) => azimuth > 0) }, { distance, centre: crossover }),
    ).toThrowError(expect.objectContaining({ code: "not-measured" }));
    expect(() => offAxisChange(together, { distance, centre: 0 })).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
    expect(() => sideDifferences(together, { distance } as never)).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
  });
});

describe("the topics off the axis", () => {
  /** Two flat drivers in phase, `d` apart, at one angle: |cos(π d sin θ f/c)|, with a null where that passes zero. */
  const pairAt = (d: number, angles: readonly number[]) => {
    const placesOf = (side: 1 | -1) =>
      angles.map((azimuth) => measure((f) => turned(0.1, (side * 180 * f * d * Math.sin((azimuth * Math.PI) / 180)) / c), { azimuth }));
    return assess(twoWayBox(both, placesOf(1), placesOf(-1)), {
      ratedImpedance: 8,
      goal: { band: { from: 400, to: 8000 }, limits: "stated" },
    });
  };
  /** By this test's own route: third octaves by Simpson's rule, the straight line by its normal equations, and what is left. */
  const expected = (d: number, azimuth: number) => {
    const x = (f: number) => Math.cos((Math.PI * d * Math.sin((azimuth * Math.PI) / 180) * f) / c) ** 2;
    const third = (f: number) => {
      const n = 400;
      let sum = 0;
      for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * x(f * 2 ** ((i / n - 0.5) / 3));
      return 10 * Math.log10(sum / (3 * n));
    };
    const points = Array.from({ length: 2001 }, (_, i) => 400 * 20 ** (i / 2000));
    const levels = points.map(third);
    const at = points.map((_, i) => i / 2000 - 0.5);
    const mean = levels.reduce((sum, level) => sum + level, 0) / levels.length;
    const slope = at.reduce((sum, u, i) => sum + u * (levels[i]! - mean), 0) / at.reduce((sum, u) => sum + u * u, 0);
    const left = levels.map((level, i) => level - mean - slope * at[i]!);
    const worst = left.reduce((best, value, i) => (Math.abs(value) > Math.abs(left[best]!) ? i : best), 0);
    return {
      lossDb: Math.sqrt(left.reduce((sum, value) => sum + value * value, 0) / left.length),
      worstDb: left[worst]!,
      worstFrequency: points[worst]!,
      octavesOutside: (left.filter((value) => Math.abs(value) > 3).length / left.length) * Math.log2(20),
    };
  };

  it.each([
    [0.17, 30],
    [0.1, 45],
    [0.06, -20],
  ])("of two drivers %s m apart at %s°: how far third octaves stray from a steady change, where most, and over how much", (d, azimuth) => {
    const [place] = pairAt(d, [0, azimuth]).quality.places;
    const own = expected(d, azimuth);
    expect(place!.lossDb).toBeCloseTo(own.lossDb, 1.5);
    expect(place!.worstDb).toBeCloseTo(own.worstDb, 0.7);
    expect(Math.abs(Math.log2(place!.worstFrequency / own.worstFrequency))).toBeLessThan(1 / 24);
    expect(Math.abs(place!.octavesOutside - own.octavesOutside)).toBeLessThan(0.05);
  });

  it("have the corridor as their limit, and name the null: c/(2 d sin θ)", () => {
    const judged = pairAt(0.17, [0, 30, 10]);
    const topic = compare(judged, judged).verdict.topics.find((each) => each.topic === "off the axis, to the sides")!;
    expect(topic).toMatchObject({ kept: false, limit: "within ±3 dB" });
    const place = judged.quality.places.find(({ azimuth }) => azimuth === 30)!;
    expect(Math.abs(Math.log2(place.worstFrequency / (c / (2 * 0.17 * Math.sin(Math.PI / 6)))))).toBeLessThan(1 / 6);
    expect(topic.sentence).toMatch(
      /largest −\d+\.\d dB at 2(\.\d+)? kHz, azimuth \+30°, elevation 0°; outside the corridor at 2 of them, by 1\.\d\d octaves at most/,
    );
    const near = pairAt(0.02, [0, 30]);
    expect(compare(near, near).verdict.topics.find((each) => each.topic === "off the axis, to the sides")).toMatchObject({ kept: true });
  });

  it("name what is radiated behind as not measured, or judge it where it was", () => {
    const behind = (angles: readonly number[]) => {
      const judged = pairAt(0.1, angles);
      return compare(judged, judged).verdict.topics.find((each) => each.topic === "off the axis, behind")!;
    };
    expect(behind([0, 30])).toMatchObject({
      change: "not checked",
      sentence: "Off the axis, behind: not measured; a dipole or a panel sends half of its sound there",
    });
    expect(behind([0, 150])).toMatchObject({ change: "unchanged", limit: "within ±3 dB" });
    // And what was measured behind is no part of the sides.
    const judged = pairAt(0.1, [0, 150]);
    expect(compare(judged, judged).verdict.topics.find((each) => each.topic === "off the axis, to the sides")!.change).toBe("not checked");
  });
});
