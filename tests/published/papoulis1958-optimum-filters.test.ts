// Source: after Papoulis (1958) and, for even orders, Fukada (1959): the polynomials L(ω²).
// Provenance: polynomials: recalled-then-recomputed (by a symbolic construction); denominators and ladders: recomputed.
import { ladderValues, legendrePapoulis, polynomialsOf } from "dividing-network/alignments";
import { responseOf } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectAllPrinted } from "./printed";
import { published } from "./standing";

/** Coefficients of ω², ω⁴, ω⁶, … */
const polynomials: Readonly<Record<number, readonly number[]>> = {
  3: [1, -3, 3],
  4: [0, 3, -8, 6],
  5: [1, -8, 28, -40, 20],
  6: [0, 6, -40, 105, -120, 50],
  7: [1, -15, 105, -355, 615, -525, 175],
};

published("recalled-then-recomputed", "Legendre–Papoulis functions (Papoulis 1958, Fukada 1959)", () => {
  it.each(Object.entries(polynomials))("have 1/|H|² = 1 + L(ω²), order %s", (order, coefficients) => {
    const omegas = [0.1, 0.4, 0.7, 0.9, 1, 1.2, 2, 5];
    const { re, im } = responseOf(
      legendrePapoulis(Number(order)),
      omegas.map((w) => w / (2 * Math.PI)),
    );
    omegas.forEach((w, i) => {
      const wanted = 1 + coefficients.reduce((sum, value, k) => sum + value * w ** (2 * k + 2), 0);
      expect(1 / (re[i]! ** 2 + im[i]! ** 2) / wanted - 1).toBeCloseTo(0, 12);
    });
  });
});

published("recomputed", "Legendre–Papoulis functions (Papoulis 1958, Fukada 1959)", () => {
  it.each([
    [3, ["1.000000", "1.310703", "1.358971", "0.577350"], ["1.590858", "1.427031", "0.762949"]],
    [4, ["1.000000", "1.562864", "1.887939", "1.241570", "0.408248"], ["1.612007", "1.661633", "1.429206", "0.639851"]],
  ] as const)("have the denominator and the ladder of order %d", (order, denominator, ladder) => {
    expectAllPrinted(polynomialsOf(legendrePapoulis(order)).denominator, denominator);
    expectAllPrinted(ladderValues(legendrePapoulis(order)), ladder);
  });
});
