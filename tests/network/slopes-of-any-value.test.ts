// Slopes by values that no operation of the solver knows: of drivers, coupled coils and transformers. Over arbitrary networks, against differences of solutions, extrapolated to zero step:
// the library's own solutions, which other tests hold to 50 digits, but none of the code that makes slopes.
import { capacitor, driverImpedance, inductor, network, resistor, solve, transformer, coupling, type Entries } from "dividing-network";
import { sensitivities, sumObjective } from "dividing-network/network";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases, searchFactor } from "../support/cases";
import { uniform } from "../support/uniform";
import { arbitraryNetwork } from "../support/arbitrary-network";
import { flat, slopeGrid as grid, worstSlope } from "../support/slope-differences";

/** Other values of a part; a driver's stand in its model. */
function withValue(entries: Entries, name: string, parameter: string, value: number): Entries {
  const [part, ...nodes] = entries[name] as unknown as readonly [Readonly<Record<string, unknown>>, ...string[]];
  const changed =
    "model" in part ? { ...part, model: { ...(part["model"] as object), [parameter]: value } } : { ...part, [parameter]: value };
  return { ...entries, [name]: [changed, ...nodes] } as unknown as Entries;
}

/** Two branches with drivers, one through a transformer, around values drawn from −1 to 1. */
const withTransformer = (a: number, b: number, c: number, d: number): Entries => {
  return network({
    L1: [inductor(1e-3 * 2 ** a, { dcr: 0.3 }), "in", "w"],
    woofer: [driverImpedance({ re: 6 * 2 ** b, le: 0.4e-3, re2: 4, le2: 0.7e-3, fs: 60 * 2 ** c, qms: 3, qes: 0.5 }), "w", "gnd"],
    C1: [capacitor(8e-6 * 2 ** d, { esr: 0.1 }), "in", "p"],
    T1: [
      transformer({
        primaryInductance: 8e-3 * 2 ** c,
        secondaryInductance: 3e-3 * 2 ** a,
        k: 0.9 * b,
        primaryResistance: 0.4,
        secondaryResistance: 0.3,
      }),
      "p",
      "gnd",
      "t",
      "gnd",
    ],
    tweeter: [driverImpedance({ re: 5, k: 0.02, n: 0.6 + 0.2 * d, fs: 900, qms: 2, qes: 1.2 }), "t", "gnd"],
  });
};

describe("the slopes of a sum's loss", () => {
  it("by coupled coils are those of differences, over arbitrary networks", () => {
    let tried = 0;
    fc.assert(
      fc.property(
        arbitraryNetwork({ decades: 2, coupled: true, nodes: 4, kinds: ["resistor", "lossy coil", "lossy capacitor"] }),
        (drawn) => {
          const coupled = Object.values(drawn).flatMap(([part, ...names]) => ("k" in part && part.kind === "coupling" ? names : []));
          const [heard] = Object.keys(drawn).filter((name) => drawn[name]![0].kind === "resistor");
          if (coupled.length === 0 || heard === undefined) return;
          const entries: Entries = { ...drawn, Rout: [resistor(6), drawn[heard]![1], "out"], Rload: [resistor(8), "out", "gnd"] };
          tried++;
          expect(worstSlope(entries, ["Rload"], [...new Set(coupled)])).toBeLessThan(1e-6);
        },
      ),
      { numRuns: cases(60), ...(searchFactor > 0 ? {} : { seed: 7 }) },
    );
    expect(tried).toBeGreaterThan(cases(60) / 6);
  });

  it("by every value of drivers and of a transformer are those of differences", () => {
    const value = uniform(-1, 1);
    fc.assert(
      fc.property(value, value, value, value, (a, b, c, d) => {
        expect(worstSlope(withTransformer(a, b, c, d), ["woofer", "tweeter"], ["woofer", "tweeter", "T1", "C1"])).toBeLessThan(1e-6);
      }),
      { numRuns: cases(30), ...(searchFactor > 0 ? {} : { seed: 8 }) },
    );
  });

  it("are those of differences next to a resonance with a transformer, once the step is small", () => {
    const entries = withTransformer(0.6167365722358227, -0.38854406774044037, -0.4651421271264553, -0.9999999888241291);
    expect(worstSlope(entries, ["woofer", "tweeter"], ["woofer", "tweeter", "T1", "C1"])).toBeLessThan(1e-8);
  });

  it("along a coupled coil or a driver's value is the loss", () => {
    const entries = network({
      L1: [inductor("1 mH", { dcr: 0.3 }), "in", "w"],
      woofer: [driverImpedance({ re: 6, fs: 60, qms: 3, qes: 0.5 }), "w", "gnd"],
      L2: [inductor("0.4 mH", { dcr: 0.2 }), "w", "gnd"],
      K1: [coupling(-0.4), "L1", "L2"],
    });
    const objective = sumObjective(entries, { frequencies: grid, contributions: { woofer: flat }, target: 0.5, vary: ["L1", "woofer"] });
    const values = objective.variables.map(({ value }) => value);
    expect(objective.variables.map(({ part, parameter }) => `${part}.${parameter}`)).toEqual([
      "L1.inductance",
      "woofer.re",
      "woofer.fs",
      "woofer.qms",
      "woofer.qes",
    ]);
    values.forEach((value, k) => {
      const along = objective.along(values, k);
      for (const share of [0.6, 1, 1.7])
        expect(along(value * share)).toBeCloseTo(objective.loss(values.map((own, i) => (i === k ? own * share : own))), 10);
    });
  });
});

