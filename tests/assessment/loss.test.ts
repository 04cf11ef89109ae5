// Tests src/assessment/: goal-amplifier.ts, goal-parts.ts
// The loss of a goal, held to closed forms worked out here. The mean power of p² ∝ f^n over an octave fraction of width w (in ln f) is
// p²·sinh(nw/2)/(nw/2): a constant in dB, so that a straight line stays one, whatever the smoothing. The mean square of a line of s dB an
// octave over B octaves, its level free, is (sB)²/12 (uniform distribution, any textbook).
import { goal, lossOf } from "dividing-network/assessment";
import { highPass, linkwitzRiley } from "dividing-network/alignments";
import { loudspeaker, pressurePerVolt, type Loudspeaker } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { describe, expect, it } from "vitest";
import { measure, sampled } from "../support/synthetic";

const REFERENCE = 20e-6;
const pressure = (db: number) => (REFERENCE * 10 ** (db / 20)) / 2.83;
/** A single driver on a plain resistor whose level is given at each place. */
const single = (...places: readonly { readonly azimuth?: number; readonly level: (f: number) => number }[]): Loudspeaker =>
  loudspeaker({
    network: { cone: [resistor(8), "in", "gnd"] },
    drivers: [{ name: "cone", pressures: places.map(({ azimuth = 0, level }) => measure((f) => [pressure(level(f)), 0], { azimuth })) }],
  }) as unknown as Loudspeaker;
const line =
  (slope: number, at1k = 90) =>
  (f: number) =>
    at1k + slope * Math.log2(f / 1000);
const band = { from: 250, to: 4000 };

describe("a partner beside the network", () => {
  it("that can't be is refused by its place, as a pair that can't be is", () => {
    expect(() => goal({ partner: { highPass: { family: "linkwitz-riley", order: 3, frequency: 80 } } })).toThrow(
      /^goal: partner\.highPass: "order" must be even, got 3/,
    );
    const fine = { lower: "w", upper: "t", order: 2 };
    expect(() => goal({ intentions: [fine, { ...fine, family: "chebyshev" }] })).toThrow(/^goal: intentions\[1\]: "rippleDb" must be/);
  });

  it("by the name of its high-pass is the target that its zeros and poles are", () => {
    const named = goal({
      band: { from: 300, to: 4000 },
      partner: { highPass: { family: "linkwitz-riley", order: 2, frequency: "500 Hz" } },
    });
    expect(named.partner).toEqual(goal({ partner: { highPass: highPass(linkwitzRiley(2), 500) } }).partner);
    // (f/500)²/(1 + (f/500)²): −6 dB at its corner, so that a driver which falls so is on target, and a flat one isn't.
    const cone = (shape: (f: number) => number) => single({ level: (f) => 90 + 20 * Math.log10(shape(f)) });
    expect(
      lossOf(
        cone((f) => (f / 500) ** 2 / (1 + (f / 500) ** 2)),
        named,
      ).lossDb,
    ).toBeLessThan(0.02);
    expect(
      lossOf(
        cone(() => 1),
        named,
      ).lossDb,
    ).toBeGreaterThan(1);
    for (const wrong of [
      { family: "linkwitz-riley", order: 3, frequency: 80 },
      { family: "bessel", order: 2 },
      { family: "butterworth", order: 2, frequency: "80 mH" },
    ]) {
      expect(() => goal({ partner: { highPass: wrong as never } })).toThrowError(expect.objectContaining({ name: "DividingNetworkError" }));
    }
  });
});

describe("the loss of a response that is a straight line", () => {
  it.each([-4, -1, 0.5, 3])("of %d dB an octave over four octaves is |s|·4/√12, its level free", (slope) => {
    expect(lossOf(single({ level: line(slope) }), goal({ band })).lossDb).toBeCloseTo((Math.abs(slope) * 4) / Math.sqrt(12), 3);
  });

  it("is nothing where the goal has that slope, and more by each departure from it", () => {
    const box = single({ level: line(-1.5) });
    const loss = (slopeDbPerOctave: number) => lossOf(box, goal({ band, slopeDbPerOctave })).lossDb;
    expect(loss(-1.5)).toBeLessThan(2e-4);
    expect(loss(-1)).toBeCloseTo((0.5 * 4) / Math.sqrt(12), 3);
    expect(loss(-2)).toBeCloseTo(loss(-1), 3);
  });

  it("has the level that fits best, and is its distance from one that is stated", () => {
    const box = single({ level: line(0, 88) });
    expect(lossOf(box, goal({ band })).levelDb).toBeCloseTo(88, 6);
    expect(lossOf(box, goal({ band, levelDb: 90 })).lossDb).toBeCloseTo(2, 6);
  });

  it("doesn't hang on where the band begins: a shift by a fraction of a point changes nothing", () => {
    const box = single({ level: line(2) });
    for (const shift of [1, 1.003, 1.007, 1.011])
      expect(lossOf(box, goal({ band: { from: 250 * shift, to: 4000 * shift } })).lossDb).toBeCloseTo(8 / Math.sqrt(12), 3);
  });
});

