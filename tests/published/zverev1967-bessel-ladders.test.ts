// Source: after Zverev (1967), Bessel between equal resistances, −3 dB at ω = 1; larger element first.
// Provenance: seen-in-secondary-text+recomputed (four digits in a secondary copy, all agree with the recomputation).
import { bessel, ladderValues } from "dividing-network/alignments";
import { it } from "vitest";
import { expectAllPrinted } from "./printed";
import { published } from "./standing";

published("seen-in-secondary-text and recomputed", "Bessel ladders between equal resistances, −3 dB (Zverev 1967)", () => {
  it.each([
    [2, ["2.147806", "0.575503"]],
    [3, ["2.203411", "0.970512", "0.337421"]],
    [4, ["2.240379", "1.081516", "0.672525", "0.233416"]],
  ] as const)("order %d", (order, printed) => expectAllPrinted(ladderValues(bessel(order), { sourceResistance: 1 }), printed));
});
