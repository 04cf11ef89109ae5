import fc from "fast-check";
import {
  allPassFilter,
  allPassLattice,
  allPole,
  approximateConjugate,
  attenuator,
  baffleStep,
  bandPass,
  bridgedTee,
  butterworth,
  chebyshev,
  conjugateNetwork,
  crossover,
  ladderValues,
  multiWay,
  parallelTrap,
  seriesCrossover,
  shuntNotch,
  zobel,
} from "dividing-network/alignments";
import { DividingNetworkError } from "dividing-network/errors";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";

const anything = fc.oneof(
  fc.double(),
  fc.double({ min: -1e3, max: 1e3, noNaN: true }),
  fc.constantFrom(0, -0, 1e-300, 1e300, 5e-324, NaN, Infinity, -1),
);

/** Runs it; only the library's own error may come out, or numbers that are all finite. */
function finiteOrRefused(make: () => unknown): void {
  let result: unknown;
  try {
    result = make();
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    return;
  }
  JSON.stringify(result, (key, value: unknown) => {
    if (typeof value === "number") expect(Number.isFinite(value), `${key} is ${value}`).toBe(true);
    return value;
  });
}

describe("whatever numbers come in, alignments", () => {
  it("give finite values or the typed error", () => {
    fc.assert(
      fc.property(anything, anything, anything, anything, anything, (a, b, c, d, e) => {
        for (const make of [
          () => crossover({ family: "butterworth", order: a, frequency: b, load: c }),
          () => crossover({ family: "bessel", order: 3, frequency: b, load: c }),
          () => multiWay({ family: "linkwitz-riley", order: 2, frequencies: [a, b], load: c }),
          () => seriesCrossover({ order: 2, frequency: a, load: b, q: c }),
          () => chebyshev(9, { rippleDb: a }),
          () => allPole({ denominator: [a, b, c, d] }),
          () => bandPass(butterworth(3), { from: a, to: b }),
          () => attenuator({ attenuationDb: a, load: b }),
          () => zobel({ re: a, le: b }),
          () => conjugateNetwork({ re: a, le: b, fs: c, qms: d, qes: e }),
          () => approximateConjugate({ re: a, le: b, fs: c, qms: d, qes: e }),
          () => parallelTrap({ depthDb: a, frequency: b, bandwidth: c, load: d }),
          () => shuntNotch({ depthDb: a, frequency: b, bandwidth: c, load: d, sourceResistance: e }),
          () => baffleStep({ stepDb: a, frequency: b, load: c }),
          () => allPassFilter({ frequency: a, q: b }),
          () => allPassLattice({ frequency: a, q: b, load: c }),
          () => bridgedTee({ delay: a, q: b, load: c }),
        ])
          finiteOrRefused(make);
      }),
      { numRuns: cases(1000) },
    );
  });

  it("synthesise ladders of any poles, or refuse them", () => {
    const size = fc.oneof(
      fc.double({ min: -1e300, max: -1e-300 }),
      fc.double({ min: -1e3, max: -1e-3 }),
      fc.double({ min: -1e9, max: -1e-9 }),
    );
    const pole = fc.record({ re: size, im: fc.constantFrom(0, 0, 1, 1e-8, 1e8) });
    fc.assert(
      fc.property(
        fc.array(pole, { minLength: 1, maxLength: 6 }),
        fc.oneof(fc.constant(0), fc.double({ min: 1e-6, max: 1e6, noNaN: true })),
        fc.constantFrom("series" as const, "shunt" as const),
        (list, sourceResistance, first) => {
          const poles = list.flatMap(({ re, im }) =>
            im === 0
              ? [{ re, im }]
              : [
                  { re, im },
                  { re, im: -im },
                ],
          );
          finiteOrRefused(() => ladderValues(allPole({ poles }), { sourceResistance, first }));
        },
      ),
      { numRuns: cases(500) },
    );
  });
});
