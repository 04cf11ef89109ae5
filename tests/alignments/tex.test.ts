// Formulas are for reading: every one in a working must be one that a TeX renderer takes.
import katex from "katex";
import {
  allPassLattice,
  approximateConjugate,
  attenuator,
  baffleStep,
  bridgedTee,
  butterworth,
  chebyshev,
  conjugateNetwork,
  crossover,
  ladder,
  legendrePapoulis,
  lossyZobel,
  parallelTrap,
  seriesAttenuator,
  seriesCrossover,
  shuntAttenuator,
  shuntNotch,
  zobel,
} from "dividing-network/alignments";
import { driverImpedance } from "dividing-network/parts";
import { workingMarkdown, workingText, type Working } from "dividing-network/quantity";
import { describe, expect, it } from "vitest";

const driver = { re: 6, le: 5e-4, fs: 50, qms: 4, qes: 0.5 };
const workings: Readonly<Record<string, Working>> = {
  crossover: crossover({ family: "bessel", order: 4, frequency: 1000, load: 8 }).working,
  closed: ladder(chebyshev(3, { rippleDb: 1 }), { pass: "high", frequency: 1000, load: 8, sourceResistance: 8 }).working,
  reflection: ladder(legendrePapoulis(3), { pass: "band", from: 300, to: 3000, load: 8, sourceResistance: 8, first: "shunt" }).working,
  butterworth: ladder(butterworth(12), { pass: "low", frequency: 1000, load: 8, sourceResistance: 2 }).working,
  series: seriesCrossover({ order: 2, frequency: 1000, load: 8, q: 0.5 }).working,
  attenuator: attenuator({ attenuationDb: 6, load: 8 }).working,
  seriesAttenuator: seriesAttenuator({ attenuationDb: 6, load: 8 }).working,
  shuntAttenuator: shuntAttenuator({ attenuationDb: 6, load: 8, sourceResistance: 2 }).working,
  zobel: zobel({ re: 6, le: 5e-4 }).working,
  lossyZobel: lossyZobel(driverImpedance({ re: 6, k: 0.03, n: 0.7 }), { from: 200, to: 20e3 }).working,
  conjugate: conjugateNetwork({ ...driver, re2: 10, le2: 1e-3 }).working,
  approximate: approximateConjugate(driver).working,
  trap: parallelTrap({ depthDb: 6, frequency: 1000, bandwidth: 300, load: 8 }).working,
  notch: shuntNotch({ depthDb: 6, frequency: 1000, bandwidth: 300, load: 8, sourceResistance: 2 }).working,
  baffle: baffleStep({ stepDb: 6, width: 0.2, load: 8 }).working,
  lattice: allPassLattice({ frequency: 1000, q: 0.6, load: 8 }).working,
  tee: bridgedTee({ frequency: 1000, q: 0.6, load: 8 }).working,
  tee2: bridgedTee({ frequency: 1000, q: 1.6, load: 8 }).working,
};

describe("workings", () => {
  it.each(Object.entries(workings))(
    "%s: every step has a formula that renders, numbers, a result with its unit, and a source",
    (_name, working) => {
      expect(working.length).toBeGreaterThan(0);
      for (const step of working) {
        expect(() => katex.renderToString(step.tex, { throwOnError: true, strict: "ignore" }), step.tex).not.toThrow();
        expect(step.formula).not.toBe("");
        // A publication, a definition, or "derived here": nothing vaguer.
        expect(step.source).toMatch(/^derived here: .|^definition of |^algebra$|^least squares|after [A-Z]|\(\d{4}\)|IEC \d/);
        expect(Number.isFinite(step.value)).toBe(true);
        expect(step.inputs.length).toBeGreaterThan(0);
        for (const { symbol } of step.inputs) expect(symbol).not.toBe("");
      }
      expect(workingText(working).split("\n").length).toBeGreaterThan(working.length);
      expect(workingMarkdown(working).split("\n")).toHaveLength(working.length);
    },
  );
});
