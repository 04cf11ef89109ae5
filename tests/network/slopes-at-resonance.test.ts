// Tests src/network/slopes/: check-run.ts, fast-derivatives.ts, objective.ts, objective-by-rows.ts
// Slopes exactly where parts resonate without loss, against the closed form of a series circuit; and what has no slope, or is none of
// an objective's values, is refused in words. No source but algebra.
import { sensitivities, sumObjective, type Entries } from "dividing-network/network";
import { capacitor, inductor, resistor, transformer } from "dividing-network/parts";
import { frequencyResponse, valueAt } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const [l, c, r] = [1e-3, 1e-5, 4];
const resonance = 1 / (2 * Math.PI * Math.sqrt(l * c));
const omega = 2 * Math.PI * resonance;
/** R, then C and L in series, which short their node at the resonance: V(x) = jωL / (R + jωL + 1/(jωC)). */
const shorted: Entries = { R1: [resistor(r), "in", "a"], C1: [capacitor(c), "a", "x"], L1: [inductor(l), "x", "gnd"] };
const one = frequencyResponse([1, 1e5], [1, 1], [0, 0]);
const refusal = (work: () => unknown): { readonly code: string; readonly message: string; readonly hint?: string } => {
  try {
    work();
  } catch (error) {
    return error as { code: string; message: string };
  }
  throw new Error("nothing was refused");
};

describe("a series resonance without loss behind a resistance", () => {
  it("has the slopes of the closed form", () => {
    const slopes = sensitivities(shorted, [resonance], { outputs: ["x"] });
    // With jωL + 1/(jωC) = 0 the denominator is R, and 1/(jωC) is −jωL.
    const byL = valueAt(slopes.voltage("x", "L1"), resonance);
    expect(byL.re).toBeCloseTo((omega ** 2 * l) / r ** 2, 4);
    expect(byL.im).toBeCloseTo(omega / r, 4);
    const byR = valueAt(slopes.voltage("x", "R1"), resonance);
    expect(byR.re).toBeCloseTo(0, 9);
    expect(byR.im).toBeCloseTo((-omega * l) / r ** 2, 9);
  });

  it("lets an objective be evaluated, with its slopes", () => {
    const size = (omega * l) / r;
    const objective = sumObjective(shorted, { frequencies: [resonance], contributions: { L1: one }, target: size / 2, vary: ["R1", "L1"] });
    const slopes = new Float64Array(2);
    // |V|² = 4·target², so that the miss is 3; its slope by R is −2·4/R.
    expect(objective.loss([r, l])).toBeCloseTo(9, 9);
    expect(objective.lossAndSlopes([r, l], slopes)).toBeCloseTo(9, 9);
    expect(slopes[0]).toBeCloseTo((2 * 3 * -2 * 4) / r, 7);
    // |V|² = ω²L² / (R² + (ωL − 1/(ωC))²): at the resonance its slope by L is 2/L of itself.
    expect(slopes[1]! * l).toBeCloseTo(2 * 3 * 2 * 4, 7);
    expect(objective.along([r, l], 0)(r)).toBeCloseTo(9, 9);
  });

  it("is refused where it lies across the source itself", () => {
    const entries: Entries = { C1: [capacitor(c), "in", "x"], L1: [inductor(l), "x", "gnd"] };
    const { code, message } = refusal(() => sensitivities(entries, [resonance], { outputs: ["x"] }).voltage("x", "L1"));
    expect(code).toBe("no-solution");
    expect(message).toMatch(/^sensitivities: the network has no finite solution at 1591\.5/);
  });
});

describe("a trap without loss in the only way of the current", () => {
  const entries: Entries = { C1: [capacitor(c), "in", "x"], L1: [inductor(l), "in", "x"], R1: [resistor(8), "x", "gnd"] };

  for (const [way, network] of [
    ["by elimination", entries],
    ["by rows", { ...entries, T1: [transformer({ ratio: 2 }), "x", "gnd", "y", "gnd"], R2: [resistor(3), "y", "gnd"] } satisfies Entries],
  ] as const)
    it(`has slopes of its voltages, and none of the infinite impedance (${way})`, () => {
      const slopes = sensitivities(network, [resonance], { outputs: ["x"] });
      expect(Number.isFinite(slopes.voltage("x", "L1").re[0])).toBe(true);
      for (const ask of [() => slopes.impedance("L1"), () => slopes.impedanceMagnitude("C1")]) {
        const { code, message } = refusal(ask);
        expect(code).toBe("infinite-impedance");
        expect(message).toMatch(/^sensitivities: no current flows at 1591\.5/);
      }
    });
});

describe("an objective", () => {
  const entries: Entries = { R1: [resistor(2), "in", "t"], R2: [resistor(8), "t", "gnd"] };
  const wound: Entries = { ...entries, T1: [transformer({ ratio: 2 }), "t", "gnd", "y", "gnd"], R3: [resistor(3), "y", "gnd"] };

  it("leaves links of 0 Ω and coils of 0 H out of what varies, and refuses them by name", () => {
    const linked: Entries = {
      W1: [resistor(0), "in", "a"],
      L1: [inductor(0), "a", "b"],
      R1: [resistor(2), "b", "t"],
      R2: [resistor(8), "t", "gnd"],
    };
    const options = { frequencies: [1000], contributions: { R2: one }, target: 0.8 };
    const objective = sumObjective(linked, options);
    expect(objective.variables.map(({ part }) => part)).toEqual(["R1", "R2"]);
    expect(objective.loss([2, 8])).toBeCloseTo(0, 12);
    for (const name of ["W1", "L1"]) {
      const { code, message } = refusal(() => sumObjective(linked, { ...options, vary: [name] }));
      expect(code).toBe("invalid-argument");
      expect(message).toContain(`of "${name}" can't vary from 0. Give "${name}" a value above 0`);
    }
  });

  for (const [way, network] of [
    ["by elimination", entries],
    ["by rows", wound],
  ] as const) {
    it(`refuses what isn't its values, or no room for its slopes (${way})`, () => {
      const objective = sumObjective(network, { frequencies: [1000], contributions: { R2: one }, target: 0.8, vary: ["R1", "R2"] });
      const odd: readonly unknown[] = [undefined, null, 3, "28", [2], [2, 8, 3], {}];
      for (const values of odd) {
        for (const call of [
          () => objective.loss(values as number[]),
          () => objective.lossAndSlopes(values as number[], new Float64Array(2)),
          () => objective.along(values as number[], 0),
        ]) {
          const { code, message } = refusal(call);
          expect(code).toBe("invalid-argument");
          expect(message).toContain("sumObjective: there must be 2 values, got");
        }
      }
      for (const slopes of [undefined, new Float64Array(1), [0, 0], new Float32Array(2)])
        expect(refusal(() => objective.lossAndSlopes([2, 8], slopes as Float64Array)).message).toContain(
          'sumObjective: "slopes" must be a Float64Array of 2 numbers',
        );
      for (const value of [NaN, Infinity, "2"]) expect(refusal(() => objective.loss([value as number, 8])).code).toBe("invalid-argument");
    });

    it(`lets no Infinity out (${way})`, () => {
      const huge = frequencyResponse([1, 1e5], [1e160, 1e160], [0, 0]);
      const objective = sumObjective(network, { frequencies: [1000], contributions: { R2: huge }, target: 1e-90, vary: ["R1"] });
      for (const call of [() => objective.loss([2]), () => objective.lossAndSlopes([2], new Float64Array(1))]) {
        const { code, message } = refusal(call);
        expect(code).toBe("no-solution");
        expect(message).toContain("sumObjective: the loss has no finite value");
      }
    });
  }
});
