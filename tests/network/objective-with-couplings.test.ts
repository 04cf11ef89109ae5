// Tests src/network/slopes/: coupled-parts.ts, link-variables.ts, objective-by-elimination.ts, objective-by-rows.ts, objective.ts, rank-one.ts, row-objective.ts
// Tests src/network/slopes/: row-slopes.ts
// Tests src/network/solve/: with-source.ts
// Networks whose coils couple, as variables' neighbours: loss, slopes and the loss along one value against solutions of 50 digits, which
// share nothing with the library.
import { Decimal } from "decimal.js";
import { capacitor, coupling, frequencyResponse, inductor, lPad, network, resistor, transformer, type Entries } from "dividing-network";
import { sensitivities, sumObjective } from "dividing-network/network";
import { describe, expect, it } from "vitest";
import { solvePrecisely } from "../support/precise";

const grid = [180, 900, 2_400, 7_000];
const flat = frequencyResponse([100, 10_000], [1, 1], [0, 0]);
const target = [0.9, 1.1, 0.8, 1];

const withCoupling = (k: number) =>
  network({
    L1: [inductor(0.9e-3, { dcr: 0.3 }), "in", "w"],
    C1: [capacitor(12e-6, { esr: 0.05 }), "w", "gnd"],
    woofer: [resistor(5.6), "w", "gnd"],
    C2: [capacitor(6.8e-6, { esr: 0.02 }), "in", "a"],
    L2: [inductor(0.3e-3, { dcr: 0.2 }), "a", "gnd"],
    R1: [resistor(1.8), "a", "t"],
    tweeter: [resistor(6), "t", "gnd"],
    K1: [coupling(k), "L1", "L2"],
  });

/** The loss as its docstring defines it, from solutions of 50 digits. */
function exactLoss(entries: Entries): Decimal {
  return grid.reduce((sum, f, i) => {
    const point = solvePrecisely(entries, f);
    const [[wr, wi], [tr, ti]] = [point.voltage("w"), point.voltage("t")];
    const power = new Decimal(wr.plus(tr)).pow(2).plus(new Decimal(wi.plus(ti)).pow(2));
    return sum.plus(
      power
        .div(target[i]! ** 2)
        .minus(1)
        .pow(2)
        .div(grid.length),
    );
  }, new Decimal(0));
}

const withValue = (entries: Entries, part: string, parameter: string, value: number): Entries => {
  const [given, ...nodes] = entries[part] as unknown as [object, ...string[]];
  return { ...entries, [part]: [{ ...given, [parameter]: value }, ...nodes] as never };
};

describe.each([-0.4, 0.02, 0.5, 0.9])("beside coils coupled by %d", (k) => {
  const entries = withCoupling(k);
  const objective = sumObjective(entries, { frequencies: grid, contributions: { woofer: flat, tweeter: flat }, target });
  const values = objective.variables.map(({ value }) => value);

  it("the uncoupled parts vary by default, and the coupled coils don't", () => {
    expect(objective.variables.map(({ part }) => part)).toEqual(["C1", "woofer", "C2", "R1", "tweeter"]);
  });

  it("loss, its slopes, and the loss along each value are those of the network", () => {
    const exact = exactLoss(entries).toNumber();
    const slopes = new Float64Array(values.length);
    expect(objective.loss(values) / exact).toBeCloseTo(1, 11);
    expect(objective.lossAndSlopes(values, slopes) / exact).toBeCloseTo(1, 11);
    objective.variables.forEach(({ part, parameter, value }, index) => {
      const at = (share: number): Decimal => exactLoss(withValue(entries, part, parameter, value * (1 + share)));
      // Central differences at two steps, extrapolated: their own error is below 1e-13.
      const central = (step: number): Decimal =>
        at(step)
          .minus(at(-step))
          .div(2 * step * value);
      const slope = central(1e-5).times(4).minus(central(2e-5)).div(3).toNumber();
      expect(Math.abs(slopes[index]! - slope) * value).toBeLessThan(1e-9 * exact);
      const along = objective.along(values, index);
      for (const share of [-0.5, -0.1, 0, 0.2, 2]) expect(along(value * (1 + share)) / at(share).toNumber()).toBeCloseTo(1, 9);
    });
  });
});

describe("an inductive transformer", () => {
  const entries = network({
    T1: [transformer({ primaryInductance: "20 mH", secondaryInductance: "5 mH", k: 0.9 }), "in", "gnd", "s", "gnd"],
    R1: [resistor(2), "s", "t"],
    tweeter: [resistor(6), "t", "gnd"],
  });

  it("lets the others vary", () => {
    const objective = sumObjective(entries, { frequencies: grid, contributions: { tweeter: flat }, target: 0.3 });
    const slopes = new Float64Array(objective.variables.length);
    expect(
      Number.isFinite(
        objective.lossAndSlopes(
          objective.variables.map(({ value }) => value),
          slopes,
        ),
      ),
    ).toBe(true);
    expect(slopes.every((slope) => Number.isFinite(slope) && slope !== 0)).toBe(true);
  });
});

describe("an L-pad", () => {
  it("has two values under two names", () => {
    const entries = network({ P1: [lPad({ attenuationDb: 4, load: 6 }), "in", "t", "gnd"], tweeter: [resistor(6), "t", "gnd"] });
    const { variables, voltage } = sensitivities(entries, [1000], { outputs: ["t"], vary: ["P1"], sourceImpedance: { resistance: 0.5 } });
    expect(variables.map(({ part, parameter }) => `${part}.${parameter}`)).toEqual(["P1.series", "P1.shunt"]);
    // V = G/(Rs + R + 1/(1/Rp + 1/6)) by hand: ∂V/∂R = −V/(total), ∂V/∂Rp by the chain rule.
    const pad = entries.P1[0];
    const g = 1 / pad.shunt! + 1 / 6;
    const total = 0.5 + pad.series + 1 / g;
    expect(voltage("t", "P1", "series").re[0]).toBeCloseTo(-1 / g / total ** 2, 12);
    expect(voltage("t", "P1", "shunt").re[0]).toBeCloseTo((0.5 + pad.series) / (total * g) ** 2 / pad.shunt! ** 2, 12);
  });
});
