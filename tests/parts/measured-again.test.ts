// Tests src/parts/: measured-law.ts, equivalent-peak-dissipation.ts, bypassed-capacitor.ts, driver-motion.ts
// Tests src/parts/conductor/: fuse-resistance.ts, material.ts, skin-effect.ts, wire-run.ts
// A measured impedance that is asked again, on other grids and on ones that their owner changed since; loads at the limit of what is passive; and conductors at the limits of what they may be.
import {
  bypassedCapacitor,
  capacitor,
  displacementPerVolt,
  driverImpedance,
  equivalentPeakDissipationResistance,
  fuseResistance,
  skinEffect,
  wireResistance,
  wireRun,
} from "dividing-network/parts";
import { frequencyResponse } from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { expandPart } from "../../src/parts/internal";
import { checkMotion } from "../../src/parts/driver-motion";
import { refusalText } from "../support/refusal-text";

describe("a measured impedance", () => {
  // |Z| proportional to frequency, a resistance: between the samples it is known.
  const made = () =>
    expandPart(driverImpedance(frequencyResponse([10, 100, 1000, 10_000], [1, 10, 100, 1000], [0, 0, 0, 0]))).branches[0]!.law;
  const ohms = (law: ReturnType<typeof made>, grid: Float64Array) => {
    const [re, im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
    law.bind(grid).admittance([], 0, 0, grid.length, re, im, 0);
    return Array.from(re, (g) => Number((1 / g).toPrecision(9)));
  };

  it("asked on several grids of one length answers each for itself, in any order and as often as it is asked", () => {
    const law = made();
    const grids = Array.from({ length: 9 }, (_, k) => Float64Array.of(20 + k, 200 + k, 2000));
    const answers = grids.map((grid) => ohms(law, grid));
    answers.forEach((answer, k) => answer.forEach((z, i) => expect(z / (grids[k]![i]! / 10)).toBeCloseTo(1, 2)));
    for (const k of [3, 8, 0, 8, 5, 0, 0, 7]) expect(ohms(law, grids[k]!)).toEqual(answers[k]);
    expect(ohms(law, Float64Array.of(20, 200))).toEqual(answers[0]!.slice(0, 2));
    expect(ohms(law, Float64Array.of(20))).toEqual(answers[0]!.slice(0, 1));
    expect(ohms(law, Float64Array.of(20, 200, 2000, 3000)).slice(0, 3)).toEqual(answers[0]);
  });

  it("isn't misled by a grid that its owner changes after asking", () => {
    const law = made();
    const grid = Float64Array.of(20, 200, 2000);
    const first = ohms(law, grid);
    const bound = law.bind(grid);
    grid.set([30, 300, 3000]);
    const [re, im] = [new Float64Array(3), new Float64Array(3)];
    bound.admittance([], 0, 0, 3, re, im, 0);
    expect(Array.from(re, (g) => Number((1 / g).toPrecision(9)))).toEqual(first);
    expect(ohms(law, grid)).not.toEqual(first);
    expect(ohms(law, Float64Array.of(20, 200, 2000))).toEqual(first);
  });

  it("has no values, and no slopes by them", () => {
    const law = made();
    expect([law.parameters, law.limits, law.name]).toEqual([[], [], "measured"]);
    const nothing = new Float64Array(1);
    expect(refusalText(() => law.bind(Float64Array.of(100)).derivative([], 0, 0, 0, 1, nothing, nothing, 0))).toContain(
      "no values to vary",
    );
    const out = new Float64Array(4);
    law.ratio([], 0, 100, out);
    expect([...out].map((each) => Number(each.toPrecision(12)))).toEqual([1, 0, 10, 0]);
  });
});

describe("a load's peak dissipation at the limit of what is passive", () => {
  it("is that of a reactance where the real part is nothing but rounding, of any size, and refused beyond", () => {
    for (const size of [1e-200, 1, 1e200])
      for (const sign of [1, -1]) {
        const of = (re: number) => equivalentPeakDissipationResistance({ re: re * size, im: sign * size });
        expect(of(0) / size).toBeCloseTo(0.19245009, 8);
        expect(of(-1e-10)).toBe(of(0));
        expect(of(-0.9e-9)).toBe(of(0));
        expect(refusalText(() => of(-1.1e-9))).toContain("at least 0 Ω");
        expect(refusalText(() => of(-1))).toContain("at least 0 Ω");
      }
    expect(equivalentPeakDissipationResistance({ re: 0, im: 0 })).toBe(0);
    expect(equivalentPeakDissipationResistance({ re: 5, im: 0 })).toBe(5);
  });

  it("is asked of a value or of a response, nothing else", () => {
    for (const nothing of [
      undefined,
      null,
      8,
      "8 Ω",
      [],
      {},
      { re: 8 },
      { im: 8 },
      { re: "8", im: 0 },
      { re: 8, im: "0" },
      { re: [8], im: 0 },
    ])
      expect(
        refusalText(() => equivalentPeakDissipationResistance(nothing as never)),
        JSON.stringify(nothing),
      ).toContain('"impedance"');
    for (const wrong of [
      { re: Infinity, im: 0 },
      { re: 8, im: NaN },
    ])
      expect(refusalText(() => equivalentPeakDissipationResistance(wrong))).toContain("finite");
    expect(refusalText(() => equivalentPeakDissipationResistance(frequencyResponse([20, 50], [8, -1], [0, 2])))).toContain("at 50 Hz");
  });
});

describe("what is made of capacitors, conductors and drivers by hand", () => {
  it("is refused by the name of what is wrong: a capacitor beside another", () => {
    const good = capacitor(1e-5);
    for (const [wrong, name] of [
      [{ ...good, capacitance: 0 }, "capacitance"],
      [{ ...good, esr: -1 }, "esr"],
      [{ ...good, dissipationFactor: -1 }, "dissipationFactor"],
    ] as const) {
      expect(refusalText(() => bypassedCapacitor(wrong, good, 1000))).toContain(`"main.${name}"`);
      expect(refusalText(() => bypassedCapacitor(good, wrong, 1000))).toContain(`"bypass.${name}"`);
    }
    for (const nothing of [undefined, null, {}, 3])
      expect(refusalText(() => bypassedCapacitor(nothing as never, good, 1000))).toContain('"main" must be a capacitor');
  });

  it("a material has a resistivity, a coefficient and a permeability, to the limit itself", () => {
    const ohms = (material: unknown, temperature = 20) =>
      refusalText(() => wireResistance({ diameter: 1e-3, length: 1, temperature, material: material as never }));
    const good = { resistivity: 1e-7 };
    for (const resistivity of [0, -1e-7, NaN, "1e-7"]) expect(ohms({ resistivity })).toContain('"material.resistivity"');
    for (const temperatureCoefficient of [-0.101, 0.101, NaN])
      expect(ohms({ ...good, temperatureCoefficient })).toContain('"material.temperatureCoefficient"');
    for (const temperatureCoefficient of [-0.1, 0.1]) expect(ohms({ ...good, temperatureCoefficient })).toBe("taken");
    for (const relativePermeability of [0.89, 1.1e6])
      expect(ohms({ ...good, relativePermeability })).toContain('"material.relativePermeability"');
    for (const relativePermeability of [0.9, 1e6]) expect(ohms({ ...good, relativePermeability })).toBe("taken");
    // 1 + α(T − 20) = 0 at 100 K below: nothing is left.
    expect(ohms({ ...good, temperatureCoefficient: 0.01 }, -80)).toContain("above 0 Ω m");
    expect(ohms({ ...good, temperatureCoefficient: 0.01 }, -79.9)).toBe("taken");
    for (const nothing of [null, 3, "gold"]) expect(ohms(nothing)).toContain('"material" must be');
    for (const temperature of [-201, 1001]) expect(ohms("copper", temperature)).toContain('"temperature"');
    for (const temperature of [-200, 1000]) expect(ohms("copper", temperature)).toBe("taken");
    expect(refusalText(() => skinEffect({ diameter: 1e-3, frequency: 1.1e15 }))).toContain('"frequency"');
  });

  it("wires may touch, and a run of wire names what is wrong itself", () => {
    // Centres one diameter apart: ln 2 + ¼.
    expect(wireRun({ length: 1, diameter: 2e-3, spacing: 2e-3 }).inductance).toBeCloseTo(4e-7 * (Math.log(2) + 0.25), 12);
    const run = (more: object) => refusalText(() => wireRun({ length: 1, diameter: 2e-3, spacing: 4e-3, ...more }));
    for (const [name, value] of [
      ["length", 0],
      ["diameter", 0],
      ["diameter", 1.1e6],
      ["spacing", 0],
    ] as const)
      expect(run({ [name]: value })).toMatch(new RegExp(`^wireRun: "${name}" must be a finite number`));
  });

  it("a fuse drops 0.15 V across its cold element at its rating", () => {
    for (const rating of [0.5, 2, 5]) expect(fuseResistance({ rating }).coldResistance * rating).toBeCloseTo(0.15, 12);
    expect(refusalText(() => fuseResistance({ rating: 2, coldResistance: 0 }))).toContain('"coldResistance"');
  });

  it("a driver's constants are named as they stand in what holds them", () => {
    const q = { re: 6, fs: 50, qms: 3, qes: 0.5, mms: 0.01 };
    const mechanics = { re: 6, bl: 7, mms: 0.015, cms: 8e-4, rms: 1.2 };
    for (const [argument, prefix] of [
      ["", ""],
      ["drivers.woofer", "drivers.woofer."],
    ] as const) {
      const wrong = (given: object) => refusalText(() => checkMotion("test", argument, given as never));
      for (const [given, names] of [
        [q, ["re", "fs", "qms", "qes", "mms"]],
        [mechanics, ["re", "bl", "mms", "cms", "rms"]],
      ] as const)
        for (const name of names)
          for (const value of [0, -1, NaN]) expect(wrong({ ...given, [name]: value })).toContain(`"${prefix}${name}"`);
      expect(wrong({ ...q, le: -1e-3 })).toContain(`"${prefix}le"`);
      expect(wrong({ ...mechanics, le: 0 })).toBe("taken");
      const whole = argument === "" ? "a driver's constants" : `"${argument}"`;
      for (const given of [
        { ...q, mms: undefined },
        { ...q, bl: 7 },
        { ...q, cms: 1e-3 },
        { ...q, rms: 1 },
        { ...mechanics, qms: 3 },
        { ...mechanics, qes: 0.4 },
      ])
        expect(wrong(given)).toContain(`${whole} must be { re, bl, mms, cms, rms }, or`);
    }
    // By resonance and Q: M = Bl²·Qes/(ω·Re), C = 1/(ω²M), R = ωM/Qms.
    const omega = 100 * Math.PI;
    const { mms, cms, rms, bl } = checkMotion("test", "", { re: 6, fs: 50, qms: 3, qes: 0.5, bl: 7 });
    expect([mms / ((49 * 0.5) / (omega * 6)), cms * omega ** 2 * mms, (rms * 3) / (omega * mms), bl / 7]).toEqual(
      [1, 1, 1, 1].map((each) => expect.closeTo(each, 12) as number),
    );
    expect(refusalText(() => displacementPerVolt([100], { ...mechanics, re: 0 }))).toContain('displacementPerVolt: "re"');
  });
});
