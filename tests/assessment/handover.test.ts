// Ideal pairs by their closed forms: the level difference of a Butterworth or Linkwitz–Riley pair of order n is 20 n lg(f/fc) dB, so
// that it stays within 10 dB over 2·10/(20 n lg 2) = 3.32/n octaves; the phase between its branches is n·90° throughout.
import { describe, expect, it } from "vitest";
import { handover } from "dividing-network/assessment";
import { dB, DENOMINATORS, filters, orderOf, sampled, size, times, turned } from "../support/synthetic";

const corner = 1234;
const pairOf = (name: string, reversed = false) => {
  const { low, high } = filters(name, corner);
  return handover(
    sampled(low),
    sampled((f) => times(high(f), [reversed ? -1 : 1, 0])),
  );
};

describe("the handover of an ideal pair", () => {
  for (const name of Object.keys(DENOMINATORS)) {
    const n = orderOf(name);
    const { low, high } = filters(name, corner);

    it(`${name}: crosses once, at its corner, at its own level there`, () => {
      const { crossovers, frequency, levelDb } = pairOf(name);
      expect(crossovers).toHaveLength(1);
      // Straight between points of 48 an octave.
      expect(frequency / corner).toBeCloseTo(1, 5);
      // The level sags by y''/8/48² at most: 0.0018 dB for the fourth order.
      expect(levelDb).toBeCloseTo(dB(size(low(corner)) / 20e-6), 2);
      expect(dB(size(low(corner)))).toBeCloseTo(name.startsWith("Butterworth") ? dB(Math.SQRT1_2) : dB(0.5), 9);
    });

    it(`${name}: overlaps by 3.32/${n} octaves`, () => {
      const { overlapOctaves, overlap, overlapCut } = pairOf(name);
      expect(overlapOctaves).toBeCloseTo(1 / (n * Math.log10(2)), 5);
      expect(overlap.from * overlap.to).toBeCloseTo(corner ** 2, -2);
      expect(overlapCut).toBe(false);
    });

    it(`${name}: falls by the slopes of its closed form over the octave that starts half an octave beyond the corner`, () => {
      const { lowerSlopeDbPerOctave, upperSlopeDbPerOctave } = pairOf(name);
      const slopeOf = (at: (f: number) => readonly [number, number], from: number): number => {
        const x = Array.from({ length: 25 }, (_, i) => Math.log2(from) + i / 24);
        const y = x.map((octave) => dB(size(at(2 ** octave))));
        const mean = (list: readonly number[]) => list.reduce((sum, value) => sum + value, 0) / list.length;
        return mean(x.map((value, i) => (value - mean(x)) * y[i]!)) / mean(x.map((value) => (value - mean(x)) ** 2));
      };
      expect(lowerSlopeDbPerOctave).toBeCloseTo(slopeOf(low, corner * Math.SQRT2), 2);
      expect(upperSlopeDbPerOctave).toBeCloseTo(slopeOf(high, corner / (2 * Math.SQRT2)), 2);
      expect(upperSlopeDbPerOctave! + lowerSlopeDbPerOctave!).toBeCloseTo(0, 2);
    });

    it(`${name}: keeps ${n * 90}° between its branches, and a null where that is a whole turn`, () => {
      for (const reversed of [false, true]) {
        const { phaseDegrees, phaseRmsDegrees, nullDepthDb, nullFrequency } = pairOf(name, reversed);
        const angle = (n * 90 + (reversed ? 180 : 0)) % 360;
        const apart = Math.min(angle, 360 - angle);
        expect(Math.abs(phaseDegrees)).toBeCloseTo(apart, 3);
        expect(phaseRmsDegrees).toBeCloseTo(apart, 3);
        if (apart === 0) {
          expect(nullDepthDb).toBeGreaterThan(45);
          expect(nullFrequency / corner).toBeCloseTo(1, 2);
        } else if (apart === 90) expect(nullDepthDb).toBeCloseTo(0, 6);
        else expect(nullDepthDb).toBeLessThan(0);
      }
    });
  }

  it("has a null of 20 lg cot(φ/2) dB where its branches are φ apart", () => {
    for (const apart of [10, 28, 60, 90]) {
      const { nullDepthDb, phaseRmsDegrees, frequency } = handover(
        sampled((f) => turned(1000 / f, 0)),
        sampled((f) => turned(f / 1000, apart)),
      );
      expect(frequency).toBeCloseTo(1000, 6);
      expect(phaseRmsDegrees).toBeCloseTo(apart, 9);
      expect(nullDepthDb).toBeCloseTo(20 * Math.log10(1 / Math.tan((apart * Math.PI) / 360)), 6);
    }
  });
});

describe("the handover of other branches", () => {
  it("lists every frequency of equal level, and takes the one inside the widest overlap", () => {
    // Level difference: 15 dB, then −15 dB, with a narrow excursion across zero an octave and a half above.
    const difference = (f: number): number => {
      const x = Math.log2(f / 1000);
      return -15 * Math.tanh(x) + 25 * Math.exp(-(((x - 2.5) / 0.15) ** 2));
    };
    const found = handover(
      sampled((f) => turned(10 ** (difference(f) / 20), 0)),
      sampled(() => [1, 0]),
    );
    expect(found.crossovers).toHaveLength(3);
    expect(found.frequency).toBeCloseTo(1000, 0);
    expect(found.crossovers[0]).toBeCloseTo(1000, 0);
    expect(found.overlap.to).toBeLessThan(found.crossovers[1]!);
  });

  it("says when the overlap reaches an end of the data, and leaves out a slope that the data don't cover", () => {
    const { overlapCut, overlapOctaves, lowerSlopeDbPerOctave, upperSlopeDbPerOctave } = handover(
      sampled((f) => [(f / 12_000) ** -0.1, 0]),
      sampled(() => [1, 0]),
    );
    expect(overlapCut).toBe(true);
    expect(overlapOctaves).toBeCloseTo(8, 9);
    expect(lowerSlopeDbPerOctave).toBeUndefined();
    expect(upperSlopeDbPerOctave).toBeCloseTo(0, 9);
  });

  it("is refused where the levels are equal nowhere", () => {
    expect(() =>
      handover(
        sampled(() => [2, 0]),
        sampled(() => [1, 0]),
      ),
    ).toThrowError(expect.objectContaining({ code: "no-crossover" }));
  });

  it("changes nothing that it was given", () => {
    const { low, high } = filters("Butterworth 3", corner);
    const given = [sampled(low), sampled(high)] as const;
    const copies = given.map(({ re, im }) => [Float64Array.from(re), Float64Array.from(im)]);
    expect(Object.isFrozen(handover(...given))).toBe(true);
    expect(given.map(({ re, im }) => [re, im])).toEqual(copies);
  });
});
