// Tests src/parts/: coil-formula.ts, driver-deviations.ts, fit-driver.ts
// The formulas of a voice coil that are fitted, against the part that their terms make: the same impedance. And the deviation of a model from a curve, by the definition ln(Z_model/Z).
import { driverImpedance } from "dividing-network/parts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inductance, lossyOnly, noCoil, parallel, power, type CoilFormula } from "../../src/parts/coil-formula";
import { driverDeviations, type FitTask } from "../../src/parts/driver-deviations";
import { fitDriver } from "../../src/parts/fit-driver";
import { expandPart } from "../../src/parts/internal";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";

const TOP = 20_000;
const omega = 2 * Math.PI * TOP;
const x = Float64Array.of(0.001, 0.02, 0.3, 1);

/** Z in Ω at a frequency, of a driver by its parameters. */
function impedance(options: Parameters<typeof driverImpedance>[0], f: number): readonly [number, number] {
  const { law, values } = expandPart(driverImpedance(options)).branches[0]!;
  const out = new Float64Array(4);
  law.ratio(values, 0, f, out);
  return [out[2]!, out[3]!];
}
const formulas: readonly (readonly [CoilFormula, fc.Arbitrary<readonly number[]>])[] = [
  [inductance, fc.tuple(uniform(0.1, 10))],
  [power, fc.tuple(uniform(0.1, 10), uniform(0.2, 0.99))],
  [lossyOnly, fc.tuple(uniform(0.1, 10), uniform(-4, 2))],
  [parallel, fc.tuple(uniform(0.05, 2), uniform(0.1, 10), uniform(-4, 2))],
];

describe("a coil's formula", () => {
  it("is the impedance of the part that its terms make, and says nothing of what stands before it", () => {
    for (const [formula, parameters] of formulas)
      fc.assert(
        fc.property(parameters, uniform(2, 12), (own, re) => {
          const p = [99, 98, ...own];
          const out = new Float64Array(8);
          formula.write(p, 2, x, out);
          expect(formula.valid(p, 2)).toBe(true);
          const terms = formula.terms(p, 2, re, omega);
          x.forEach((share, k) => {
            const [zr, zi] = impedance({ re, ...terms }, share * TOP);
            const [a, b] = [re * out[2 * k]!, re * out[2 * k + 1]!];
            expect(Math.hypot(zr - re - a, zi - b)).toBeLessThan(1e-9 * Math.hypot(zr, zi));
          });
        }),
        { numRuns: cases(30) },
      );
    const out = new Float64Array(8).fill(7);
    noCoil.write([], 0, x, out);
    expect([[...out], noCoil.terms([], 0, 6, omega), noCoil.valid([], 0), noCoil.starts(3)]).toEqual([
      new Array(8).fill(0),
      {},
      true,
      [[]],
    ]);
  });

  it("begins where it is a coil, and near the reactance that the top of the band shows", () => {
    for (const [formula] of formulas) {
      const starts = formula.starts(2);
      expect(starts.length).toBeGreaterThanOrEqual(3);
      const reached = starts.map((start) => {
        expect(formula.valid(start, 0)).toBe(true);
        const out = new Float64Array(2);
        formula.write(start, 0, Float64Array.of(1), out);
        expect(out[0]).toBeGreaterThanOrEqual(0);
        return out[1]! / 2;
      });
      // From a fraction of it to several times: the motional branch has its share.
      expect(Math.min(...reached)).toBeLessThan(0.5);
      expect(Math.max(...reached)).toBeGreaterThan(1.5);
      expect(Math.max(...reached)).toBeLessThan(8);
    }
    for (const formula of [inductance, power]) {
      const shares = formula.starts(2).map((start) => {
        const out = new Float64Array(2);
        formula.write(start, 0, Float64Array.of(1), out);
        return Number((out[1]! / 2).toPrecision(9));
      });
      expect([...new Set(shares)].sort((a, b) => a - b)).toEqual([0.3, 1, 3]);
    }
  });

  it("is none beyond its range, and its neighbour's place lies within it", () => {
    for (const [formula, good] of [
      [inductance, [1]],
      [power, [1, 0.5]],
      [lossyOnly, [1, 0]],
      [parallel, [1, 1, 0]],
    ] as const) {
      expect(formula.valid([9, ...good], 1)).toBe(true);
      good.slice(0, formula === lossyOnly ? 1 : formula === parallel ? 2 : undefined).forEach((_, k) => {
        for (const bad of [0, -1])
          expect(
            formula.valid(
              good.map((each, i) => (i === k ? bad : each)),
              0,
            ),
          ).toBe(false);
      });
    }
    expect([power.valid([1, 1], 0), power.valid([1, 1.2], 0), power.valid([1, 0.999], 0)]).toEqual([false, false, true]);
    for (const [formula, at] of [
      [power, [1.5]],
      [parallel, [1.5, -1]],
    ] as const) {
      const near = formula.limit!.extended(at);
      expect(formula.valid(near, 0)).toBe(true);
      expect(near.length).toBe(at.length + 1);
      // Close to the simpler one: within a fifth of it at the top of the band.
      const [own, other] = [new Float64Array(2), new Float64Array(2)];
      formula.write(near, 0, Float64Array.of(1), own);
      formula.limit!.formula.write(at, 0, Float64Array.of(1), other);
      expect(Math.hypot(own[0]! - other[0]!, own[1]! - other[1]!)).toBeLessThan(0.2 * Math.hypot(other[0]!, other[1]!));
    }
  });
});

