// Tests src/network/slopes/: beyond.ts, objective-aim.ts, products.ts, slopes-of-sums.ts, value-places.ts
// Parts in series, whose slopes come from the one current that they share. By hand: V = U·R/Z with Z the sum of a chain's impedances, so that
// ∂V/∂x = −U·R/Z²·∂Z/∂x for x outside R, with ∂Z/∂L = jω, ∂Z/∂R = 1 and Z = R + (t − j)/(ωC) of a capacitor. Chains among whatever lies beside them: against
// differences of the loss itself.
import { capacitor, inductor, network, resistor, valueAt, type Entries, type Entry } from "dividing-network";
import { sensitivities, sumObjective } from "dividing-network/network";
import { Complex } from "complex.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { arbitraryNetwork } from "../support/arbitrary-network";
import { cases, searchFactor } from "../support/cases";
import { flat, worstSlope } from "../support/slope-differences";
import { uniform } from "../support/uniform";

const [L, dcr, C, esr, C2, tan, R, load] = [0.8e-3, 0.4, 12e-6, 0.3, 30e-6, 0.02, 1.5, 6];
const chain = network({
  L1: [inductor(L, { dcr }), "in", "a"],
  C1: [capacitor(C, { esr }), "d", "a"],
  C2: [capacitor(C2, { dissipationFactor: tan }), "d", "b"],
  R1: [resistor(R), "b", "c"],
  Rload: [resistor(load), "c", "gnd"],
});

/** V across the load, ∂V/∂Z of the chain before it, and ∂Z of each value, by hand. */
function byHand(frequency: number) {
  const w = 2 * Math.PI * frequency;
  const z = new Complex(dcr + esr + tan / (w * C2) + R + load, w * L - 1 / (w * C) - 1 / (w * C2));
  const slopes: Readonly<Record<string, Complex>> = {
    "L1.inductance": new Complex(0, w),
    "L1.dcr": new Complex(1, 0),
    "C1.capacitance": new Complex(0, 1).div(w * C * C),
    "C1.esr": new Complex(1, 0),
    "C1.dissipationFactor": new Complex(1 / (w * C), 0),
    "C2.capacitance": new Complex(-tan, 1).div(w * C2 * C2),
    "C2.esr": new Complex(1, 0),
    "C2.dissipationFactor": new Complex(1 / (w * C2), 0),
    "R1.resistance": new Complex(1, 0),
  };
  return { volts: new Complex(load, 0).div(z), by: new Complex(-load, 0).div(z.mul(z)), slopes };
}

describe("the slopes of parts in series", () => {
  it.each([60, 700, 1624.4, 9000])("are those of a chain by hand, of the voltage behind it (%d Hz)", (frequency) => {
    const found = sensitivities(chain, [frequency], { outputs: ["c", "Rload"] });
    const { by, slopes } = byHand(frequency);
    for (const [name, slope] of Object.entries(slopes)) {
      const [part, parameter] = name.split(".") as [string, string];
      for (const output of ["c", "Rload"]) {
        const { re, im } = valueAt(found.voltage(output, part, parameter), frequency);
        const expected = by.mul(slope);
        expect(Math.hypot(re - expected.re, im - expected.im)).toBeLessThan(1e-13 * expected.abs());
      }
    }
  });

  it("are those of a chain by hand, of a sum's loss", () => {
    const frequencies = [60, 700, 1624.4, 9000];
    const objective = sumObjective(chain, { frequencies, contributions: { Rload: flat }, target: 0.8, parasitics: true });
    const slopes = new Float64Array(objective.variables.length);
    objective.lossAndSlopes(
      objective.variables.map(({ value }) => value),
      slopes,
    );
    // The loss is the mean of (|V|²/T² − 1)²: its slope that of 4·(|V|²/T² − 1)·Re(conj V·∂V)/T².
    objective.variables.forEach(({ part, parameter }, k) => {
      if (part === "Rload") return;
      let expected = 0;
      for (const frequency of frequencies) {
        const { volts, by, slopes: dz } = byHand(frequency);
        const change = volts.conjugate().mul(by).mul(dz[`${part}.${parameter}`]!).re;
        expected += ((4 * (volts.abs() ** 2 / 0.64 - 1)) / 0.64) * change;
      }
      expect(slopes[k]! / (expected / 4)).toBeCloseTo(1, 12);
    });
  });

  it("are those of differences, where parts of arbitrary networks are chains", () => {
    fc.assert(
      fc.property(
        arbitraryNetwork({ decades: 2, nodes: 4, kinds: ["resistor", "lossy coil", "lossy capacitor"] }),
        fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 4, maxLength: 16 }),
        uniform(-1, 1),
        (drawn, extra, size) => {
          const entries = chained(drawn, extra, size);
          // Heard across a part that may lie within a chain, and behind it all.
          const heard = [Object.keys(entries)[0]!, "Rload"];
          expect(worstSlope(entries, heard, Object.keys(entries))).toBeLessThan(2e-6);
        },
      ),
      { numRuns: cases(60), ...(searchFactor > 0 ? {} : { seed: 11 }) },
    );
  });

  it("keep their digits with the smallest and largest values that a network takes", () => {
    const extreme = network({
      C1: [capacitor(1e-30), "in", "a"],
      L1: [inductor(1e-30), "a", "b"],
      R1: [resistor(1e-30), "b", "c"],
      Rload: [resistor(1e30), "c", "gnd"],
    });
    const w = 2 * Math.PI * 1e-3;
    // With x = ωCR = ω here V = jx/(1 + jx), and C·∂V/∂C = jx/(1 + jx)².
    const { re, im } = valueAt(sensitivities(extreme, [1e-3], { outputs: ["c"] }).voltage("c", "C1"), 1e-3);
    const expected = new Complex(0, w).div(new Complex(1, w).pow(2));
    expect(re * 1e-30).toBeCloseTo(expected.re, 13);
    expect(im * 1e-30).toBeCloseTo(expected.im, 13);
  });
});

/** The same network with each part the first of a chain of up to four. */
function chained(entries: Entries, extra: readonly number[], size: number): Entries {
  const kinds = [
    resistor(3 * 2 ** size),
    inductor(0.4e-3 * 2 ** -size, { dcr: 0.2 }),
    capacitor(9e-6 * 2 ** size, size > 0 ? { esr: 0.1 } : { dissipationFactor: 0.01 }),
  ];
  const made: Record<string, Entry> = {};
  Object.entries(entries).forEach(([name, [part, first, ...rest]], index) => {
    const last = rest.at(-1)!;
    const more = extra[index % extra.length]!;
    const nodes = [first, ...Array.from({ length: more }, (_, k) => `${name}_node${k}`), last];
    made[name] = [part, nodes[0], nodes[1]] as unknown as Entry;
    for (let k = 1; k <= more; k++) made[`${name}_${k}`] = [kinds[(index + k) % 3]!, nodes[k]!, nodes[k + 1]!] as unknown as Entry;
  });
  made["Rout"] = [resistor(4), Object.values(entries)[0]![1], "out"] as unknown as Entry;
  made["Rload"] = [resistor(8), "out", "gnd"];
  return made;
}
