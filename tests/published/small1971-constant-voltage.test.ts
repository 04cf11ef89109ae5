// Source: after Small (1971): constant-voltage crossovers, high-pass s²/(s² + a s + 1), low-pass what is left to 1.
// Provenance: recomputed (the topology from memory).
import { allPole, highPass, subtractive } from "dividing-network/alignments";
import { levelDb, phaseDegrees, responseOf } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectPrinted, halfUnit } from "./printed";
import { published } from "./standing";

const rows = [
  // a, peak dB, at ω, low-pass and high-pass at ω = 1, phase difference there, ω of equal level, level there
  ["1.414213562", "2.089876", "0.786158", "1.760913", "-3.0103", "-125.26439", "1.553774", "-0.687693"],
  ["2", "1.249387", "0.707115", "0.969100", "-6.0206", "-116.56505", "2.058171", "-1.840847"],
  ["1", "3.333869", "0.855598", "3.010300", "0.0000", "-135.00000", "1.272020", "1.169453"],
] as const;

published("recomputed", "second-order constant-voltage crossovers (Small 1971)", () => {
  it.each(rows)("a = %s", (a, peak, peakAt, lowAtOne, highAtOne, difference, equalAt, equal) => {
    const damping = a.startsWith("1.4") ? Math.SQRT2 : Number(a);
    const high = highPass(allPole({ denominator: [1, damping, 1] }), 1000);
    const low = subtractive(high);
    const level = (filter: typeof low, w: number): number => levelDb(responseOf(filter, [1000 * w]))[0]!;
    const phase = (filter: typeof low): number => phaseDegrees(responseOf(filter, [1000]))[0]!;
    // |L|² = (1 + a²x)/((1 − x)² + a²x) is greatest where a²x² + 2x − 2 = 0. The rows' places were found by a search that stops where
    // the level no longer changes, 1e-5 away: their heights are good to the last digit, their places are not.
    const place = Math.sqrt((Math.sqrt(1 + 2 * damping ** 2) - 1) / damping ** 2);
    expect(Math.abs(place - Number(peakAt))).toBeLessThan(1e-5);
    expectPrinted(level(low, place), peak);
    for (const beside of [0.9999, 1.0001]) expect(level(low, place * beside)).toBeLessThan(level(low, place));
    expectPrinted(level(low, 1), lowAtOne);
    expectPrinted(level(high, 1), highAtOne);
    const turned = phase(low) - phase(high);
    expectPrinted(turned - 360 * Math.round((turned - Number(difference)) / 360), difference);
    // The place is printed, so both levels may be off by what half its last digit moves them: below 6 dB an octave each.
    const slack = 20 * Math.log10(1 + halfUnit(equalAt) / Number(equalAt));
    for (const way of [low, high])
      expect(Math.abs(level(way, Number(equalAt)) - Number(equal))).toBeLessThanOrEqual(halfUnit(equal) + slack);
  });
});
