// Tests src/parts/winding/: self-resonance.ts, smallest-coil.ts, wind-coil.ts, winding-resistance.ts, wound-coil.ts
// A wound coil reckoned by hand, turn for turn, and its estimates by the textbook formulas that their pages name, written again here with numbers put in.
import {
  selfResonance,
  smallestCoil,
  turnsToTakeOff,
  windCoil,
  windingInductance,
  windingResistance,
  wireDiameter,
  woundCoilLaw,
} from "dividing-network/parts";
import { COPPER_DENSITY, copperResistivity, VACUUM_PERMEABILITY } from "dividing-network/physics";
import { describe, expect, it } from "vitest";
import { inductanceOf } from "../../../src/parts/winding/wound-coil";
import { meanSquareField } from "../../../src/parts/winding/winding-resistance";

const refused = (work: () => unknown) => {
  try {
    work();
  } catch (error) {
    return (error as Error).message;
  }
  return "taken";
};

describe("a coil wound from wire, by hand", () => {
  // 1 mm with 0.05 mm of enamel on each side: 1.1 mm a turn, ten turns in 11.1 mm.
  const wire = { diameter: "1 mm", insulation: "0.05 mm" } as const;
  const former = { innerRadius: "12 mm", length: "11.1 mm" } as const;

  it("has turns side by side until the layer is full, then layer on layer, the last counted by its share", () => {
    for (const inductance of [1e-6, 20e-6, 300e-6]) {
      const coil = windCoil({ inductance, wire, former });
      expect(coil.turnsPerLayer).toBe(10);
      const layers = Math.ceil(coil.turns / 10);
      const depth = Math.max(1, coil.turns / 10) * 1.1e-3;
      expect(coil.layers).toBe(layers);
      expect(coil.winding).toEqual({
        turns: coil.turns,
        meanRadius: expect.closeTo(0.012 + depth / 2, 12) as number,
        length: expect.closeTo(Math.min(10, coil.turns) * 1.1e-3, 12) as number,
        depth: expect.closeTo(depth, 12) as number,
      });
      expect(coil.outerDiameter).toBeCloseTo(0.024 + 2 * layers * 1.1e-3, 12);
      expect(coil.wireLength).toBeCloseTo(2 * Math.PI * (0.012 + depth / 2) * coil.turns, 12);
      expect(coil.copperMass / (COPPER_DENSITY * coil.wireLength * (Math.PI / 4) * 1e-6)).toBeCloseTo(1, 12);
      // Uniform current over the section, and µ₀a(ln(pitch/d) + 0.1381) a turn for round wire.
      const round = VACUUM_PERMEABILITY * (0.012 + depth / 2) * (Math.log(1.1) + 0.1381) * coil.turns;
      expect(Math.abs(coil.inductance - windingInductance(coil.winding) - round)).toBeLessThan(3e-4 * round);
      expect([coil.wire, coil.former, coil.temperature]).toEqual([
        { diameter: 1e-3, insulation: 0.05e-3 },
        { innerRadius: 0.012, length: 0.0111 },
        20,
      ]);
      expect(windCoil({ inductance, wire, former: { diameter: "24 mm", length: "11.1 mm" } })).toEqual(coil);
    }
  });

  it("comes to the nearest of two numbers of turns, from one turn on", () => {
    const at = (inductance: number) => windCoil({ inductance, wire, former });
    const of = (turns: number) => inductanceOf(turns, { diameter: 1e-3, insulation: 0.05e-3 }, { innerRadius: 0.012, length: 0.0111 });
    for (const turns of [1, 2, 9, 10, 11, 47]) {
      const middle = (of(turns) + of(turns + 1)) / 2;
      expect([at(of(turns)).turns, at(middle * (1 - 1e-9)).turns, at(middle * (1 + 1e-9)).turns]).toEqual([turns, turns, turns + 1]);
      expect(at(of(turns)).inductance).toBe(of(turns));
    }
    // Less than one turn isn't wound.
    expect(at(of(1) / 3).turns).toBe(1);
  });

  it("has enamel of about 0.045 mm on a side at 1 mm where nothing is said, with the root of the diameter", () => {
    const insulation = (diameter: number) =>
      windCoil({ inductance: 1e-4, wire: { diameter }, former: { diameter: 0.03, length: 0.02 } }).wire.insulation;
    expect(insulation(1e-3)).toBeCloseTo(0.045e-3, 12);
    expect(insulation(4e-3)).toBeCloseTo(0.09e-3, 12);
    expect(insulation(0.25e-3)).toBeCloseTo(0.0225e-3, 12);
  });

  it("of exactly as many turns as the room allows is wound, however the numbers are rounded", () => {
    for (const count of [3, 7, 11, 13]) {
      const { turnsPerLayer } = windCoil({
        inductance: 1e-5,
        wire: { diameter: 0.9e-3, insulation: 0.05e-3 },
        former: { innerRadius: 0.01, length: count * 1e-3 },
      });
      expect(turnsPerLayer).toBe(count);
    }
    // One turn wide: a spiral, layer on layer.
    const spiral = windCoil({
      inductance: 1e-5,
      wire: { diameter: 0.9e-3, insulation: 0.05e-3 },
      former: { innerRadius: 0.01, length: 1e-3 },
    });
    expect([spiral.turnsPerLayer, spiral.layers]).toEqual([1, spiral.turns]);
    expect(
      refused(() =>
        windCoil({ inductance: 1e-5, wire: { diameter: 0.9e-3, insulation: 0.05e-3 }, former: { innerRadius: 0.01, length: 0.99e-3 } }),
      ),
    ).toContain("fit between the cheeks");
  });

  it("by gauge is that of the gauge's diameter, and without a wire the thinnest of 30 to 8 that keeps the resistance", () => {
    const room = { diameter: "30 mm", length: "20 mm" } as const;
    expect(windCoil({ inductance: 1e-3, wire: { awg: 18 }, former: room })).toEqual(
      windCoil({ inductance: 1e-3, wire: { diameter: wireDiameter({ awg: 18 }) }, former: room }),
    );
    expect(windCoil({ inductance: 1e-3, largestDcr: 1e6, former: room }).wire.diameter).toBe(wireDiameter({ awg: 30 }));
    const thick = windCoil({ inductance: 1e-3, wire: { awg: 8 }, former: room });
    expect(windCoil({ inductance: 1e-3, largestDcr: thick.dcr, former: room })).toEqual(thick);
    const message = refused(() => windCoil({ inductance: 1e-3, largestDcr: thick.dcr * 0.999, former: room }));
    expect(message).toContain('"former" must allow 1 mH');
    expect(message).toContain(`${(1000 * thick.dcr).toPrecision(3)} mΩ at least`);
    // A wire of one's own that is too thin says so of the wire.
    const thin = windCoil({ inductance: 1e-3, wire: { awg: 24 }, former: room });
    expect(windCoil({ inductance: 1e-3, wire: { awg: 24 }, largestDcr: thin.dcr, former: room })).toEqual(thin);
    expect(refused(() => windCoil({ inductance: 1e-3, wire: { awg: 24 }, largestDcr: thin.dcr * 0.999, former: room }))).toContain(
      '"wire" must allow 1 mH',
    );
    expect(refused(() => windCoil({ inductance: 1e-3, largestDcr: 10, former: { diameter: "30 mm", length: "0.1 mm" } }))).toContain(
      "fit between the cheeks",
    );
    expect(
      refused(() => windCoil({ inductance: 100, wire: { diameter: "2 mm" }, former: { innerRadius: "0.1 mm", length: "10 m" } })),
    ).toContain("more than 100000 turns");
  });

  it("is refused with half a wire, half a former, or two of either, by what is wrong", () => {
    const room = { diameter: 0.03, length: 0.02 };
    const wound = (more: object) => refused(() => windCoil({ inductance: 1e-3, wire: { awg: 18 }, former: room, ...more } as never));
    expect(wound({})).toBe("taken");
    for (const law of [true, false]) {
      const made = (more: object) =>
        law ? refused(() => woundCoilLaw({ wire: { awg: 18 }, former: room, ...more } as never)) : wound(more);
      expect(made({ wire: {} })).toContain('must have either "awg" or "diameter"');
      expect(made({ wire: { awg: 18, diameter: 1e-3 } })).toContain("both");
      expect(made({ wire: { diameter: 0.9e-6 } })).toContain('"wire.diameter"');
      expect(made({ wire: { diameter: 0.11 } })).toContain('"wire.diameter"');
      expect(made({ wire: { diameter: 1e-3, insulation: -1e-9 } })).toContain('"wire.insulation"');
      expect(made({ wire: { diameter: 1e-3, insulation: 0.11 } })).toContain('"wire.insulation"');
      expect(made({ wire: { diameter: 1e-3, insulation: 0 } })).toBe("taken");
      expect(made({ wire: { diameter: 1e-3, cover: 0 } })).toContain("cover");
      expect(made({ former: { length: 0.02 } })).toContain('must have either "innerRadius" or "diameter"');
      expect(made({ former: { ...room, innerRadius: 0.015 } })).toContain("both");
      expect(made({ former: { diameter: 0.03 } })).toContain('"former.length"');
      for (const bad of [1e-5, 10.1, NaN]) {
        expect(made({ former: { ...room, length: bad } })).toContain('"former.length"');
        expect(made({ former: { ...room, diameter: bad } })).toContain('"former.diameter"');
        expect(made({ former: { innerRadius: bad, length: 0.02 } })).toContain('"former.innerRadius"');
      }
      for (const temperature of [-201, 301, "20 Ω"]) expect(made({ temperature })).toContain('"temperature"');
      for (const temperature of [-200, 300, "20 °C"]) expect(made({ temperature })).toBe("taken");
    }
    expect(wound({ inductance: 0.9e-8 })).toContain('"inductance"');
    expect(wound({ wire: undefined })).toContain('"wire" must be given, or "largestDcr"');
  });

  it("loses turns only, and no more than it has", () => {
    const coil = windCoil({ inductance: 1e-3, wire, former, temperature: 60 });
    const { turns, coil: left } = turnsToTakeOff(coil, "0.5 mH");
    expect([turns, left.turns, left.temperature]).toEqual([coil.turns - left.turns, coil.turns - turns, 60]);
    expect(Math.abs(left.inductance / 0.5e-3 - 1)).toBeLessThan(1.5 / left.turns);
    expect(turnsToTakeOff(coil, 1e-9).coil.turns).toBe(1);
    for (const wrong of [null, 3, {}, { wire: coil.wire }, { former: coil.former }, { ...coil, wire: undefined }])
      expect(refused(() => turnsToTakeOff(wrong as never, 1e-4))).toContain("must come from windCoil");
    for (const inductance of [0.9e-9, coil.inductance * (1 + 1e-12), NaN])
      expect(refused(() => turnsToTakeOff(coil, inductance))).toContain('"inductance"');
  });
});

