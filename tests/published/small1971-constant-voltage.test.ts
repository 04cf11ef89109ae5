// Source: after Small (1971): constant-voltage crossovers, high-pass s²/(s² + a s + 1), low-pass what is left to 1.
// Provenance: recomputed (the topology from memory).
import { allPole, highPass, subtractive } from "dividing-network/alignments";
import { levelDb, phaseDegrees, responseOf } from "dividing-network/response";
import { logGrid } from "dividing-network/numeric";
import { describe, expect, it } from "vitest";
import { expectPrinted } from "./printed";

const rows = [
  // a, peak dB, at ω, low-pass and high-pass at ω = 1, phase difference there, ω of equal level, level there
  ["1.414213562", "2.089876", "0.786158", "1.760913", "-3.0103", "-125.26439", "1.553774", "-0.687693"],
  ["2", "1.249387", "0.707115", "0.969100", "-6.0206", "-116.56505", "2.058171", "-1.840847"],
  ["1", "3.333869", "0.855598", "3.010300", "0.0000", "-135.00000", "1.272020", "1.169453"],
] as const;

describe("second-order constant-voltage crossovers (Small 1971; recomputed)", () => {
  it.each(rows)("a = %s", (a, peak, peakAt, lowAtOne, highAtOne, difference, equalAt, equal) => {
    const damping = a.startsWith("1.4") ? Math.SQRT2 : Number(a);
    const high = highPass(allPole({ denominator: [1, damping, 1] }), 1000);
    const low = subtractive(high);
    const level = (filter: typeof low, w: number): number => levelDb(responseOf(filter, [1000 * w]))[0]!;
    const phase = (filter: typeof low): number => phaseDegrees(responseOf(filter, [1000]))[0]!;
    // The peak, to the accuracy that the rows state (1e-5), on a fine grid around the place printed.
    const around = logGrid(1000 * Number(peakAt) * 0.99, 1000 * Number(peakAt) * 1.01, 2001);
    expect(Math.abs(Math.max(...levelDb(responseOf(low, around))) - Number(peak))).toBeLessThan(1e-5);
    expectPrinted(level(low, 1), lowAtOne);
    expectPrinted(level(high, 1), highAtOne);
    const turned = phase(low) - phase(high);
    expectPrinted(turned - 360 * Math.round((turned - Number(difference)) / 360), difference);
    expect(Math.abs(level(low, Number(equalAt)) - Number(equal))).toBeLessThan(1e-5);
    expect(Math.abs(level(high, Number(equalAt)) - Number(equal))).toBeLessThan(1e-5);
  });
});
