// Tests src/parts/conductor/: contact-resistance.ts, fuse-resistance.ts, material.ts, skin-effect.ts, wire-run.ts, wire.ts
// Wire, joints and fuses: gauges, resistance with temperature and skin effect, two-wire lines, against closed forms and limits.
import { DividingNetworkError } from "dividing-network/errors";
import {
  contactResistance,
  fuseResistance,
  inductor,
  MILD_STEEL,
  skinEffect,
  wireDiameter,
  wireGauge,
  wireResistance,
  wireRun,
} from "dividing-network/parts";
import { copperResistivity, VACUUM_PERMEABILITY } from "dividing-network/physics";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";

describe("a wire's gauge", () => {
  it("has 0.46 inch at 4/0 and 0.005 inch at 36, and its way back", () => {
    expect(wireDiameter({ awg: -3 })).toBeCloseTo(0.46 * 0.0254, 12);
    expect(wireDiameter({ awg: 36 })).toBeCloseTo(0.005 * 0.0254, 15);
    for (const awg of [-3, 0, 10.5, 18, 40]) expect(wireGauge({ diameter: wireDiameter({ awg }) })).toBeCloseTo(awg, 10);
  });
});

describe("a wire's resistance", () => {
  it("is ρl over the section, and grows with temperature as copper's resistivity", () => {
    expect(wireResistance({ diameter: "2 mm", length: 58 })).toBeCloseTo(1 / Math.PI, 12);
    expect(wireResistance({ diameter: 1e-3, length: 1, temperature: 75 }) / wireResistance({ diameter: 1e-3, length: 1 })).toBeCloseTo(
      copperResistivity({ temperature: 75 }) / copperResistivity(),
      13,
    );
  });

  it("of steel is that of its own resistivity and coefficient", () => {
    expect(wireResistance({ diameter: 1e-3, length: 1, material: MILD_STEEL, temperature: 40 })).toBeCloseTo(
      (4 * 1.5e-7 * 1.1) / Math.PI / 1e-6,
      12,
    );
    expect(() => wireResistance({ diameter: 1e-3, length: 1, material: "gold" as never })).toThrow(/"material" must be/);
    expect(() =>
      wireResistance({ diameter: 1e-3, length: 1, material: { resistivity: 1e-7, temperatureCoefficient: 0.01 }, temperature: -150 }),
    ).toThrow(/above 0 Ω m/);
  });
});

describe("skin effect", () => {
  const exact = uniform(-1, 6).map((exponent) => 10 ** exponent);

  it("is 1 at 0 Hz, and from there resistance only grows and inner inductance only falls", () => {
    expect(skinEffect({ diameter: 1e-3, frequency: 0 })).toEqual({ resistanceRatio: 1, inductanceRatio: 1, skinDepth: Infinity });
    fc.assert(
      fc.property(exact, uniform(1.01, 3), uniform(-4, -1.5), (frequency, factor, exponent) => {
        const diameter = 10 ** exponent;
        const [a, b] = [skinEffect({ diameter, frequency }), skinEffect({ diameter, frequency: factor * frequency })];
        expect(b.resistanceRatio).toBeGreaterThanOrEqual(a.resistanceRatio * (1 - 4e-15));
        expect(b.inductanceRatio).toBeLessThanOrEqual(a.inductanceRatio * (1 + 4e-15));
        expect(a.resistanceRatio).toBeGreaterThanOrEqual(1 - 4e-16);
      }),
      { numRuns: cases(300) },
    );
  });

  it("begins as 1 + x⁴/192 and 1 − x⁴/384, and ends as d/(4δ) + 1/4 and 4δ/d", () => {
    const at = (x: number) => {
      const diameter = 1e-3;
      const frequency = (((2 * x) / diameter) ** 2 / (2 * Math.PI * VACUUM_PERMEABILITY)) * copperResistivity();
      return skinEffect({ diameter, frequency });
    };
    expect((at(0.2).resistanceRatio - 1) / (0.2 ** 4 / 192)).toBeCloseTo(1, 3);
    expect((1 - at(0.2).inductanceRatio) / (0.2 ** 4 / 384)).toBeCloseTo(1, 3);
    const high = at(1000);
    expect(high.resistanceRatio).toBeCloseTo(1e-3 / (4 * high.skinDepth) + 0.25, 3);
    expect(high.inductanceRatio / ((4 * high.skinDepth) / 1e-3)).toBeCloseTo(1, 5);
  });

  it("sets in sooner in steel, by its permeability", () => {
    const steel = skinEffect({ diameter: 1e-3, frequency: 1000, material: MILD_STEEL });
    const equal = skinEffect({ diameter: 1e-3, frequency: 1000 * 200, material: { ...MILD_STEEL, relativePermeability: 1 } });
    expect(steel.resistanceRatio).toBeCloseTo(equal.resistanceRatio, 12);
    expect(steel.resistanceRatio).toBeGreaterThan(skinEffect({ diameter: 1e-3, frequency: 1000 }).resistanceRatio);
  });

  it("is finite for any argument that is taken, and the rest is refused", () => {
    for (const diameter of [1e-300, 1e-9, 1, 1e6])
      for (const frequency of [0, 1e-300, 1, 1e15]) {
        const { resistanceRatio, inductanceRatio } = skinEffect({ diameter, frequency });
        expect(Number.isFinite(resistanceRatio) && inductanceRatio > 0 && inductanceRatio <= 1 + 4e-16).toBe(true);
      }
    expect(() => skinEffect({ diameter: 0, frequency: 1 })).toThrow(DividingNetworkError);
    expect(() => skinEffect({ diameter: 1, frequency: -1 })).toThrow(DividingNetworkError);
  });
});

