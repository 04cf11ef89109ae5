// Tests src/assessment/: sensitivity-levels.ts, smoothness.ts
import { describe, expect, it } from "vitest";
import { assess, sensitivityLevels, smoothness } from "dividing-network/assessment";
import { loudspeaker } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { grid, measure, sampled, turned, twentyFourths } from "../support/synthetic";

const level = (dB: number, degrees = 0) => turned(20e-6 * 10 ** (dB / 20), degrees);

describe("smoothness", () => {
  it("of a straight line over log₂ f is its slope and no deviation, whatever its phase", () => {
    const line = sampled((f) => level(80 - 1.7 * Math.log2(f / 1000), -f / 7));
    const found = smoothness(line, { band: { from: 250, to: 8000 } });
    expect(found.slopeDbPerOctave).toBeCloseTo(-1.7, 9);
    expect(found.standardDeviationDb).toBeCloseTo(0, 9);
    expect(found.rangeDb).toBeCloseTo(1.7 * 5, 9);
  });

  it("is the standard deviation, divisor n, of the deviations at 24 points an octave", () => {
    // ±1 dB in turn on 121 points: the mean is 1/121, the slope as small.
    const points = twentyFourths(250, 8000);
    const index = (f: number) => Math.round(24 * Math.log2(f / 1000));
    const zigzag = sampled((f) => level(80 + (index(f) % 2 === 0 ? 1 : -1)), points);
    const { standardDeviationDb, slopeDbPerOctave, rangeDb } = smoothness(zigzag, { band: { from: 250, to: 8000 } });
    expect(points).toHaveLength(121);
    expect(slopeDbPerOctave).toBeCloseTo(0, 12);
    expect(standardDeviationDb).toBeCloseTo(Math.sqrt(1 - 1 / 121 ** 2), 9);
    expect(rangeDb).toBeCloseTo(2, 9);
  });

  it("of a ripple of amplitude A is nearly A/√2, and the worst is where the ripple is largest", () => {
    const ripple = sampled((f) => level(85 + 2 * Math.cos(2 * Math.PI * Math.log2(f / 1000))));
    const { standardDeviationDb } = smoothness(ripple, { band: { from: 250, to: 8000 } });
    expect(standardDeviationDb).toBeGreaterThan(0.98 * Math.SQRT2);
    expect(standardDeviationDb).toBeLessThan(1.02 * Math.SQRT2);
    const dip = smoothness(
      sampled((f) => level(85 - 6 * Math.exp(-((Math.log2(f / 2000) / 0.2) ** 2)))),
      { band: { from: 250, to: 8000 } },
    );
    expect(dip.worstFrequency).toBeCloseTo(2000, 6);
    expect(dip.worstDb).toBeLessThan(-5);
    expect(dip.rangeDb).toBeCloseTo(6, 6);
  });

  it("is refused outside the data, over too few points, and for a band that is none", () => {
    const any = sampled(() => level(80));
    const wrong = (band: unknown, code: string) =>
      expect(() => smoothness(any, { band } as never), JSON.stringify(band)).toThrowError(expect.objectContaining({ code }));
    wrong({ from: 20, to: 8000 }, "outside-band");
    wrong({ from: 1000, to: 1010 }, "band-too-narrow");
    wrong({ from: 8000, to: 250 }, "invalid-argument");
    wrong(undefined, "invalid-argument");
    wrong({ from: 250, to: 8000, smoothing: 3 }, "unknown-option");
  });
});

