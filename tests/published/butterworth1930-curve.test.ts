// Source: −10 log₁₀(1 + x²ⁿ), after Butterworth (1930). Where: one octave above the corner.
// Provenance: recomputed.
import { butterworth, lowPass } from "dividing-network/alignments";
import { levelDb, responseOf, unwrappedPhaseDegrees } from "dividing-network/response";
import { it } from "vitest";
import { logGrid } from "dividing-network/numeric";
import { expectPrinted } from "./printed";
import { published } from "./standing";

published("recomputed", "Butterworth low-pass an octave above the corner (Butterworth 1930)", () => {
  it.each([
    [2, "-12.304489", "-136.68614"],
    [3, "-18.129134", "-209.74488"],
    [4, "-24.099331", "-282.03679"],
  ] as const)("order %d", (order, level, phase) => {
    const response = responseOf(lowPass(butterworth(order), 1000), logGrid(2, 2000, 301));
    expectPrinted(levelDb(response)[300], level);
    expectPrinted(unwrappedPhaseDegrees(response)[300], phase);
  });
});
