// Source: after Matthaei, Young and Jones (1964), tables of ladder prototypes.
// Where: Butterworth and Chebyshev between resistances, Bessel between equal resistances with unit delay, Chebyshev from an ideal
// source with the ripple's edge at ω = 1 (listed load first in the tables, source first here).
// Provenance: Butterworth: recomputed. Bessel n = 2 to 4: recalled-then-recomputed, n = 1: recomputed. Chebyshev between
// resistances, 0.1 dB: seen-in-secondary-text+recomputed; 0.5 dB and 1 dB n = 3: recalled-then-recomputed; others: recomputed.
// Chebyshev from an ideal source, 0.1 dB n = 2 to 4: recalled-then-recomputed; others: recomputed.
import { bessel, butterworth, chebyshev, ladderValues } from "dividing-network/alignments";
import { expect, it } from "vitest";
import { expectAllPrinted, expectPrinted } from "./printed";
import { published } from "./standing";

const between = (ripple: string, order: number, printed: readonly string[], printedLoad: string): void => {
  // Between a source of 1 Ω and a load of g(n+1): coth²(β/4) with β = ln coth(r/17.37 dB) for even orders.
  const beta = Math.log(1 / Math.tanh(Number(ripple) / (40 / Math.LN10)));
  const load = order % 2 === 1 ? 1 : 1 / Math.tanh(beta / 4) ** 2;
  expectPrinted(load, printedLoad === "1" ? "1.000000" : printedLoad);
  const values = ladderValues(chebyshev(order, { rippleDb: Number(ripple) }), { sourceResistance: 1 / load });
  expectAllPrinted(
    values.map((value, k) => (k % 2 === 0 ? value * load : value / load)),
    printed,
  );
  // The load as the table prints it, rounded, gives the table's values too.
  const rounded = Number(printedLoad);
  const fromTable = ladderValues(chebyshev(order, { rippleDb: Number(ripple) }), { sourceResistance: 1 / rounded });
  expectAllPrinted(
    fromTable.map((value, k) => (k % 2 === 0 ? value * rounded : value / rounded)),
    printed,
  );
};
const ideal = (ripple: string, order: number, printed: readonly string[]): void =>
  expectAllPrinted(ladderValues(chebyshev(order, { rippleDb: Number(ripple) })), printed);
const unitDelay = (order: number, printed: readonly string[]): void =>
  expectAllPrinted(ladderValues(bessel(order, { normalization: "delay" }), { sourceResistance: 1 }), printed);
const title = "ladder prototypes (Matthaei, Young and Jones 1964)";
const betweenTitle = "Chebyshev of %s dB between resistances, order %d";
const idealTitle = "Chebyshev of %s dB from an ideal source, order %d";
const unitDelayTitle = "Bessel between equal resistances with a delay of 1 s, order %d";

published("recomputed", title, () => {
  it.each([
    [1, ["2.000000000"]],
    [2, ["1.414213562", "1.414213562"]],
    [3, ["1.000000000", "2.000000000", "1.000000000"]],
    [4, ["0.765366865", "1.847759065", "1.847759065", "0.765366865"]],
  ] as const)("Butterworth between equal resistances, order %d", (order, printed) =>
    expectAllPrinted(ladderValues(butterworth(order), { sourceResistance: 1 }), printed),
  );

  it.each([[1, ["2.000000"]]] as const)(unitDelayTitle, unitDelay);

  it.each([
    ["1", 1, ["1.017694"], "1"],
    ["1", 2, ["1.821934", "0.685009"], "2.659723"],
    ["1", 4, ["2.099051", "1.064441", "2.831117", "0.789199"], "2.659723"],
  ] as const)(betweenTitle, between);

  it.each([
    ["0.1", 1, ["0.152620"]],
    ["0.5", 1, ["0.349311"]],
    ["0.5", 2, ["0.940260", "0.701447"]],
    ["0.5", 3, ["1.346486", "1.300145", "0.798140"]],
    ["0.5", 4, ["1.313751", "1.727895", "1.391574", "0.835153"]],
    ["1", 1, ["0.508847"]],
    ["1", 2, ["0.995668", "0.910967"]],
    ["1", 3, ["1.508848", "1.333242", "1.011796"]],
    ["1", 4, ["1.281722", "1.909336", "1.412563", "1.049526"]],
  ] as const)(idealTitle, ideal);

  it("refuses an even-order Chebyshev ladder between equal resistances and says which ratio it needs", () => {
    expect(() => ladderValues(chebyshev(4, { rippleDb: 0.5 }), { sourceResistance: 1 })).toThrow(/at least 1\.984056 .* got 1/);
  });
});

published("recalled-then-recomputed", title, () => {
  it.each([
    [2, ["1.577350", "0.422650"]],
    [3, ["1.255024", "0.552786", "0.192189"]],
    [4, ["1.059823", "0.511617", "0.318141", "0.110419"]],
  ] as const)(unitDelayTitle, unitDelay);

  it.each([
    ["0.5", 1, ["0.698623"], "1"],
    ["0.5", 2, ["1.402894", "0.707084"], "1.984056"],
    ["0.5", 3, ["1.596280", "1.096692", "1.596280"], "1"],
    ["0.5", 4, ["1.670306", "1.192565", "2.366115", "0.841864"], "1.984056"],
    ["1", 3, ["2.023593", "0.994102", "2.023593"], "1"],
  ] as const)(betweenTitle, between);

  it.each([
    ["0.1", 2, ["0.715851", "0.421522"]],
    ["0.1", 3, ["1.089479", "1.086399", "0.515780"]],
    ["0.1", 4, ["1.245335", "1.457564", "1.199418", "0.554394"]],
  ] as const)(idealTitle, ideal);
});

published("seen-in-secondary-text and recomputed", title, () => {
  it.each([
    ["0.1", 1, ["0.305241"], "1"],
    ["0.1", 2, ["0.843044", "0.622007"], "1.355361"],
    ["0.1", 3, ["1.031560", "1.147397", "1.031560"], "1"],
    ["0.1", 4, ["1.108787", "1.306184", "1.770351", "0.818075"], "1.355361"],
  ] as const)(betweenTitle, between);
});
