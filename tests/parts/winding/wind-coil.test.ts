// Tests src/parts/: coil-formula.ts
// Tests src/parts/winding/: self-resonance.ts, winding-resistance.ts, wound-coil.ts
// A coil wound from wire: its numbers against one another, against sums over its single turns, and its way back.
import {
  coaxialMutualInductance,
  selfResonance,
  smallestCoil,
  turnsToTakeOff,
  windCoil,
  windingInductance,
  windingResistance,
  wireDiameter,
  wireResistance,
} from "dividing-network/parts";
import { copperResistivity, VACUUM_PERMEABILITY } from "dividing-network/physics";
import { solve } from "dividing-network/network";
import { valueAt } from "dividing-network/response";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cases } from "../../support/cases";
import { uniform } from "../../support/uniform";
import { meanSquareField } from "../../../src/parts/winding/winding-resistance";

const former = { diameter: 0.03, length: 0.02 };
const made = windCoil({ inductance: 0.82e-3, wire: { diameter: 1.2e-3 }, former });

/**
 * What half a turn changes, relative, times the number of turns: L grows as N² times a radius, which grows by the depth at most, and so at most as N;
 * half of the exponent 3.
 */
const HALF_A_TURN = 1.5;

describe("a wound coil", () => {
  it("has the inductance of its single round turns, each with each, to 0.3 %", () => {
    // A coil of full layers: every turn a circle of round wire at its place; its own inductance µ₀a(ln(16a/d) − 7/4).
    const coil = windCoil({
      inductance: 0.2e-3,
      wire: { diameter: 1e-3, insulation: 0.05e-3 },
      former: { innerRadius: 0.012, length: 0.0111 },
    });
    const left = turnsToTakeOff(coil, coil.inductance * ((coil.turns - (coil.turns % 10)) / coil.turns) ** 2.1).coil;
    expect(left.turns % left.turnsPerLayer).toBe(0);
    const turns = Array.from({ length: left.turns }, (_, i) => ({
      radius: 0.012 + (Math.floor(i / 10) + 0.5) * 1.1e-3,
      z: (i % 10) * 1.1e-3,
    }));
    let sum = 0;
    for (const [i, one] of turns.entries()) {
      sum += VACUUM_PERMEABILITY * one.radius * (Math.log((16 * one.radius) / 1e-3) - 1.75);
      for (const other of turns.slice(0, i))
        sum += 2 * coaxialMutualInductance({ radiusA: one.radius, radiusB: other.radius, distance: one.z - other.z });
    }
    expect(Math.abs(left.inductance / sum - 1)).toBeLessThan(3e-3);
    expect(Math.abs(windingInductance(left.winding) / sum - 1)).toBeGreaterThan(Math.abs(left.inductance / sum - 1));
  });

  it("comes as near to the inductance asked for as a whole turn allows, and its numbers belong together", () => {
    fc.assert(
      fc.property(uniform(-5, -2), uniform(14, 22), uniform(0.006, 0.03), uniform(0.01, 0.05), (exponent, awg, innerRadius, length) => {
        const inductance = 10 ** exponent;
        const coil = windCoil({ inductance, wire: { awg }, former: { innerRadius, length } });
        expect(Math.abs(coil.inductance / inductance - 1)).toBeLessThan(HALF_A_TURN / coil.turns);
        expect(coil.wireLength).toBeCloseTo(2 * Math.PI * coil.winding.meanRadius * coil.turns, 10);
        expect(coil.dcr).toBeCloseTo(wireResistance({ diameter: wireDiameter({ awg }), length: coil.wireLength }), 10);
        expect(coil.layers).toBe(Math.ceil(coil.turns / coil.turnsPerLayer));
        expect(coil.winding.length).toBeLessThanOrEqual(length * (1 + 1e-9));
        expect(coil.part).toEqual({ kind: "inductor", inductance: coil.inductance, dcr: coil.dcr });
        expect(Object.isFrozen(coil) && Object.isFrozen(coil.winding)).toBe(true);
      }),
      { numRuns: cases(25) },
    );
  });

  it("is as near to the inductance asked for where it is thick, and a turn counts by more than its square", () => {
    const coil = windCoil({
      inductance: 10 ** -2.292947999201715,
      wire: { awg: 14 },
      former: { innerRadius: 0.006, length: 0.03310846488922835 },
    });
    const fewer = turnsToTakeOff(coil, coil.inductance * (1 - 1.9 / coil.turns)).coil;
    const exponent = Math.log(coil.inductance / fewer.inductance) / Math.log(coil.turns / fewer.turns);
    expect(fewer.turns).toBeLessThan(coil.turns);
    expect(exponent).toBeGreaterThan(2);
    expect(exponent).toBeLessThan(3);
    expect(Math.abs(coil.inductance / 10 ** -2.292947999201715 - 1)).toBeLessThan((exponent / 2) * (1.001 / coil.turns));
  });

  it("is a part of a network", () => {
    const z = valueAt(solve({ L1: [made.part, "in", "gnd"] }, [100]).impedance, 100);
    expect(z.re).toBeCloseTo(made.dcr, 12);
    expect(z.im).toBeCloseTo(200 * Math.PI * made.inductance, 12);
  });

  it("without a wire takes the thinnest gauge that keeps the resistance", () => {
    const coil = windCoil({ inductance: 0.5e-3, former, largestDcr: 0.3 });
    expect(coil.dcr).toBeLessThanOrEqual(0.3);
    const awg = 36 - (39 * Math.log(coil.wire.diameter / 0.127e-3)) / Math.log(92);
    expect(awg).toBeCloseTo(Math.round(awg), 9);
    expect(() => windCoil({ inductance: 0.5e-3, wire: { awg: awg + 1 }, former, largestDcr: 0.3 })).toThrow(
      expect.objectContaining({ code: "no-such-coil" }),
    );
  });

  it("has more resistance when warm", () => {
    const warm = windCoil({ inductance: 0.82e-3, wire: { diameter: 1.2e-3 }, former, temperature: 80 });
    expect(warm.turns).toBe(made.turns);
    expect(warm.dcr / made.dcr).toBeCloseTo(copperResistivity({ temperature: 80 }) / copperResistivity(), 12);
  });

  it("loses turns for a smaller value, from the outside", () => {
    const { turns, coil } = turnsToTakeOff(made, 0.68e-3);
    expect(coil.turns).toBe(made.turns - turns);
    expect(Math.abs(coil.inductance / 0.68e-3 - 1)).toBeLessThan(0.01);
    expect(coil).toEqual(windCoil({ inductance: 0.68e-3, wire: { diameter: 1.2e-3 }, former }));
    expect(turnsToTakeOff(made, made.inductance).turns).toBe(0);
    expect(() => turnsToTakeOff(made, 1e-3)).toThrow(/"inductance" must be/);
  });

  it.each([
    ["no wire and no resistance", { inductance: 1e-3, former }],
    ["two wires in one", { inductance: 1e-3, wire: { awg: 18, diameter: 1e-3 }, former }],
    ["no former", { inductance: 1e-3, wire: { awg: 18 } }],
    ["a wire thicker than the room", { inductance: 1e-3, wire: { diameter: 0.03 }, former }],
    ["nothing", undefined],
    ["an unknown key", { inductance: 1e-3, wire: { awg: 18 }, former, core: "air" }],
  ])("%s is refused", (_what, options) => {
    expect(() => windCoil(options as never)).toThrow(expect.objectContaining({ name: "DividingNetworkError" }));
  });
});

