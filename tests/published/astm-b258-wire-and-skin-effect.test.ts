// Sources: ASTM B258 for the American wire gauge; IEC 60028 for copper; NBS Circular 74 (1918) for the skin effect of a round wire.
// Source: the standards' and the circular's formulas; for coupled coils and tan δ the definitions of any textbook (IEC 60384-1).
// Provenance: gauges seen in a secondary text (mils) and recomputed; copper recalled, then recomputed; the skin effect recomputed by Bessel functions,
// its table not seen. No standard was opened.
import { capacitorEsr, coupling, inductor, skinEffect, wireDiameter, wireResistance } from "dividing-network/parts";
import { copperResistivity, VACUUM_PERMEABILITY } from "dividing-network/physics";
import { solve } from "dividing-network/network";
import { valueAt } from "dividing-network/response";
import { expect, it } from "vitest";
import { expectPrinted } from "./printed";
import { published } from "./standing";

published("seen-in-secondary-text and recomputed", "diameters of the American wire gauge", () => {
  it.each([
    [10, "2.588187"],
    [12, "2.052525"],
    [14, "1.627727"],
    [16, "1.290846"],
    [18, "1.023687"],
    [20, "0.811821"],
    [22, "0.643803"],
    [24, "0.510559"],
    [30, "0.254639"],
  ])("number %d is %s mm", (awg, printed) => expectPrinted(1e3 * wireDiameter({ awg }), printed));

  // The copy has 50.820 and 20.100 where the formula gives 50.8207 and 20.1008: four digits with a nought behind.
  it.each([
    [12, "80.808"],
    [14, "64.084"],
    [16, "50.82"],
    [18, "40.303"],
    [20, "31.961"],
    [22, "25.347"],
    [24, "20.10"],
    [30, "10.025"],
  ])("number %d is %s mil", (awg, printed) => {
    expectPrinted(wireDiameter({ awg }) / 25.4e-6, printed);
  });
});

published("recalled-then-recomputed", "the resistance of annealed copper", () => {
  it("of 1 mm² is 0.0172413793 Ω a metre, 1.21615 times as much at 75 °C", () => {
    const wire = { diameter: Math.sqrt(4e-6 / Math.PI), length: 1 };
    expectPrinted(wireResistance(wire), "0.0172413793");
    expectPrinted(wireResistance({ ...wire, temperature: 75 }) / wireResistance(wire), "1.21615");
  });
});

published("recomputed", "skin effect of a round wire at x = d/(√2 δ)", () => {
  it.each([
    [0.5, "1.00033", "0.99984"],
    [1, "1.00519", "0.99741"],
    [1.5, "1.02582", "0.98711"],
    [2, "1.07816", "0.96114"],
    [2.5, "1.17538", "0.91347"],
    [3, "1.31809", "0.84517"],
    [4, "1.67787", "0.68632"],
    [5, "2.04273", "0.55597"],
    [6, "2.39359", "0.46521"],
    [8, "3.09445", "0.35107"],
    [10, "3.79858", "0.28162"],
    [20, "7.32767", "0.14128"],
  ])("of %d: R/R₀ = %s and L/L₀ = %s", (x, resistance, inductance) => {
    const diameter = 1e-3;
    const frequency = (copperResistivity() * ((2 * x) / diameter) ** 2) / (2 * Math.PI * VACUUM_PERMEABILITY);
    const found = skinEffect({ diameter, frequency });
    expectPrinted(found.resistanceRatio, resistance);
    expectPrinted(found.inductanceRatio, inductance);
    expect(diameter / Math.SQRT2 / found.skinDepth).toBeCloseTo(x, 10);
  });
});

published("recomputed", "definitions", () => {
  it("ESR of 10 µF with tan δ = 0.001 at 1 kHz is 0.0159154943 Ω", () => {
    expectPrinted(capacitorEsr({ capacitance: 10e-6, dissipationFactor: 0.001, frequency: 1000 }), "0.0159154943");
  });

  it("1 mH and 2 mH coupled by 0.1 are 3.282842712 mH aiding, 2.717157288 mH opposing, 0.728702755 mH in parallel", () => {
    const series = (k: number) =>
      ({ L1: [inductor(1e-3), "in", "a"], L2: [inductor(2e-3), "a", "gnd"], K1: [coupling(k), "L1", "L2"] }) as const;
    const parallel = { L1: [inductor(1e-3), "in", "gnd"], L2: [inductor(2e-3), "in", "gnd"], K1: [coupling(0.1), "L1", "L2"] } as const;
    const milli = (entries: ReturnType<typeof series> | typeof parallel) =>
      valueAt(solve(entries as ReturnType<typeof series>, [1000]).impedance, 1000).im / (2 * Math.PI);
    expectPrinted(milli(series(0.1)), "3.282842712");
    expectPrinted(milli(series(-0.1)), "2.717157288");
    expectPrinted(milli(parallel), "0.728702755");
  });
});