describe("a run of two wires", () => {
  it("has the inductance of two lines of current: flux between the wires and inside them", () => {
    const { inductance, resistance } = wireRun({ length: 10, diameter: 2e-3, spacing: 8e-3 });
    expect(inductance).toBeCloseTo((VACUUM_PERMEABILITY / Math.PI) * 10 * (Math.log(8) + 0.25), 12);
    expect(resistance).toBeCloseTo(2 * wireResistance({ diameter: 2e-3, length: 10 }), 12);
    // Each doubling of the spacing adds ln 2.
    expect(wireRun({ length: 10, diameter: 2e-3, spacing: 16e-3 }).inductance - inductance).toBeCloseTo(
      (VACUUM_PERMEABILITY / Math.PI) * 10 * Math.log(2),
      12,
    );
  });

  it("at a high frequency keeps the flux between the wires alone", () => {
    const high = wireRun({ length: 10, diameter: 2e-3, spacing: 8e-3, frequency: 1e9 });
    expect(high.inductance / ((VACUUM_PERMEABILITY / Math.PI) * 10 * Math.log(8))).toBeCloseTo(1, 2);
    expect(high.resistance).toBeGreaterThan(wireRun({ length: 10, diameter: 2e-3, spacing: 8e-3 }).resistance * 100);
  });

  it("is a part, and wires inside one another are refused", () => {
    const run = wireRun({ length: 5, diameter: 1.8e-3, spacing: 3e-3 });
    expect(inductor(run.inductance, { dcr: run.resistance })).toMatchObject({ inductance: run.inductance, dcr: run.resistance });
    expect(() => wireRun({ length: 5, diameter: 1.8e-3, spacing: 1e-3 })).toThrow(/"spacing" must be at least/);
  });
});

describe("joints and fuses", () => {
  it("a joint's resistance is a range, in the order in which joints are trusted", () => {
    const highest = (["solder", "screw", "spade", "plug", "switch"] as const).map((kind) => contactResistance(kind).highest);
    expect([...highest].sort((a, b) => a - b)).toEqual(highest);
    expect(contactResistance("solder").lowest).toBeGreaterThan(0);
    expect(() => contactResistance("glue" as never)).toThrow(/"kind" must be one of/);
  });

  it("a fuse's resistance fulfils its model: the rise is in proportion to the power and the rise of resistance to it", () => {
    fc.assert(
      fc.property(uniform(0.1, 10), uniform(0, 1), uniform(1.05, 4), (rating, share, hotRatio) => {
        const at = (current: number) => fuseResistance({ rating, current, hotRatio });
        const { resistance, coldResistance } = at(share * rating);
        const rise = (r: number) => r / coldResistance - 1;
        const full = at(rating).resistance;
        expect(rise(full)).toBeCloseTo(hotRatio - 1, 9);
        expect(rise(resistance)).toBeCloseTo((rise(full) * share * share * resistance) / full, 9);
      }),
      { numRuns: cases(100) },
    );
  });

  it("beyond its rating is refused", () => {
    expect(() => fuseResistance({ rating: 2, current: 2.1 })).toThrow(/"current" must be/);
  });
});
