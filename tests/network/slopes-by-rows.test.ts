// Tests src/network/spice/: move-sections.ts
// Slopes by what only rows can carry (src/network/slopes/row-slopes.ts): factors of couplings, ratios of ideal transformers, and any value beside these or beside coils coupled by more than 0.95.
// Against differences of solutions in 50 digits, which share nothing with the library, over arbitrary networks; and against closed forms by hand.
import { DividingNetworkError } from "dividing-network/errors";
import { capacitor, coupling, frequencyResponse, inductor, network, resistor, solve, transformer, type Entries } from "dividing-network";
import { sensitivities, sumObjective } from "dividing-network/network";
import { Decimal } from "decimal.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { arbitraryNetwork } from "../support/arbitrary-network";
import { solvePrecisely } from "../support/precise";

const grid = [90, 700, 3_000];
const flat = frequencyResponse([10, 20_000], [1, 1], [0, 0]);

const withValue = (entries: Entries, name: string, parameter: string, value: number): Entries => {
  const [part, ...nodes] = entries[name] as unknown as readonly [object, ...string[]];
  return { ...entries, [name]: [{ ...part, [parameter]: value }, ...nodes] } as unknown as Entries;
};

type Pair = readonly [Decimal, Decimal];
/** ∂/∂value in 50 digits: central differences at two steps, extrapolated. */
function slopeOf(
  entries: Entries,
  name: string,
  parameter: string,
  value: number,
  read: (entries: Entries) => Pair,
): readonly [number, number] {
  // A power of two, so that the changed values are exact.
  const step = 2 ** Math.round(Math.log2(Math.abs(value) * 1e-5));
  const central = (h: number): Pair => {
    const [up, down] = [read(withValue(entries, name, parameter, value + h)), read(withValue(entries, name, parameter, value - h))];
    return [up[0].minus(down[0]).div(2 * h), up[1].minus(down[1]).div(2 * h)];
  };
  const [near, far] = [central(step), central(2 * step)];
  return [0, 1].map((part) => near[part]!.times(4).minus(far[part]!).div(3).toNumber()) as unknown as readonly [number, number];
}

const held = (found: readonly [number, number], exact: readonly [number, number], scale: number): void => {
  expect(Math.hypot(found[0] - exact[0], found[1] - exact[1])).toBeLessThanOrEqual(1e-7 * Math.hypot(...exact) + 1e-8 * scale);
};

describe("two coils that couple", () => {
  // V(b) with I₂ = 0 is jωM·I₁, I₁ = 1/(R + jωL₁).
  const entries = network({
    L1: [inductor(2e-3, { dcr: 1 }), "in", "gnd"],
    L2: [inductor(5e-4), "b", "gnd"],
    R1: [resistor(1e12), "b", "gnd"],
    K1: [coupling(0.3), "L1", "L2"],
  });

  it("give what the second one takes up, in proportion to their factor", () => {
    const { variables, voltage, impedance } = sensitivities(entries, grid, { outputs: ["b"], vary: ["K1", "L1"] });
    expect(variables.map(({ part, parameter }) => `${part}.${parameter}`)).toEqual(["L1.inductance", "L1.dcr", "K1.k"]);
    grid.forEach((f, i) => {
      const x = 2 * Math.PI * f * 2e-3;
      const mutual = 2 * Math.PI * f * 1e-3;
      // jωM/(1 + jx) with M = k·1 mH.
      const [re, im] = [(mutual * x) / (1 + x * x), mutual / (1 + x * x)];
      expect(voltage("b", "K1").re[i]! / re).toBeCloseTo(1, 9);
      expect(voltage("b", "K1").im[i]! / im).toBeCloseTo(1, 9);
      // The input sees R + jωL₁ whatever k is.
      expect(Math.hypot(impedance("K1").re[i]!, impedance("K1").im[i]!)).toBeLessThan(1e-6);
      expect(impedance("L1").im[i]).toBeCloseTo(2 * Math.PI * f, 6);
    });
  });
});

