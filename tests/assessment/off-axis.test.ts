// Two drivers side by side, d apart, that are in phase: by computation, off the axis their sum changes by cos(π d sin θ/λ) in the
// plane that holds both, and not at all perpendicular to it; each driver's own directivity multiplies that. Far away, at 200 m, the
// paths differ by d sin θ to within d²/8r = 0.01 mm.
import { describe, expect, it } from "vitest";
import { assess, offAxisChange, sideDifferences } from "dividing-network/assessment";
import { predict, pressureAtPlace } from "dividing-network/loudspeaker";
import type { Entries } from "dividing-network/network";
import { resistor } from "dividing-network/parts";
import { dB, grid, meanOverOctaves, measure, sampled, turned, twentyFourths, twoWay, twoWayBox } from "./synthetic";

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
    const lead = driver(spacing / 2).map((measured) => ({ ...measured, response: sampled((f) => {
      const index = grid.findIndex((each) => each === f);
      const { re, im } = measured.response;
      return [re[index]! * Math.cos(Math.PI / 4.5) - im[index]! * Math.sin(Math.PI / 4.5), re[index]! * Math.sin(Math.PI / 4.5) + im[index]! * Math.cos(Math.PI / 4.5)];
    }) }));
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
    expect(assess(pair.loudspeaker, { ratedImpedance: 8, goal: { distance, band: { from: 500, to: 2000 } } }).offAxis[0]!.bands.map(({ centre }) => centre)).toEqual([500, 1000, 2000]);
  });

  it("is refused where the axis wasn't measured, and for a region that is none", () => {
    expect(() => offAxisChange({ places: together.places.filter(({ azimuth }) => azimuth > 0) }, { distance, centre: crossover })).toThrowError(expect.objectContaining({ code: "not-measured" }));
    expect(() => offAxisChange(together, { distance, centre: 0 })).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
    expect(() => sideDifferences(together, { distance } as never)).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
  });
});
