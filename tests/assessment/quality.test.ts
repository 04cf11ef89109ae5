// Tests src/assessment/: quality.ts
// What a goal's numbers are for levels with a closed form. Over B octaves a line of s dB an octave lies |s|·B/√12 (rms) and at most |s|·B/2 from the level that fits
// best; a parabola c·x² lies c·B²/√180 (rms) and at most c·B²/6 from the straight line that fits best, whatever line is added to it.
import { assess, goal } from "dividing-network/assessment";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { driverImpedance, resistor } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { dB, grid, measure, sampled } from "../support/synthetic";

type Level = (f: number) => number;
const octaves = (f: number) => Math.log2(f / 1000);
const line =
  (slope: number, at1k = 90): Level =>
  (f) =>
    at1k + slope * octaves(f);
const pressure = (db: number) => (20e-6 * 10 ** (db / 20)) / 2.83;
const place = (level: Level, where: object = {}, frequencies: ArrayLike<number> = grid) =>
  measure((f) => [pressure(level(f)), 0], where, frequencies);
/** A cone of 8 Ω at the source itself. */
const box = (...pressures: ReturnType<typeof place>[]): Loudspeaker =>
  loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures }] }) as unknown as Loudspeaker;
/** Five octaves. */
const band = { from: 250, to: 8000 };
const judged = (of: Loudspeaker, aim: Parameters<typeof goal>[0] = {}) =>
  assess(of, { ratedImpedance: 8, goal: goal({ band, ...aim }) }).quality;
/** dB by which the power average of a line over a third of an octave lies above it: 10 lg(sinh a/a). */
const above = (slope: number) => {
  const a = (Math.LN10 / 20) * (slope / 3);
  return 10 * Math.log10(Math.sinh(a) / a);
};
/** An octave from the middle of the band. */
const bent =
  (c: number, slope: number): Level =>
  (f) =>
    88 + slope * octaves(f) + c * Math.log2(f / Math.sqrt(band.from * band.to)) ** 2;

describe("the axis of a steady fall", () => {
  const falling = box(place(line(-2)));

  it("is far from an even target by its tilt, and outside the corridor at both ends", () => {
    const { axisDb, worstDb, worstFrequency, levelDb, octavesOutside, outside, band: over } = judged(falling);
    expect(over).toEqual(band);
    expect(axisDb).toBeCloseTo((2 * 5) / Math.sqrt(12), 4);
    expect(Math.abs(worstDb)).toBeCloseTo(5, 4);
    expect(worstFrequency).toBeCloseTo(worstDb > 0 ? 250 : 8000, 6);
    // The middle of the band lies half an octave above 1 kHz.
    expect(levelDb).toBeCloseTo(89 + above(2), 5);
    // ±3 dB are kept over 3 of the 5 octaves.
    expect(octavesOutside).toBeCloseTo(2, 1);
    expect(outside.map((each) => [each.from, each.to].map((f) => Math.round(2 * octaves(f)) / 2))).toEqual([
      [-2, -1],
      [2, 3],
    ]);
    expect(outside.map((each) => each.worstDb)).toEqual([expect.closeTo(5, 4), expect.closeTo(-5, 4)]);
  });

  it("is on a target that falls as much, and off a stated level by what it is louder", () => {
    expect(judged(falling, { slopeDbPerOctave: -2 }).axisDb).toBeLessThan(1e-6);
    for (const aim of [{ levelDb: 88 }, { places: [{ levelDb: 88 }] }, { levelDb: 70, places: [{ levelDb: 88 }] }]) {
      const { axisDb, worstDb, levelDb, outside } = judged(falling, { slopeDbPerOctave: -2, ...aim });
      expect(axisDb).toBeCloseTo(2 + above(2), 4);
      expect(worstDb).toBeCloseTo(2 + above(2), 4);
      // The level that fits best is said beside it.
      expect(levelDb).toBeCloseTo(90 + above(2), 4);
      expect(outside).toEqual([]);
    }
    const { outside, octavesOutside } = judged(falling, { slopeDbPerOctave: -2, levelDb: 85 });
    expect(outside).toHaveLength(1);
    expect(octavesOutside).toBeCloseTo(5, 6);
  });

  it("is judged by its own slope where the goal gives the axis one", () => {
    expect(judged(falling, { slopeDbPerOctave: 1, places: [{ slopeDbPerOctave: -2 }] }).axisDb).toBeLessThan(1e-6);
  });

  it("is judged by the goal's own target where the goal names other places alone", () => {
    const all = box(place(line(0)), place(line(0, 70), { azimuth: 30 }), place(line(0, 70), { elevation: 10 }));
    for (const places of [[{ azimuth: 30, levelDb: 70 }], [{ elevation: 10, levelDb: 70 }]]) {
      const { axisDb, levelDb, outside } = judged(all, { places });
      expect(axisDb).toBeLessThan(1e-6);
      expect(levelDb).toBeCloseTo(90, 6);
      expect(outside).toEqual([]);
    }
  });

  it("is judged over the stated frequencies' whole band, unless a band is stated", () => {
    const over = (aim: object) => assess(falling, { ratedImpedance: 8, goal: goal(aim) }).quality;
    const [from, to] = [500, 2000];
    expect(over({ frequencies: [from, 1000, to] }).band).toEqual({ from, to });
    expect(over({ frequencies: [from, 1000, to] }).axisDb).toBeCloseTo((2 * 2) / Math.sqrt(12), 4);
    expect(over({ frequencies: [from, 1000, to], band }).band).toEqual(band);
  });
});