describe("the estimates of a wound coil, by their formulas", () => {
  const coil = windCoil({
    inductance: 0.82e-3,
    wire: { diameter: 1.2e-3, insulation: 0.05e-3 },
    former: { diameter: 0.03, length: 0.02 },
    temperature: 40,
  });

  it("a single layer resonates with Medhurst's capacitance, D(0.1126 l/D + 0.08 + 0.27 √(D/l)) pF in cm", () => {
    const layer = windCoil({ inductance: 20e-6, wire: { diameter: 1e-3 }, former: { diameter: 0.04, length: 0.06 } });
    expect(layer.layers).toBe(1);
    const [d, l] = [200 * layer.winding.meanRadius, 100 * layer.winding.length];
    const { capacitance, frequency } = selfResonance(layer);
    expect((capacitance * 1e12) / (d * ((0.1126 * l) / d + 0.08 + 0.27 * Math.sqrt(d / l)))).toBeCloseTo(1, 12);
    expect((2 * Math.PI * frequency) ** 2 * layer.inductance * capacitance).toBeCloseTo(1, 12);
  });

  it("layers share the voltage: 4(n − 1)/(3n²) of the capacitance between two, with ε 3 and a gap of 1.26 pitch − 1.15 d", () => {
    const { layers: n, winding } = coil;
    expect(n).toBeGreaterThan(5);
    const between = (3 * 8.854187813e-12 * 2 * Math.PI * winding.meanRadius * winding.length) / (1.26 * 1.3e-3 - 1.15 * 1.2e-3);
    expect(selfResonance(coil).capacitance / ((between * 4 * (n - 1)) / (3 * n * n))).toBeCloseTo(1, 9);
    expect(selfResonance(coil).frequency).toBeCloseTo(1 / (2 * Math.PI * Math.sqrt(coil.inductance * selfResonance(coil).capacitance)), 3);
    for (const wrong of [undefined, null, 3, {}, { wire: coil.wire }, { winding: coil.winding }]) {
      expect(refused(() => selfResonance(wrong as never))).toContain("must come from windCoil");
      expect(refused(() => windingResistance(wrong as never, 100))).toContain("must come from windCoil");
    }
  });

  it("neighbours' losses at a low frequency are those of a wire in a crosswise field: π σ ω² B² d⁴/64 a metre", () => {
    // Source: textbook, eddy currents of a round wire thin against the skin depth in a uniform alternating field; B root mean square.
    const { turns, winding } = coil;
    const sigma = 1 / copperResistivity({ temperature: 40 });
    for (const frequency of [20, 60]) {
      const b = VACUUM_PERMEABILITY * turns * Math.sqrt(meanSquareField(winding));
      const ohms = ((Math.PI * sigma * (2 * Math.PI * frequency) ** 2 * b ** 2 * 1.2e-3 ** 4) / 64) * coil.wireLength;
      const { proximityRatio, resistance, skinRatio } = windingResistance(coil, frequency);
      expect((proximityRatio * coil.dcr) / ohms).toBeCloseTo(1, 5);
      expect(resistance / (coil.dcr * (skinRatio + proximityRatio))).toBeCloseTo(1, 12);
    }
    for (const frequency of [-1, NaN, 1.1e12]) expect(refused(() => windingResistance(coil, frequency))).toContain('"frequency"');
  });

  it("the field of a winding is that of its turns one by one", () => {
    // |B|²/µ₀² at the axis' middle of a short coil: by the same lattice, but known: a disc of currents, I/(2a) each. Here as the mean over the section against a finer sum of straight wires
    // for a ring that is wide, in three shapes.
    for (const [length, depth] of [
      [1, 1],
      [4, 1],
      [1, 4],
    ] as const) {
      const [nx, ny] = [24 * length, 24 * depth];
      let sum = 0;
      let weight = 0;
      for (let i = 0; i <= 12; i++)
        for (let k = 0; k <= 12; k++) {
          const [px, py] = [(length * i) / 12, (depth * k) / 12];
          let [hx, hy] = [0, 0];
          for (let m = 0; m < nx; m++)
            for (let n = 0; n < ny; n++) {
              const [dx, dy] = [px - ((m + 0.5) * length) / nx, py - ((n + 0.5) * depth) / ny];
              const share = 1 / (2 * Math.PI * (dx * dx + dy * dy) * nx * ny);
              hx += dy * share;
              hy += dx * share;
            }
          const own = (i % 12 === 0 ? 0.5 : 1) * (k % 12 === 0 ? 0.5 : 1);
          sum += own * (hx * hx + hy * hy);
          weight += own;
        }
      expect(Math.abs(meanSquareField({ meanRadius: 4000, length, depth }) / (sum / weight) - 1)).toBeLessThan(0.03);
    }
  });

  it("the smallest coil has Brooks's shape, its inductance, its resistance and the copper that fills it", () => {
    for (const [fill, temperature] of [
      [undefined, undefined],
      [0.8, 70],
    ] as const) {
      const small = smallestCoil({ inductance: "2.2 mH", dcr: "0.5 Ω", fill, temperature });
      const c = small.innerRadius;
      expect(small.outerDiameter).toBeCloseTo(4 * c, 12);
      expect(windingInductance({ turns: small.turns, meanRadius: 1.5 * c, length: c, depth: c }) / 2.2e-3).toBeCloseTo(1, 9);
      expect(small.wireLength / (3 * Math.PI * c * small.turns)).toBeCloseTo(1, 12);
      const section = (Math.PI / 4) * small.wireDiameter ** 2;
      expect((copperResistivity({ temperature: temperature ?? 20 }) * small.wireLength) / section / 0.5).toBeCloseTo(1, 9);
      // Each turn a square of the pitch, the section full.
      expect((small.turns * (small.wireDiameter / (fill ?? 0.92)) ** 2) / (c * c)).toBeCloseTo(1, 9);
      expect(small.copperMass / (COPPER_DENSITY * small.wireLength * section)).toBeCloseTo(1, 12);
    }
  });
});