describe("the smallest coil", () => {
  it("is what winding on its former with its wire gives", () => {
    const small = smallestCoil({ inductance: 1e-3, dcr: 0.3, fill: 0.9 });
    const insulation = (small.wireDiameter * (1 / 0.9 - 1)) / 2;
    const coil = windCoil({
      inductance: 1e-3,
      wire: { diameter: small.wireDiameter, insulation },
      former: { innerRadius: small.innerRadius, length: small.innerRadius },
    });
    // Whole turns and layers, and the correction for round wire.
    expect(Math.abs(coil.turns / small.turns - 1)).toBeLessThan(0.03);
    expect(Math.abs(coil.dcr / 0.3 - 1)).toBeLessThan(0.06);
    expect(Math.abs(coil.outerDiameter / small.outerDiameter - 1)).toBeLessThan(0.06);
    expect(coil.copperMass / small.copperMass).toBeCloseTo(1, 1);
  });

  it("takes less copper than coils on other formers with the same resistance", () => {
    const { copperMass } = smallestCoil({ inductance: 1e-3, dcr: 0.3 });
    // Over lengths of former: the wire that just keeps the resistance, by halving.
    for (const [innerRadius, length] of [
      [0.01, 0.015],
      [0.02, 0.06],
      [0.035, 0.01],
      [0.03, 0.03],
    ] as const) {
      let [thin, thick] = [0.3e-3, 4e-3];
      for (let i = 0; i < 20; i++) {
        const middle = (thin + thick) / 2;
        const coil = windCoil({
          inductance: 1e-3,
          wire: { diameter: middle, insulation: (middle * (1 / 0.92 - 1)) / 2 },
          former: { innerRadius, length },
        });
        if (coil.dcr > 0.3) thin = middle;
        else thick = middle;
      }
      const coil = windCoil({
        inductance: 1e-3,
        wire: { diameter: thick, insulation: (thick * (1 / 0.92 - 1)) / 2 },
        former: { innerRadius, length },
      });
      expect(coil.copperMass).toBeGreaterThan(copperMass);
    }
  });
});