describe("a place off the axis", () => {
  it("that the goal doesn't name is judged by how far it is from a steady change", () => {
    const [side, up] = judged(box(place(line(0)), place(bent(0.8, -3), { azimuth: 30 }), place(line(-6), { elevation: -15 }))).places;
    expect(side).toMatchObject({ azimuth: 30, elevation: 0 });
    expect(side!.lossDb).toBeCloseTo((0.8 * 25) / Math.sqrt(180), 1);
    expect(side!.worstDb).toBeCloseTo((0.8 * 25) / 6, 0);
    // Outside where 0.8 (x² − 25/12) > 3: beyond 2.416 octaves of 2.5 to either side.
    expect(side!.octavesOutside).toBeCloseTo(2 * (2.5 - Math.sqrt(3 / 0.8 + 25 / 12)), 1);
    expect(side!.outside).toHaveLength(2);
    expect(side!.band.from).toBeCloseTo(250, 6);
    expect(side!.band.to).toBeCloseTo(8000, 6);
    expect(up).toMatchObject({ azimuth: 0, elevation: -15, octavesOutside: 0 });
    expect(up!.lossDb).toBeLessThan(1e-6);
  });

  const side = place(line(-1, 88), { azimuth: 30 });
  it.each([
    ["its slope alone: the level is the axis's", { places: [{}, { azimuth: 30, slopeDbPerOctave: -1 }] }, -2],
    ["its slope, and all a level", { levelDb: 89, places: [{}, { azimuth: 30, slopeDbPerOctave: -1 }] }, -1],
    ["level and slope", { places: [{}, { azimuth: 30, slopeDbPerOctave: -1, levelDb: 86 }] }, 2],
    ["its level, and all a slope", { slopeDbPerOctave: -1, places: [{}, { azimuth: 30, levelDb: 87 }] }, 1],
  ])("that has %s is judged by that", (_, aim, off) => {
    const [found] = judged(box(place(line(0)), side), aim).places;
    expect(found!.worstDb).toBeCloseTo(off, 1);
    expect(found!.lossDb).toBeCloseTo(Math.abs(off), 1);
  });

  it("that has a weight alone keeps the steady change", () => {
    expect(judged(box(place(line(0)), side), { places: [{}, { azimuth: 30, weight: 2 }] }).places[0]!.lossDb).toBeLessThan(1e-6);
    // The same place in the mirror, or above, is another one.
    for (const other of [{ azimuth: -30 }, { elevation: 30 }, { azimuth: 30, elevation: 30 }])
      expect(
        judged(box(place(line(0)), place(line(-1, 88), other), side), { places: [{}, { azimuth: 30, levelDb: 60 }] }).places[0]!.lossDb,
      ).toBeLessThan(1e-6);
  });

  it("is left out where less than a third of an octave of it was measured, and judged from there on", () => {
    const part = (points: number) => grid.slice(192, 192 + points);
    const places = (points: number) => judged(box(place(line(0)), place(line(-1), { azimuth: 30 }, part(points)))).places;
    expect(places(16)).toEqual([]);
    expect(places(17)).toHaveLength(1);
    // And what lies beyond the judged band doesn't help.
    expect(judged(box(place(line(0)), place(line(-1), { azimuth: 30 }, grid.slice(0, 105)))).places).toEqual([]);
  });
});

describe("a partner that is heard beside the network", () => {
  /** What must be added to a flat 88 dB to make it bent. */
  const bending = sampled((f) => [2.83 * (pressure(bent(0.8, 0)(f)) - pressure(88)), 0]);
  const same = sampled(() => [2.83 * pressure(90), 0]);

  it("is heard where its pressure is known, and nowhere else", () => {
    const found = judged(box(place(line(0)), place(line(0, 88), { azimuth: 30 }), place(line(0, 88), { azimuth: -30 })), {
      partner: {
        pressures: [
          { azimuth: 0, elevation: 0, response: same },
          { azimuth: 30, elevation: 0, response: bending },
        ],
      },
    });
    expect(found.levelDb).toBeCloseTo(90 + dB(2), 4);
    expect(found.places.map(({ azimuth, lossDb }) => [azimuth, lossDb])).toEqual([
      [30, expect.closeTo((0.8 * 25) / Math.sqrt(180), 1)],
      [-30, expect.closeTo(0, 6)],
    ]);
  });
});

