// Source: after Bullock (1982, 1985) and textbooks of loudspeaker design: parts of two-way crossovers for 8 Ω and 3 kHz, and of three-way ones.
// Provenance: recalled-then-recomputed. The four-digit constants recalled agree but for the last digit of two (.2437 and .2509, recomputed
// .2436 and .2510); the values here are recomputed. The 8:1 capacitor of the three-way row was recalled uncertainly (.5070, recomputed .5064).
// Not used: a textbook's fourth-order "Bessel" row, which no scaling of the function reproduces (see the page on Bessel functions).
import { crossover, derivedThreeWay, multiWay, type CrossoverOptions } from "dividing-network/alignments";
import { it } from "vitest";
import { expectAllPrinted, expectPrinted } from "./printed";
import { published } from "./standing";

const rows: readonly [
  name: string,
  options: Omit<CrossoverOptions, "frequency" | "load">,
  low: readonly string[],
  high: readonly string[],
][] = [
  ["BW1", { family: "butterworth", order: 1 }, ["0.424413"], ["6.631456"]],
  ["BW2", { family: "butterworth", order: 2 }, ["0.600211", "4.689147"], ["4.689147", "0.600211"]],
  ["BW3", { family: "butterworth", order: 3 }, ["0.636620", "8.841941", "0.212207"], ["4.420971", "0.318310", "13.262912"]],
  ["LR2", { family: "linkwitz-riley", order: 2 }, ["0.848826", "3.315728"], ["3.315728", "0.848826"]],
  [
    "LR4",
    { family: "linkwitz-riley", order: 4 },
    ["0.800281", "10.550582", "0.400141", "2.344574"],
    ["3.516861", "0.266760", "7.033721", "1.200422"],
  ],
];
// These rows were computed from six-digit elements, so that their own last digits are uncertain by a relative 5e-6.
const sixDigitRows: typeof rows = [
  ["BES2 (asymptote)", { family: "bessel", order: 2, normalization: "asymptote" }, ["0.735105", "3.828673"], ["3.828673", "0.735105"]],
  ["BES2 (−3 dB)", { family: "bessel", order: 2 }, ["0.577904", "3.009916"], ["4.870147", "0.935068"]],
  ["BES3 (−3 dB)", { family: "bessel", order: 3 }, ["0.620942", "5.588480", "0.124188"], ["4.532593", "0.503621", "22.662967"]],
];

published("recalled-then-recomputed", "parts of crossovers, mH and µF (Bullock 1985)", () => {
  it.each(rows)("%s", (_name, options, low, high) => {
    const made = crossover({ ...options, frequency: 3000, load: 8 });
    expectAllPrinted(made.lowPass.elements.map(scaled), low);
    expectAllPrinted(made.highPass.elements.map(scaled), high);
  });

  it.each(sixDigitRows)("%s, to five digits", (_name, options, low, high) => {
    const made = crossover({ ...options, frequency: 3000, load: 8 });
    const rounded = (list: readonly string[]) => list.map((text) => Number(text).toPrecision(5));
    expectAllPrinted(made.lowPass.elements.map(scaled), rounded(low));
    expectAllPrinted(made.highPass.elements.map(scaled), rounded(high));
  });

  it("the middle way of a first-order three-way crossover, R/f and 1/(Rf) at the geometric mean", () => {
    for (const [ratio, coil, capacitor] of [
      [8, "0.050018", "0.506428"],
      [10, "0.045754", "0.553621"],
    ] as const) {
      const { parts } = multiWay({ family: "butterworth", order: 1, frequencies: [1 / Math.sqrt(ratio), Math.sqrt(ratio)], load: 1 })
        .ways[1]!.ladder;
      expectPrinted(parts["L2"], coil);
      expectPrinted(parts["C1"], capacitor);
    }
  });

  it("the level of that way at which the three sum to exactly 1", () => {
    for (const [ratio, level] of [
      [8, "-2.182889"],
      [10, "-1.743004"],
    ] as const)
      expectPrinted(derivedThreeWay({ target: "all-pass", order: 1, frequencies: [300, 300 * ratio], load: 8 }).ways[1].gainDb, level);
  });
});

function scaled({ kind, value }: { readonly kind: "inductor" | "capacitor"; readonly value: number }): number {
  return kind === "inductor" ? value * 1e3 : value * 1e6;
}
