// The law of coils of one wire on one former: against coils of whole turns, against differences, and how it scales.
import { windCoil, woundCoilLaw } from "dividing-network/parts";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";

const wire = { diameter: 1.2e-3, insulation: 0.05e-3 };
const former = { innerRadius: 0.015, length: 0.02 };
const law = woundCoilLaw({ wire, former });

describe("the law of wound coils", () => {
  it("is windCoil at whole turns", () => {
    fc.assert(
      fc.property(
        uniform(-7, -2),
        uniform(10, 26),
        uniform(0.006, 0.03),
        uniform(0.01, 0.05),
        uniform(-20, 120),
        (exponent, awg, innerRadius, length, temperature) => {
          const shape = { wire: { awg }, former: { innerRadius, length }, temperature };
          const coil = windCoil({ inductance: 10 ** exponent, ...shape });
          expect(Math.abs(woundCoilLaw(shape).resistance(coil.inductance) / coil.dcr - 1)).toBeLessThan(1e-11);
        },
      ),
      { numRuns: cases(25) },
    );
  });

  it("has the slope of its differences, on either side of a full first layer", () => {
    fc.assert(
      fc.property(uniform(-7, -1.5), (exponent) => {
        const inductance = 10 ** exponent;
        const h = 1e-5;
        const difference = (law.resistance(inductance * (1 + h)) - law.resistance(inductance * (1 - h))) / (2 * h * inductance);
        expect(Math.abs(law.slope(inductance) / difference - 1)).toBeLessThan(1e-5);
      }),
      { numRuns: cases(25) },
    );
    // 15 turns of 1.3 mm fill the 20 mm.
    const full = windCoil({ inductance: 6.5e-6, wire, former });
    expect([full.turns, full.turnsPerLayer]).toEqual([15, 15]);
    for (const side of [-1, 1]) {
      const near = full.inductance * (1 + side * 1e-6);
      const difference = (law.resistance(near * (1 + side * 1e-5)) - law.resistance(near)) / (side * 1e-5 * near);
      expect(Math.abs(law.slope(near) / difference - 1)).toBeLessThan(1e-4);
    }
  });

  it("scales: everything k times as large has k times the inductance at 1/k of the resistance", () => {
    fc.assert(
      fc.property(uniform(-6, -2), uniform(0.5, 3), (exponent, k) => {
        const larger = woundCoilLaw({
          wire: { diameter: k * wire.diameter, insulation: k * wire.insulation },
          former: { innerRadius: k * former.innerRadius, length: k * former.length * (1 + 1e-12) },
        });
        const ratio = (k * larger.resistance(k * 10 ** exponent)) / law.resistance(10 ** exponent);
        expect(Math.abs(ratio - 1)).toBeLessThan(1e-9);
      }),
      { numRuns: cases(25) },
    );
  });

  it("rises with inductance, also for parts of one turn, and takes text", () => {
    const values = [1e-12, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 0.1, 1].map((inductance) => law.resistance(inductance));
    expect(values.every((ohms, at) => Number.isFinite(ohms) && ohms > (values[at - 1] ?? 0))).toBe(true);
    expect(law.resistance("1 mH")).toBe(law.resistance(1e-3));
  });

  it("refuses what can't be wound", () => {
    expect(() => woundCoilLaw({ wire: { diameter: "3 cm" }, former })).toThrow(expect.objectContaining({ code: "no-such-coil" }));
    expect(() => woundCoilLaw({ wire: { diameter: "10 µm" }, former: { innerRadius: "0.1 mm", length: "10 m" } }).resistance(1)).toThrow(
      expect.objectContaining({ code: "no-such-coil" }),
    );
    for (const bad of [0, -1e-3, Number.NaN, Infinity, 101, "1 Ω" as never]) {
      expect(() => law.resistance(bad)).toThrow(/woundCoilLaw: "inductance"/);
      expect(() => law.slope(bad)).toThrow(/woundCoilLaw: "inductance"/);
    }
  });
});
