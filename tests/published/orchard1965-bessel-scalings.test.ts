// Source: after Orchard (1965) for −3 dB frequencies of Bessel functions with unit delay; the levels at ω = 1 of the three scalings
// from a general signal-processing library; the ladders of the asymptote scaling from its definition (order 2: s² + √3 s + 1).
// Provenance: recomputed, all of them.
import { bessel, groupDelayOf, ladderValues } from "dividing-network/alignments";
import { levelDb, responseOf } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectAllPrinted, expectPrinted, halfUnit } from "./printed";
import { published } from "./standing";

const w3 = ["1.00000000", "1.36165413", "1.75567237", "2.11391767", "2.42741070", "2.70339506", "2.95172215", "3.17961724"];
const atOne = (order: number, normalization: "delay" | "half-power" | "asymptote"): number =>
  levelDb(responseOf(bessel(order, { normalization }), [1 / (2 * Math.PI)]))[0]!;

published("recomputed", "the three scalings of Bessel functions (Orchard 1965 and definitions)", () => {
  it("with unit delay are at −3.01 dB at the tabulated frequencies", () => {
    w3.forEach((printed, k) => {
      // The delay of the half-power scaling at 0 Hz is its own frequency scale.
      expectPrinted(groupDelayOf(bessel(k + 1), [0])[0], printed, `order ${k + 1}`);
      const level = levelDb(responseOf(bessel(k + 1, { normalization: "delay" }), [Number(printed) / (2 * Math.PI)]))[0]!;
      // Half the last digit of the frequency moves the level by the slope there, at most 6.02 dB an octave times the order.
      expect(Math.abs(level + 10 * Math.log10(2))).toBeLessThan((20 * (k + 1) * Math.LOG10E * halfUnit(printed)) / Number(printed));
    });
  });

  it("have the tabulated levels at ω = 1", () => {
    [2, 3, 4].forEach((order, k) => {
      expectPrinted(atOne(order, "asymptote"), ["-4.771213", "-6.235517", "-7.578107"][k]!);
      expectPrinted(atOne(order, "delay"), ["-1.597008", "-0.902973", "-0.629953"][k]!);
      expectPrinted(atOne(order, "half-power"), "-3.010300");
    });
  });

  it.each([
    [2, ["1.732051", "0.577350"]],
    [3, ["2.055177", "1.183782", "0.411035"]],
    [4, ["2.273235", "1.481086", "0.927851", "0.320109"]],
  ] as const)("have the ladder of the asymptote scaling, order %d", (order, printed) =>
    expectAllPrinted(ladderValues(bessel(order, { normalization: "asymptote" })), printed),
  );
});