describe("sensitivity", () => {
  it("is refused for no voltage, and for a rated impedance of 0 Ω", () => {
    const given = { band: { from: "300 Hz", to: "3 kHz" }, ratedImpedance: 8 } as const;
    const heard = sampled(() => [0.2, 0]);
    expect(() => sensitivityLevels(heard, { ...given, ratedImpedance: 0 })).toThrow(/ratedImpedance/);
    expect(() => sensitivityLevels(heard, { ...given, voltage: 0 })).toThrow(/voltage/);
  });

  it("for 2.83 V into R is 10 lg(2.83²/R) above that for 1 W: 3.0 dB at 4 Ω, nothing at 8 Ω", () => {
    const flat = sampled(() => [0.2, 0]);
    for (const size of [1e-150, 1e150])
      expect(
        sensitivityLevels(
          sampled(() => [size, 0]),
          { band: { from: 300, to: 3000 }, ratedImpedance: 8 },
        ).for2V83Db,
      ).toBeCloseTo(20 * Math.log10(size / 20e-6), 6);
    expect(
      sensitivityLevels(
        sampled(() => [0, 0]),
        { band: { from: 300, to: 3000 }, ratedImpedance: 8 },
      ).for2V83Db,
    ).toBe(-Infinity);
    const at = (ratedImpedance: number) => sensitivityLevels(flat, { band: { from: "300 Hz", to: "3 kHz" }, ratedImpedance });
    expect(at(4).for2V83Db).toBeCloseTo(80, 9);
    expect(at(4).for2V83Db - at(4).for1WDb).toBeCloseTo(10 * Math.log10(2.83 ** 2 / 4), 9);
    expect(at(8).for1WDb).toBeCloseTo(80 - 10 * Math.log10(2.83 ** 2 / 8), 9);
    expect(at(8).for1WDb).toBeCloseTo(80, 1);
  });

  it("is the average of power over log frequency: of a level that rises by s dB per octave over W octaves, 10 lg(sinh a/a) above its middle, a = s W ln 10/20", () => {
    for (const slope of [-12, -6, -1, 0.5, 3, 9]) {
      for (const [from, to] of [
        [500, 2000],
        [300, 3000],
        [411, 733.7],
      ] as const) {
        const tilted = sampled((f) => level(90 + slope * Math.log2(f / Math.sqrt(from * to))));
        const a = (slope * Math.log2(to / from) * Math.LN10) / 20;
        expect(
          sensitivityLevels(tilted, { band: { from, to }, ratedImpedance: 8 }).for2V83Db,
          `${slope} dB per octave, ${from} Hz to ${to} Hz`,
        ).toBeCloseTo(90 + 10 * Math.log10(Math.sinh(a) / a), 4);
      }
    }
  });

  it("takes account of the voltage that drove the response", () => {
    const flat = sampled(() => [0.2, 0]);
    expect(sensitivityLevels(flat, { band: { from: 300, to: 3000 }, ratedImpedance: 8, voltage: 1 }).for2V83Db).toBeCloseTo(
      80 + 20 * Math.log10(2.83),
      9,
    );
  });

  it("is refused without a rated impedance", () => {
    expect(() =>
      sensitivityLevels(
        sampled(() => [0.2, 0]),
        { band: { from: 300, to: 3000 } } as never,
      ),
    ).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
  });
});

describe("an assessment", () => {
  const single = (
    pressures = [measure(() => [0.1, 0]), measure(() => [0.05, 0], { distance: 2 }), measure(() => [0.09, 0], { azimuth: 20 })],
  ) => loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures }] });

  it("of a single driver has no handover, and judges at the smallest distance with the axis", () => {
    const { handovers, distance, sensitivity: found, distances } = assess(single(), { ratedImpedance: 8 });
    expect(handovers).toEqual([]);
    expect(distance).toBe(1);
    expect(found.for2V83Db).toBeCloseTo(20 * Math.log10((0.1 * 2.83) / 20e-6), 9);
    // Half the pressure at twice the distance: another level, no other shape.
    expect(distances).toMatchObject([{ distance: 2 }]);
    expect(distances[0]!.spreadDb).toBeCloseTo(0, 9);
  });

  it("sees how the shape changes with distance", () => {
    const tilted = single([
      measure(() => [0.1, 0]),
      measure((f) => turned(0.05 * 2 ** (Math.sin(2 * Math.PI * Math.log2(f / 1000)) / 6.0206), 0), { distance: 2 }),
    ]);
    // A ripple of 1 dB amplitude: 1/√2 dB of standard deviation over whole periods, nearly so over 300 Hz to 10 kHz.
    expect(assess(tilted, { ratedImpedance: 8 }).distances[0]!.spreadDb).toBeCloseTo(Math.SQRT1_2, 1);
  });

  it("narrows its own bands to what was measured, but not those asked for", () => {
    const narrow = grid.filter((f) => f >= 500 && f <= 4000);
    const box = single([measure(() => [0.1, 0], {}, narrow)]);
    const { band, sensitivityBand } = assess(box, { ratedImpedance: 8 });
    expect(band.from).toBeCloseTo(500, 6);
    expect(band.to).toBeCloseTo(4000, 6);
    expect(sensitivityBand.to).toBe(3000);
    expect(() => assess(box, { ratedImpedance: 8, goal: { band: { from: 300, to: 4000 } } })).toThrowError(
      expect.objectContaining({ code: "outside-band" }),
    );
  });

  it("is refused without a measurement on the axis", () => {
    expect(() => assess(single([measure(() => [0.1, 0], { azimuth: 20 })]), { ratedImpedance: 8 })).toThrowError(
      expect.objectContaining({ code: "not-measured" }),
    );
    expect(() => assess(single(), {} as never)).toThrowError(expect.objectContaining({ code: "invalid-argument" }));
    expect(() => assess(single(), { ratedImpedance: 8, smoothing: 3 } as never)).toThrowError(
      expect.objectContaining({ code: "unknown-option" }),
    );
  });
});