describe("an ideal transformer", () => {
  const loaded = (ratio: number) =>
    network({ R1: [resistor(2), "in", "p"], T1: [transformer({ ratio }), "p", "gnd", "s", "gnd"], load: [resistor(8), "s", "gnd"] });

  it("shows its load times the square of its ratio", () => {
    for (const ratio of [0.5, -1.5, 3]) {
      const { voltage, impedance, impedanceMagnitude } = sensitivities(loaded(ratio), grid, { outputs: ["s", "load"] });
      // V = n·8/(2 + 8n²), Z = 2 + 8n².
      const bottom = 2 + 8 * ratio ** 2;
      expect(voltage("s", "T1", "ratio").re[1]).toBeCloseTo(8 / bottom - (ratio * 8 * 16 * ratio) / bottom ** 2, 12);
      expect(impedance("T1").re[1]).toBeCloseTo(16 * ratio, 10);
      expect(impedanceMagnitude("load")[1]).toBeCloseTo(ratio ** 2, 10);
      expect(voltage("load", "R1").re[2]).toBeCloseTo((-8 * ratio) / bottom ** 2, 12);
    }
  });

  it("is fitted to the ratio that a target asks for", () => {
    const objective = sumObjective(loaded(1), { frequencies: grid, contributions: { load: flat }, target: 0.5, vary: ["T1", "load"] });
    const slopes = new Float64Array(2);
    expect(objective.variables.map(({ part, parameter }) => `${part}.${parameter}`)).toEqual(["load.resistance", "T1.ratio"]);
    // 8n/(2 + 8n²) = ½ at n = 1 ± √¾: the loss is 0 there, and so are its slopes.
    const ratio = 1 + Math.sqrt(0.75);
    expect(objective.lossAndSlopes([8, ratio], slopes)).toBeCloseTo(0, 12);
    expect(Math.hypot(...slopes)).toBeLessThan(1e-7);
    expect(objective.loss([8, 1])).toBeCloseTo((0.8 ** 2 / 0.25 - 1) ** 2, 12);
    expect(objective.along([8, 1], 1)(-1)).toBeCloseTo((0.8 ** 2 / 0.25 - 1) ** 2, 12);
  });
});

describe("arbitrary networks behind couplings and transformers", () => {
  /** An arbitrary network, whose `in` becomes the secondary of an ideal transformer, and a pair of tightly coupled coils at its end. */
  const arbitrary = fc
    .tuple(
      arbitraryNetwork({ decades: 2, kinds: ["resistor", "lossy coil", "lossy capacitor"], coupled: true, nodes: 4 }),
      uniform(0.3, 3),
      uniform(-0.99, 0.99),
    )
    .map(([inner, ratio, k]): Entries => {
      const moved = Object.entries(inner).map(([name, [part, ...nodes]]) => [
        name,
        [part, ...nodes.map((node) => (node === "in" ? "secondary" : node))],
      ]);
      return {
        Rs: [resistor(1.5), "in", "primary"],
        T1: [transformer({ ratio }), "primary", "gnd", "secondary", "gnd"],
        ...Object.fromEntries(moved),
        La: [inductor(1e-3, { dcr: 0.2 }), "secondary", "x"],
        Lb: [inductor(4e-4, { dcr: 0.1 }), "y", "gnd"],
        Rx: [resistor(5), "x", "gnd"],
        Ry: [resistor(7), "y", "x"],
        Kab: [coupling(k === 0 ? 0.5 : k), "La", "Lb"],
      } as Entries;
    });

  it("have the slopes that differences in 50 digits have", () => {
    fc.assert(
      fc.property(arbitrary, uniform(0, 1), (entries, pick) => {
        const couplings = Object.keys(entries).filter((name) => entries[name]![0].kind === "coupling");
        const parts = Object.keys(entries).filter((name) => !couplings.includes(name));
        const slopes = sensitivities<Entries>(entries, grid, { outputs: ["y"], vary: [...parts, ...couplings] });
        const i = Math.floor(pick * grid.length);
        const volts = solve(entries, grid).voltage("y");
        const size = Math.hypot(volts.re[i]!, volts.im[i]!);
        // Three of the variables a case, the ratio and a coupling among them.
        const some = [
          ...slopes.variables.filter(({ part }) => part === "T1" || part === "Kab"),
          slopes.variables[Math.floor(pick * 7919) % slopes.variables.length]!,
        ];
        for (const { part, parameter, value } of some) {
          const found = slopes.voltage("y", part, parameter);
          const exact = slopeOf(entries, part, parameter, value, (each) => solvePrecisely(each, grid[i]!).voltage("y") as unknown as Pair);
          held([found.re[i]!, found.im[i]!], exact, size / Math.abs(value));
          const ohms = slopes.impedance(part, parameter);
          const impedance = (each: Entries): Pair => {
            const [re, im] = solvePrecisely(each, grid[i]!).source as unknown as Pair;
            const square = re.times(re).plus(im.times(im));
            return [re.div(square), im.neg().div(square)];
          };
          const [zr, zi] = impedance(entries);
          held(
            [ohms.re[i]!, ohms.im[i]!],
            slopeOf(entries, part, parameter, value, impedance),
            Math.hypot(zr.toNumber(), zi.toNumber()) / Math.abs(value),
          );
        }
      }),
      { numRuns: cases(12) },
    );
  });
});