describe("the derivatives of voltages and of the input impedance", () => {
  it("by coupled coils and transformers are those of differences", () => {
    const entries = network({
      L1: [inductor(0.9e-3, { dcr: 0.3 }), "in", "w"],
      woofer: [driverImpedance({ re: 5.6, fs: 60, qms: 3, qes: 0.5 }), "w", "gnd"],
      C2: [capacitor(6.8e-6, { esr: 0.02 }), "in", "a"],
      L2: [inductor(0.3e-3, { dcr: 0.2 }), "a", "gnd"],
      L3: [inductor(0.2e-3, { dcr: 0.1 }), "a", "p"],
      K1: [coupling(0.3), "L1", "L2"],
      K2: [coupling(-0.2), "L2", "L3"],
      T1: [
        transformer({ primaryInductance: 5e-3, secondaryInductance: 4e-3, k: 0.8, primaryResistance: 0.4, secondaryResistance: 0.2 }),
        "p",
        "gnd",
        "t",
        "x",
      ],
      Rx: [resistor(0.5), "x", "gnd"],
      tweeter: [resistor(6), "t", "gnd"],
    });
    const found = sensitivities<Entries>(entries, grid, { outputs: ["tweeter", "w"] });
    const named = found.variables.filter(({ part }) => ["L1", "L2", "L3", "T1"].includes(part));
    expect(named.length).toBe(10);
    for (const { part, parameter, value } of named) {
      const sweeps = [1e-4, -1e-4, 2e-4, -2e-4].map((share) => solve(withValue(entries, part, parameter, value * (1 + share)), grid));
      for (const [slope, read] of [
        [found.voltage("tweeter", part, parameter), 0],
        [found.voltage("w", part, parameter), 1],
        [found.impedance(part, parameter), 2],
      ] as const) {
        const curves = sweeps.map((sweep) => [sweep.voltage("tweeter"), sweep.voltage("w"), sweep.impedance][read]!);
        for (const half of ["re", "im"] as const) {
          grid.forEach((_, i) => {
            const central = (at: number, step: number) => (curves[at]![half][i]! - curves[at + 1]![half][i]!) / (2 * step);
            expect(Math.abs(value * slope[half][i]! - (4 * central(0, 1e-4) - central(2, 2e-4)) / 3)).toBeLessThan(
              1e-8 * (read === 2 ? 10 : 1),
            );
          });
        }
      }
    }
  });
});
