// Source: after Linkwitz (1976) and Lipshitz and Vanderkooy (1986); Butterworth rows from definitions.
// Where: denominators, ladders, levels at the corner, phase differences, sums and powers of two-way crossovers.
// Provenance: recomputed, all of them.
import { crossover, crossoverSum, ladderValues, linkwitzRiley, polynomialsOf, type CrossoverOptions } from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { levelDb, responseOf } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectAllPrinted, expectPrinted } from "./printed";
import { published } from "./standing";

const make = (name: string) => {
  const family = name.startsWith("BW") ? "butterworth" : "linkwitz-riley";
  return crossover({ family, order: Number(name.slice(2)), frequency: 1000, load: 8 } satisfies CrossoverOptions);
};
const grid = logGrid(10, 100e3, 401);
const flattest = (values: Float64Array): number => values.reduce((worst, value) => Math.max(worst, Math.abs(value)), 0);

published("recomputed", "Linkwitz–Riley and Butterworth two-way crossovers (Linkwitz 1976)", () => {
  it("LR4 is (s² + √2 s + 1)², and LR2 and LR4 have their ladders", () => {
    expectAllPrinted(polynomialsOf(linkwitzRiley(4)).denominator, [
      "1.0000000000",
      "2.8284271247",
      "4.0000000000",
      "2.8284271247",
      "1.0000000000",
    ]);
    expectAllPrinted(ladderValues(linkwitzRiley(2)), ["2.000000000000", "0.500000000000"]);
    expectAllPrinted(ladderValues(linkwitzRiley(4)), ["1.885618083", "1.590990258", "0.942809042", "0.353553391"]);
  });

  it.each([
    ["BW1", "-3.0103"],
    ["BW2", "-3.0103"],
    ["BW3", "-3.0103"],
    ["BW4", "-3.0103"],
    ["LR2", "-6.0206"],
    ["LR4", "-6.0206"],
    ["LR8", "-6.0206"],
  ])("%s is at %s dB at the corner", (name, printed) => {
    const { lowPass, highPass } = make(name);
    expectPrinted(levelDb(responseOf(lowPass.transfer, [1000]))[0], printed);
    expectPrinted(levelDb(responseOf(highPass.transfer, [1000]))[0], printed);
  });

  it.each([
    ["BW1", -90],
    ["BW2", -180],
    ["BW3", 90],
    ["BW4", 0],
    ["LR2", -180],
    ["LR4", 0],
    ["LR6", -180],
    ["LR8", 0],
  ])("%s differs in phase by %d° at every frequency", (name, degrees) => {
    for (const difference of crossoverSum(make(name as string), grid).phaseDifferenceDegrees) {
      const off = difference - (degrees as number);
      expect(Math.abs(off - 360 * Math.round(off / 360))).toBeLessThan(1e-9);
    }
  });

  it.each([
    ["BW1", "same"],
    ["BW3", "same"],
    ["BW3", "reversed"],
    ["LR2", "reversed"],
    ["LR4", "same"],
    ["LR6", "reversed"],
    ["LR8", "same"],
  ] as const)("%s with %s polarity sums flat", (name, polarity) => {
    expect(flattest(crossoverSum(make(name), grid, polarity).levelDb)).toBeLessThan(1e-9);
  });

  it.each([
    ["BW2", "reversed"],
    ["BW4", "same"],
  ] as const)("%s with %s polarity rises by 3.0103 dB at the corner", (name, polarity) => {
    const crossing = make(name);
    expect(crossing.polarity).toBe(polarity);
    expectPrinted(crossoverSum(crossing, [1000]).levelDb[0], "3.0103");
    expect(Math.max(...crossoverSum(crossing, grid).levelDb)).toBeLessThan(3.0104);
  });

  it("BW2 with the same polarity has a null", () => {
    expect(crossoverSum(make("BW2"), [1000], "same").levelDb[0]).toBeLessThan(-250);
  });

  it("the power of Butterworth ways is constant, that of Linkwitz–Riley ways falls by 3.0103 dB", () => {
    for (const name of ["BW1", "BW2", "BW3", "BW4"]) expect(flattest(crossoverSum(make(name), grid).powerDb)).toBeLessThan(1e-9);
    for (const name of ["LR2", "LR4", "LR8"]) expectPrinted(crossoverSum(make(name), [1000]).powerDb[0], "-3.0103");
  });
});