describe("the load of a resistor", () => {
  it("is its own minimum and its own peak dissipation, whatever is allowed", () => {
    expect(judged(box(place(line(0)))).load).toEqual({
      minimum: 8,
      limit: expect.closeTo(6.4, 12) as number,
      peakDissipation: expect.closeTo(8, 9) as number,
    });
  });

  it("has the stated limits before the rule of the rated impedance, and none where only stated ones hold", () => {
    const load = (aim: object) => judged(box(place(line(0))), aim).load;
    expect(load({ amplifier: { smallestImpedance: 5, smallestPeakDissipationResistance: 3 } })).toMatchObject({
      limit: 5,
      peakDissipationLimit: 3,
    });
    expect(load({ limits: "stated" })).not.toHaveProperty("limit");
    expect(load({ limits: "stated", amplifier: { smallestImpedance: 5 } })).toMatchObject({ limit: 5 });
  });
});

describe("a driver that is to be spared", () => {
  const dome = (sourceImpedance?: number) =>
    loudspeaker({
      // At its resonance 6·(1 + 4/2) = 18 Ω, far above it 6 Ω.
      network: { dome: [driverImpedance({ re: 6, fs: 800, qms: 4, qes: 2 }), "in", "gnd"] },
      drivers: [{ name: "dome", role: "tweeter", pressures: [place(line(0))] }],
      ...(sourceImpedance === undefined ? {} : { sourceImpedance }),
    }) as unknown as Loudspeaker;

  it("gets as much at its resonance as anywhere at the source itself, and more behind the source's impedance", () => {
    expect(judged(dome()).spared).toEqual([
      { driver: "dome", part: "dome", resonance: 800, belowDb: expect.closeTo(0, 9) as number, limitDb: 12 },
    ]);
    // 18/22 against 6/10; an octave's mean lies a little above its highest end, where 6 Ω aren't reached yet.
    expect(judged(dome(4)).spared[0]!.belowDb).toBeGreaterThan(dB((6 / 10) * (22 / 18)));
    expect(judged(dome(4), { band: { from: 250, to: 16_000 } }).spared[0]!.belowDb).toBeLessThan(0);
    expect(judged(dome(), { drivers: { dome: 6 } }).spared[0]!.limitDb).toBe(6);
    expect(judged(dome(), { drivers: { dome: "not spared" } }).spared).toEqual([]);
  });
});

describe("the highest level outside the judged band", () => {
  /** dB above 90 below 125 Hz, a plateau of two thirds of an octave and more. */
  const shelf =
    (height: number, to = 125): Level =>
    (f) =>
      90 + (f < to ? height : 0);

  it("is the height of a plateau there, against the target that fits inside, beside the larger of what the goal and the band allow", () => {
    const { outsideBand } = judged(box(place(shelf(5))));
    expect(outsideBand).toMatchObject({ azimuth: 0, elevation: 0, limitDb: 3 });
    expect(outsideBand!.aboveDb).toBeCloseTo(5, 1);
    expect(outsideBand!.frequency).toBeLessThan(125);
    expect(judged(box(place(shelf(5))), { largestHumpDb: 7 }).outsideBand!.limitDb).toBe(7);
    expect(judged(box(place(shelf(5))), { limits: "stated" }).outsideBand).not.toHaveProperty("limitDb");
    expect(judged(box(place(shelf(5))), { limits: "stated", largestHumpDb: 2 }).outsideBand!.limitDb).toBe(2);
    // A target of 84 dB lies 6 dB below all of the band, and 11 dB below the plateau.
    expect(judged(box(place(shelf(5))), { levelDb: 84 }).outsideBand!.limitDb).toBeCloseTo(6, 6);
    expect(judged(box(place(shelf(5))), { levelDb: 84 }).outsideBand!.aboveDb).toBeCloseTo(11, 1);
  });

  it("is looked for at the goal's places, those that were measured", () => {
    const speaker = box(place(line(0)), place(shelf(8), { azimuth: 30 }));
    expect(judged(speaker).outsideBand!.aboveDb).toBeLessThan(0.01);
    const aim = { places: [{}, { azimuth: 30 }, { azimuth: 60 }] };
    expect(() => judged(speaker, aim)).not.toThrow();
    expect(judged(speaker, aim).outsideBand).toMatchObject({ azimuth: 30, elevation: 0, limitDb: 3 });
    expect(judged(speaker, aim).outsideBand!.aboveDb).toBeCloseTo(8, 1);
    expect(judged(speaker, { places: [{}, { azimuth: 30, levelDb: 94 }] }).outsideBand!.aboveDb).toBeCloseTo(4, 1);
  });

  it("isn't there where all that was measured is judged", () => {
    expect(
      judged(
        box(
          place(
            line(0),
            {},
            grid.filter((f) => f >= 249.9 && f <= 8000.1),
          ),
        ),
      ),
    ).not.toHaveProperty("outsideBand");
  });
});