describe("the loss over places", () => {
  it("is the root of the weighted mean of squares, one free level for all", () => {
    // 90 and 88 dB, weights 3 and 1: the level 89.5, deviations 0.5 and 1.5, mean square (3·0.25 + 2.25)/4 = 0.75.
    const found = lossOf(
      single({ level: line(0, 90) }, { azimuth: 20, level: line(0, 88) }),
      goal({ band, places: [{ weight: 3 }, { azimuth: 20 }] }),
    );
    expect(found.levelDb).toBeCloseTo(89.5, 6);
    expect(found.lossDb).toBeCloseTo(Math.sqrt(0.75), 6);
    expect(found.places.map(({ lossDb }) => lossDb)).toEqual([expect.closeTo(0.5, 6), expect.closeTo(1.5, 6)]);
  });

  it("leaves a place its own target, which then doesn't pull at the level", () => {
    const box = single({ level: line(0, 90) }, { azimuth: 20, level: line(-2, 87) });
    const found = lossOf(box, goal({ band, places: [{}, { azimuth: 20, levelDb: 87, slopeDbPerOctave: -2 }] }));
    expect(found.levelDb).toBeCloseTo(90, 6);
    // The power average of a line lies above it by 10 lg(sinh a/a), with 2a = ln 10/10 times the dB across a third of an octave.
    const a = (Math.LN10 / 20) * (2 / 3);
    expect(found.lossDb).toBeCloseTo((10 * Math.log10(Math.sinh(a) / a)) / Math.SQRT2, 4);
  });
});

describe("the loss at stated frequencies", () => {
  it("is the plain mean over them, each counting the same", () => {
    // Levels 90, 92 and 91: mean 91, deviations −1, 1, 0.
    const box = loudspeaker({
      network: { cone: [resistor(8), "in", "gnd"] },
      drivers: [
        {
          name: "cone",
          pressures: [
            pressurePerVolt({
              response: sampled((f) => [pressure(f === 500 ? 90 : f === 1000 ? 92 : 91), 0], [500, 1000, 2000]),
              drive: { voltage: 1, at: "terminals" },
              distance: 1,
              timeZero: "common",
            }),
          ],
        },
      ],
    });
    const found = lossOf(box, goal({ frequencies: [500, 1000, 2000] }));
    expect(found.levelDb).toBeCloseTo(91, 9);
    expect(found.lossDb).toBeCloseTo(Math.sqrt(2 / 3), 9);
  });
});

describe("a third-octave level", () => {
  it("is a power average: a narrow null costs what its power does", () => {
    // |p|² of a comb 1 + cos: mean 1, so that a fine comb costs nothing but its mean, where plain levels would go to −∞ dB.
    const fine = Array.from({ length: 9601 }, (_, i) => 200 * 2 ** (i / 1600));
    const comb = loudspeaker({
      network: { cone: [resistor(8), "in", "gnd"] },
      drivers: [
        {
          name: "cone",
          pressures: [
            pressurePerVolt({
              response: sampled((f) => [pressure(90) * Math.sqrt(1 + Math.cos(2 * Math.PI * 30 * Math.log2(f))), 0], fine),
              drive: { voltage: 1, at: "terminals" },
              distance: 1,
              timeZero: "common",
            }),
          ],
        },
      ],
    });
    const found = lossOf(comb, goal({ band: { from: 400, to: 6400 } }));
    expect(found.levelDb).toBeCloseTo(90, 2);
    expect(found.lossDb).toBeLessThan(0.05);
  });
});

describe("a goal", () => {
  it("is refused with what it can't be, by name", () => {
    for (const [options, code] of [
      [{ band: { from: 2000, to: 300 } }, "invalid-argument"],
      [{ corridorDb: 0 }, "invalid-argument"],
      [{ places: [] }, "invalid-argument"],
      [{ places: [{ weight: 0 }] }, "invalid-argument"],
      [{ loudness: 3 }, "unknown-option"],
      [{ limits: "some" }, "invalid-argument"],
    ] as const) {
      expect(() => goal(options as never), JSON.stringify(options)).toThrowError(expect.objectContaining({ code }));
    }
  });

  it("asks for a band that was measured", () => {
    expect(() => lossOf(single({ level: line(0) }), goal({ band: { from: 20, to: 4000 } }))).toThrowError(
      expect.objectContaining({ code: "outside-band" }),
    );
  });
});