describe("the resistance of a winding at a frequency", () => {
  it("rests on a mean square field that is 1/(3l²) in a long coil: from 1/l inside to 0 outside in a straight line", () => {
    // Its ends, where the field is half, take some per cent off.
    expect(Math.abs(meanSquareField({ meanRadius: 0.2, length: 6, depth: 0.1 }) * 3 * 6 ** 2 - 1)).toBeLessThan(0.12);
  });

  it("and that of a straight square conductor in a ring whose bore is wide", () => {
    const disc = meanSquareField({ meanRadius: 1000, length: 1, depth: 1 });
    // Straight filaments in a finer lattice.
    const n = 30;
    let sum = 0;
    for (let i = 0; i <= n; i++)
      for (let k = 0; k <= n; k++) {
        let [x, y] = [0, 0];
        for (let m = 0; m < n; m++)
          for (let p = 0; p < n; p++) {
            const [dx, dy] = [(i - m - 0.5) / n, (k - p - 0.5) / n];
            x += dy / (2 * Math.PI * (dx * dx + dy * dy) * n * n);
            y += dx / (2 * Math.PI * (dx * dx + dy * dy) * n * n);
          }
        sum += ((i % n === 0 ? 0.5 : 1) * (k % n === 0 ? 0.5 : 1) * (x * x + y * y)) / (n * n);
      }
    expect(Math.abs(disc / sum - 1)).toBeLessThan(0.02);
  });

  it("is the direct-current resistance at 0 Hz and grows with the square of a low frequency", () => {
    expect(windingResistance(made, 0)).toEqual({ resistance: made.dcr, skinRatio: 1, proximityRatio: 0 });
    const [a, b] = [windingResistance(made, 10), windingResistance(made, 20)];
    expect(b.proximityRatio / a.proximityRatio).toBeCloseTo(4, 4);
    expect((b.skinRatio - 1) / (a.skinRatio - 1)).toBeCloseTo(4, 4);
  });

  it("in a winding of many layers is more of the neighbours' making than of the wire's own", () => {
    const { skinRatio, proximityRatio } = windingResistance(made, 1000);
    expect(proximityRatio).toBeGreaterThan(20 * (skinRatio - 1));
  });
});

describe("the self-resonance", () => {
  it("of a crossover coil lies far above the audio band, and falls with its size", () => {
    expect(selfResonance(made).frequency).toBeGreaterThan(2e5);
    const layer = windCoil({ inductance: 20e-6, wire: { diameter: 1e-3 }, former: { diameter: 0.04, length: 0.06 } });
    expect(layer.layers).toBe(1);
    expect(selfResonance(layer).frequency).toBeGreaterThan(5e6);
    expect(() => selfResonance({} as never)).toThrow(/windCoil/);
  });
});
