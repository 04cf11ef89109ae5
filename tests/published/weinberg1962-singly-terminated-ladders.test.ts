// Source: after Weinberg (1962), tables of singly terminated ladders; Zverev (1967); Storch (1954) for the Bessel continued fraction.
// Where: low-pass from an ideal source into 1 Ω, source to load.
// Provenance: Butterworth n = 1 and Bessel with unit delay: recomputed. Butterworth n = 2 to 4 and Bessel at −3 dB:
// recalled-then-recomputed. It is not claimed that the books print all of these digits.
import { bessel, butterworth, ladderValues } from "dividing-network/alignments";
import { it } from "vitest";
import { expectAllPrinted } from "./printed";
import { published } from "./standing";

published("recomputed", "ladders from an ideal source (Weinberg 1962)", () => {
  it("Butterworth, order 1", () => expectAllPrinted(ladderValues(butterworth(1)), ["1.000000"]));

  it.each([
    [1, ["1.000000"]],
    [2, ["1.000000", "0.333333"]],
    [3, ["0.833333", "0.480000", "0.166667"]],
    [4, ["0.710145", "0.462682", "0.289855", "0.100000"]],
  ] as const)("Bessel with a delay of 1 s, order %d", (order, printed) =>
    expectAllPrinted(ladderValues(bessel(order, { normalization: "delay" })), printed),
  );
});

published("recalled-then-recomputed", "ladders from an ideal source (Weinberg 1962)", () => {
  it.each([
    [2, ["1.414214", "0.707107"]],
    [3, ["1.500000", "1.333333", "0.500000"]],
    [4, ["1.530734", "1.577161", "1.082392", "0.382683"]],
  ] as const)("Butterworth, order %d", (order, printed) => expectAllPrinted(ladderValues(butterworth(order)), printed));

  it.each([
    [2, ["1.361654", "0.453885"]],
    [3, ["1.463060", "0.842723", "0.292612"]],
    [4, ["1.501188", "0.978072", "0.612730", "0.211392"]],
  ] as const)("Bessel at −3 dB, order %d", (order, printed) =>
    expectAllPrinted(ladderValues(bessel(order, { normalization: "half-power" })), printed),
  );
});
