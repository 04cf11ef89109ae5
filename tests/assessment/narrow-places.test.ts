// Tests src/assessment/suspects/: fitted-fault.ts
// A place that was measured over less than the goal's band, with a level and slope of its own: judged over what it has, everywhere. Closed forms
// are of straight lines: a line of s dB an octave over B octaves against a level that fits best leaves |s|·B/√12, against one that is off by d leaves √(d² + (sB)²/12).
import { assess, compare, goal, lossOf, spread } from "dividing-network/assessment";
import { chooseValues, fitValues } from "dividing-network/design";
import { loudspeaker, type Loudspeaker } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { grid, measure } from "../support/synthetic";

const pressure = (db: number) => (20e-6 * 10 ** (db / 20)) / 2.83;
const line = (slope: number, at1k: number) => (f: number) => at1k + slope * Math.log2(f / 1000);
const within = (from: number, to: number) => grid.filter((f) => f >= from * (1 - 1e-9) && f <= to * (1 + 1e-9));
/** A cone behind a resistor: measured on the axis over 62.5 Hz to 16 kHz, at 30° over less. */
const box = (side: (f: number) => number, from: number, to: number, ohms = 0): Loudspeaker =>
  loudspeaker({
    network: { R1: [resistor(ohms), "in", "a"], cone: [resistor(8), "a", "gnd"] },
    drivers: [
      {
        name: "cone",
        pressures: [
          measure((f) => [pressure(line(0, 90)(f)), 0]),
          measure((f) => [pressure(side(f)), 0], { azimuth: 30 }, within(from, to)),
        ],
      },
    ],
  }) as unknown as Loudspeaker;
const band = { from: 250, to: 8000 };
const own = { azimuth: 30, levelDb: 86, slopeDbPerOctave: -1 };
const aim = goal({ band, places: [{}, own] });
/** dB by which the power average of a line over a third of an octave lies above it: 10 lg(sinh a/a). */
const above = (slope: number) => {
  const a = (Math.LN10 / 20) * (Math.abs(slope) / 3);
  return a === 0 ? 0 : 10 * Math.log10(Math.sinh(a) / a);
};

describe("a goal's own place that was measured over less than the goal's band", () => {
  it("is judged over what it has against its own level and slope, and says so; the other places keep the whole band", () => {
    // Its slope is −3 where −1 is asked for, its level at 1 kHz is 87 where 86 is asked for; measured from 500 Hz to 2 kHz: two octaves around 1 kHz.
    const { band: whole, places, lossDb, levelDb } = lossOf(box(line(-3, 87), 500, 2000), aim);
    expect(whole).toEqual(band);
    expect(places[0]).toMatchObject({ band, lossDb: expect.closeTo(0, 6) as number });
    expect(places[1]!.band.from).toBeCloseTo(500, 6);
    expect(places[1]!.band.to).toBeCloseTo(2000, 6);
    // Inside; where the data end, so does a third's window, by some hundredths of a decibel on such a line.
    expect(places[1]!.lossDb).toBeCloseTo(Math.sqrt((1 + above(3)) ** 2 + (2 * 2) ** 2 / 12), 1);
    expect(lossDb).toBeCloseTo(Math.sqrt(places[1]!.lossDb ** 2 / 2), 9);
    expect(levelDb).toBeCloseTo(90, 6);
  });

  it("that follows its own target has next to no loss, wherever its band lies", () => {
    for (const [from, to] of [
      [250, 1000],
      [1000, 8000],
      [62.5, 16_000],
    ] as const)
      expect(lossOf(box(line(-1, 86), from, to), aim).lossDb, `${from} Hz`).toBeLessThan(0.02);
  });

  it("has a verdict that names how much of it was judged", () => {
    const judged = (slope: number) => assess(box(line(slope, 86), 500, 2000), { ratedImpedance: 8, goal: aim });
    const { topics } = compare(judged(-4), judged(-1)).verdict;
    const sides = topics.find(({ topic }) => topic === "off the axis, to the sides")!;
    expect(sides.change).toBe("better");
    expect(sides.sentence).toContain("less was measured at azimuth +30°, elevation 0° (500 Hz to 2 kHz)");
  });

  it("of which less than a third of an octave is known is refused by its angle", () => {
    expect(() => lossOf(box(line(-1, 86), 1000, 1200), aim)).toThrow(
      /^goal: at azimuth 30°, elevation 0° a third of an octave .* got 1000 Hz to /,
    );
    expect(() => lossOf(box(line(-1, 86), 9000, 16_000), aim)).toThrow(/azimuth 30°/);
  });

  it("counts alike in spread: the same loss as drawn, its own band in the bands, no number where nothing is known", () => {
    const made = box(line(-3, 87), 500, 2000, 0.5);
    const { lossDb, bands, criteria } = spread(made, { goal: aim, samples: 50, unstated: "exact", drivers: { cone: { levelDb: 1 } } });
    expect(lossDb.nominal).toBe(lossOf(made, aim).lossDb);
    expect(criteria[0]!.nominal).toBeCloseTo(lossDb.nominal, 9);
    const [axis, side] = bands;
    expect(side!.frequencies[0]).toBeCloseTo(500, 6);
    expect(side!.frequencies.at(-1)).toBeCloseTo(2000, 6);
    expect(side!.nominal.length).toBe(side!.frequencies.length);
    expect(axis!.frequencies.length).toBeGreaterThan(side!.frequencies.length);
    expect(Math.min(...side!.nominal)).toBeGreaterThan(80);
    // The driver's level alone scatters: the loss of the side moves by (1 dB) times its slope, by hand at the end of the tolerance.
    expect(criteria[0]!.worstSample).toBeGreaterThan(lossDb.nominal);
  });

  it("is fitted and searched: the pad that brings both places to their levels", async () => {
    // 8/(8 + R) takes the axis from 90 to 88 dB: R = 8·(10^(2/20) − 1) = 2.0714 Ω; the side stands 4 dB below it, as asked.
    const wanted = goal({ band, levelDb: 88, places: [{}, { azimuth: 30, levelDb: 84, slopeDbPerOctave: -1 }], limits: "stated" });
    const made = box(line(-1, 86), 500, 2000, 1);
    const R = 8 * (10 ** (2 / 20) - 1);
    const fitted = await fitValues(made, { goal: wanted, vary: { R1: { from: 0.1, to: 20 } }, starts: 2 });
    expect(fitted.values[0]!.value / R).toBeCloseTo(1, 2);
    const chosen = await chooseValues(made, { goal: wanted, values: { R1: [1, 2.07, 4.7] } });
    expect(chosen.network["R1"]![0]).toMatchObject({ resistance: 2.07 });
    expect(chosen.proven).toBe(true);
  });
});
