// Source: after Lipshitz and Vanderkooy (1986): three Linkwitz–Riley ways of order 4, woofer LP(low), middle HP(low) LP(high), tweeter HP(high).
// Provenance: recomputed. With the all-pass function of the upper corner before the woofer, and the tweeter behind the lower high-pass, the sum is exact.
import { multiWay } from "dividing-network/alignments";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

published("recomputed", "the sum of three fourth-order Linkwitz–Riley ways (Lipshitz and Vanderkooy 1986)", () => {
  it.each([
    [8, "-0.19049"],
    [10, "-0.118496"],
  ] as const)("corners in the ratio %d stray by %s dB, and not at all when corrected", (ratio, printed) => {
    const threeWay = multiWay({ family: "linkwitz-riley", order: 4, frequencies: [300, 300 * ratio], load: 8 });
    expectPrinted(threeWay.sum.lowestDb, printed);
    expect(threeWay.sum.highestDb).toBeLessThan(1e-6);
    expect(Math.abs(threeWay.correctedSum!.lowestDb)).toBeLessThan(1e-12);
    expect(Math.abs(threeWay.correctedSum!.highestDb)).toBeLessThan(1e-12);
  });
});