describe("the loss", () => {
  const entries = network({
    L1: [inductor(0.9e-3, { dcr: 0.3 }), "in", "w"],
    C1: [capacitor(12e-6, { esr: 0.05 }), "w", "gnd"],
    woofer: [resistor(5.6), "w", "gnd"],
    C2: [capacitor(6.8e-6, { esr: 0.02 }), "in", "a"],
    L2: [inductor(0.3e-3, { dcr: 0.2 }), "a", "gnd"],
    tweeter: [resistor(6), "a", "gnd"],
    K1: [coupling(0.1), "L1", "L2"],
  });
  const options = { frequencies: grid, contributions: { woofer: flat, tweeter: flat }, target: 0.9, sourceImpedance: 0.4 } as const;

  it("is the same by rows as by elimination, with the same slopes, where both can be", () => {
    const fast = sumObjective(entries, { ...options, vary: ["L1", "C1"] });
    const rows = sumObjective(entries, { ...options, vary: ["L1", "C1", "K1"] });
    const values = [0.8e-3, 14e-6];
    const [a, b] = [new Float64Array(2), new Float64Array(3)];
    expect(rows.lossAndSlopes([...values, 0.1], b) / fast.lossAndSlopes(values, a)).toBeCloseTo(1, 10);
    a.forEach((slope, index) => expect(b[index]! / slope).toBeCloseTo(1, 8));
    // By the factor: differences of the loss that the network has with other factors, from the fast way.
    const at = (k: number) => sumObjective({ ...entries, K1: [coupling(k), "L1", "L2"] }, { ...options, vary: ["L1", "C1"] }).loss(values);
    expect(b[2]! / ((at(0.1001) - at(0.0999)) / 2e-4)).toBeCloseTo(1, 6);
    expect(rows.along([...values, 0.1], 2)(-0.4)).toBeCloseTo(at(-0.4), 10);
  });

  it("refuses factors that no coils can have, and nonsense", () => {
    const code = (step: () => unknown): string => {
      try {
        step();
      } catch (error) {
        if (error instanceof DividingNetworkError) return error.code;
        throw error;
      }
      return "";
    };
    const three = {
      ...entries,
      L3: [inductor(1e-3), "a", "gnd"],
      K2: [coupling(0.6), "L1", "L3"],
      K3: [coupling(0.6), "L2", "L3"],
    } as unknown as Entries;
    const rows = sumObjective(three, { ...options, vary: ["K1"] });
    expect(code(() => rows.loss([-0.9]))).toBe("invalid-argument");
    expect(code(() => rows.loss([1]))).toBe("invalid-argument");
    expect(code(() => rows.loss([NaN]))).toBe("invalid-argument");
    expect(code(() => rows.loss([]))).toBe("invalid-argument");
    expect(code(() => sumObjective(entries, { ...options, vary: ["K9"] }))).toBe("unknown-part");
    expect(code(() => sensitivities(entries, grid, { outputs: ["w"], vary: ["K9" as "K1"] }))).toBe("unknown-part");
  });
});
