// Source: closed forms; the constant-resistance property of complementary pairs after Norton (1937) and Guillemin (1957).
// Where: input impedance of two-way ladders with resistive loads of 8 Ω.
// Provenance: recomputed, all of them.
import { crossover, crossoverSum, ladderImpedance } from "dividing-network/alignments";
import { logGrid } from "dividing-network/numeric";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

const make = (family: "butterworth" | "linkwitz-riley", order: number) => crossover({ family, order, frequency: 1000, load: 8 });

published("recomputed", "input impedance of two-way crossovers (Guillemin 1957)", () => {
  it.each([
    ["butterworth", 1, "8.000000", "8.000000"],
    ["butterworth", 2, "5.333333", "7.542472"],
    ["linkwitz-riley", 4, "3.555556", "10.056630"],
  ] as const)("%s %d: each branch at the corner", (family, order, re, im) => {
    const { lowPass, highPass } = make(family, order);
    const [low, high] = [ladderImpedance(lowPass, [1000]), ladderImpedance(highPass, [1000])];
    expectPrinted(low.re[0], re);
    expectPrinted(low.im[0], im);
    expectPrinted(high.re[0], re);
    expectPrinted(-high.im[0]!, im);
  });

  it("Butterworth pairs of order 1 to 4 are 8 Ω at every frequency", () => {
    for (const order of [1, 2, 3, 4]) {
      const { inputImpedance } = crossoverSum(make("butterworth", order), logGrid(10, 100e3, 401));
      inputImpedance.re.forEach((re, i) => expect(Math.hypot(re - 8, inputImpedance.im[i]!)).toBeLessThan(1e-9));
    }
  });

  it("Linkwitz–Riley pairs are 16 Ω at the corner, and their values an octave below", () => {
    for (const [order, re, im] of [
      [2, "10.46154", "3.69231"],
      [4, "8.37475", "2.28118"],
    ] as const) {
      const { inputImpedance } = crossoverSum(make("linkwitz-riley", order), [500, 1000]);
      expectPrinted(inputImpedance.re[0], re);
      expectPrinted(inputImpedance.im[0], im);
      expectPrinted(inputImpedance.re[1], "16.00000");
      expect(Math.abs(inputImpedance.im[1]!)).toBeLessThan(1e-9);
    }
  });
});