describe("the deviation of a driver's model from a curve", () => {
  const driver = { re: 6, fs: 50, qms: 3, qes: 0.6 };
  const grid = Float64Array.of(10, 25, 50, 120, 600, 4000, TOP);
  const task = (options: Parameters<typeof driverImpedance>[0], stated?: number, scale = 1): FitTask => {
    const z = Array.from(grid, (f) => impedance(options, f));
    return {
      f: grid,
      re: Float64Array.from(z, ([re]) => scale * re),
      im: Float64Array.from(z, ([, im]) => scale * im),
      stated,
      guess: { re: 5, fs: 40, top: 30 },
    };
  };
  const p = (more: readonly number[] = [], stated = false) => [
    ...(stated ? [] : [Math.log(6 / 5)]),
    Math.log(30 / 5),
    Math.log(3),
    Math.log(50 / 40),
    ...more,
  ];

  it("is nothing for the driver that the curve is of, with and without a stated resistance", () => {
    const le = 3e-4;
    const coil = (omega * le) / 5;
    for (const [formula, more, options] of [
      [noCoil, [], driver],
      [inductance, [coil], { ...driver, le }],
    ] as const)
      for (const stated of [undefined, 6]) {
        const { write, quantities, coilAt } = driverDeviations(task(options, stated), formula, true);
        const out = new Float64Array(14);
        write(p(more, stated !== undefined), out);
        for (const each of out) expect(Math.abs(each)).toBeLessThan(1e-12);
        expect(coilAt).toBe(stated === undefined ? 4 : 3);
        const found = quantities(p(more, stated !== undefined));
        for (const [name, value] of Object.entries({ ...options, res: 30, qts: 0.5 }))
          expect(found[name]! / value, name).toBeCloseTo(1, 12);
      }
  });

  it("of a curve that is larger by a factor is its logarithm, of one that is turned the angle, and no branch leaves Re alone", () => {
    const { write } = driverDeviations(task(driver, undefined, 1 / 1.1), noCoil, true);
    const out = new Float64Array(14);
    write(p(), out);
    out.forEach((each, k) => expect(each).toBeCloseTo(k % 2 === 0 ? Math.log(1.1) : 0, 12));
    // A resistance of 6 Ω against one turned by 0.2 rad.
    const turned: FitTask = {
      f: grid,
      re: new Float64Array(7).fill(6 * Math.cos(0.2)),
      im: new Float64Array(7).fill(6 * Math.sin(0.2)),
      stated: undefined,
      guess: { re: 5, fs: 40, top: 30 },
    };
    const flat = driverDeviations(turned, noCoil, false);
    flat.write([Math.log(6 / 5)], out);
    out.forEach((each, k) => expect(each).toBeCloseTo(k % 2 === 0 ? 0 : -0.2, 12));
    expect(flat.coilAt).toBe(1);
    expect(flat.quantities([Math.log(6 / 5)])).toEqual({ re: expect.closeTo(6, 12) as number });
  });

  it("is brought to its least by a fit, which says what it found and what is left", () => {
    const le = 3e-4;
    const fit = fitDriver(task({ ...driver, le }), inductance);
    expect(fit.converged && fit.valid).toBe(true);
    for (const [name, value] of Object.entries({ ...driver, le })) expect(fit.values[name]! / value, name).toBeCloseTo(1, 6);
    expect(fit.squares).toBeLessThan(1e-16);
    expect(fit.deviations.every((each) => Math.abs(each) < 1e-8)).toBe(true);
    // A curve without a coil fitted with one: what is found is next to nothing, and no more than a coil.
    expect(Math.abs(fitDriver(task(driver), inductance).values["le"]!)).toBeLessThan(1e-9);
    // One that falls where a coil would rise is no coil's.
    const falling = task(driver);
    const capacitive: FitTask = { ...falling, im: falling.im.map((value, k) => value - 2 * (grid[k]! / TOP)) };
    expect(fitDriver(capacitive, inductance).valid).toBe(false);
    expect(fitDriver(capacitive, inductance).values["le"]).toBeLessThan(0);
  });
});
