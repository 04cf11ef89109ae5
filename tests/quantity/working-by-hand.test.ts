// Every working can be redone by hand: this file reads the printed page alone (formula, numbers put in, result) and evaluates the
// formula by a calculator that shares nothing with the library: the rules of writing are those of any textbook, the arithmetic is mathjs's.
import * as alignments from "dividing-network/alignments";
import * as parts from "dividing-network/parts";
import { workingText, type Working, type WorkingStep } from "dividing-network/quantity";
import * as radiation from "dividing-network/radiation";
import * as response from "dividing-network/response";
import { inSiFromPage } from "./in-si-from-page";
import { evaluate } from "mathjs";
import { describe, expect, it } from "vitest";

const {
  allPassLattice,
  arrayLobes,
  attenuator,
  baffleStep,
  bessel,
  breakupTrap,
  bridgedTee,
  butterworth,
  chebyshev,
  closedBox,
  conjugateNetwork,
  crossover,
  derivedThreeWay,
  displacementPressure,
  gateFromGeometry,
  ladder,
  linkwitzRiley,
  lobeTilt,
  multiWay,
  parallelTrap,
  seriesAttenuator,
  seriesCrossover,
  shuntAttenuator,
  shuntNotch,
  thieleSmall,
  twoSourceLobes,
  twoSourceWindow,
  zobel,
} = { ...alignments, ...parts, ...radiation, ...response };

/** All workings of closed forms, at values that no rounding flatters. */
const workings: Readonly<Record<string, Working>> = {
  attenuator: attenuator({ attenuationDb: 3.37, load: 7.3 }).working,
  seriesAttenuator: seriesAttenuator({ attenuationDb: 3.37, load: 7.3 }).working,
  shuntAttenuator: shuntAttenuator({ attenuationDb: 3.37, load: 7.3, sourceResistance: 2.9 }).working,
  zobel: zobel({ re: 5.63, le: 0.000473 }).working,
  conjugateNetwork: conjugateNetwork({ re: 5.63, le: 0.000473, re2: 3.1, le2: 0.00071, fs: 47.3, qms: 4.31, qes: 0.537 }).working,
  baffleStep: baffleStep({ stepDb: 4.37, width: 0.213, load: 7.3 }).working,
  parallelTrap: parallelTrap({ depthDb: 6.3, frequency: 2730, bandwidth: 530, load: 7.3 }).working,
  breakupTrap: breakupTrap({ peakDb: 6.3, frequency: 2730, q: 3.7, load: 7.3 }).working,
  shuntNotch: shuntNotch({ depthDb: 6.3, frequency: 2730, bandwidth: 530, load: 7.3, sourceResistance: 2.9 }).working,
  "allPassLattice, first order": allPassLattice({ frequency: 1370, load: 7.3 }).working,
  "allPassLattice, second order": allPassLattice({ frequency: 1370, q: 0.73, load: 7.3 }).working,
  "bridgedTee below Q = 1": bridgedTee({ frequency: 1370, q: 0.73, load: 7.3 }).working,
  "bridgedTee above Q = 1": bridgedTee({ frequency: 1370, q: 1.37, load: 7.3 }).working,
  "ladder, 1.414": ladder(butterworth(2), { pass: "low", frequency: 3000, load: 8 }).working,
  "ladder, high-pass": ladder(bessel(5), { pass: "high", frequency: 2730, load: 7.3 }).working,
  "ladder, band-pass": ladder(butterworth(3), { pass: "band", from: 330, to: 2730, load: 7.3 }).working,
  "ladder between resistances, closed form": ladder(chebyshev(5, { rippleDb: 0.73 }), {
    pass: "low",
    frequency: 2730,
    load: 7.3,
    sourceResistance: 5.1,
  }).working,
  "ladder between resistances, by reflection": ladder(linkwitzRiley(4), { pass: "low", frequency: 2730, load: 7.3, sourceResistance: 5.1 })
    .working,
  "crossover, order 2": crossover({ family: "linkwitz-riley", order: 2, frequency: 2730, load: 7.3 }).working,
  "crossover, order 3": crossover({ family: "butterworth", order: 3, frequency: 2730, load: { lowPass: 7.3, highPass: 5.1 } }).working,
  "crossover, Bessel": crossover({ family: "bessel", order: 4, frequency: 2730, load: 7.3 }).working,
  multiWay: multiWay({ family: "linkwitz-riley", order: 4, frequencies: [330, 2730], load: 7.3 }).working,
  derivedThreeWay: derivedThreeWay({ target: "all-pass", order: 2, frequencies: [330, 2730], load: 7.3 }).working,
  "seriesCrossover, order 1": seriesCrossover({ order: 1, frequency: 2730, load: 7.3 }).working,
  "seriesCrossover, order 2": seriesCrossover({ order: 2, frequency: 2730, load: 7.3, q: 0.63 }).working,
  thieleSmall: thieleSmall({ re: 5.63, bl: 6.71, mms: 0.0137, cms: 0.00083, rms: 1.13, sd: 0.0133 }).working,
  closedBox: closedBox({ fs: 31.3, qes: 0.437, qms: 3.71, vas: 0.0531, volume: 0.0217 }).working,
  displacementPressure: displacementPressure({ area: 0.0133, displacement: 0.00137, frequency: 53 }).working,
  lobeTilt: lobeTilt({ order: 3, spacing: 0.153, frequency: 2730 }).working,
  twoSourceLobes: twoSourceLobes({ spacing: 0.153, frequency: 2730, phaseDegrees: 37 }).working,
  twoSourceWindow: twoSourceWindow({ spacing: 0.153, frequency: 2730, phaseDegrees: 37, withinDb: 3 }).working,
  arrayLobes: arrayLobes({ count: 4, spacing: 0.153, frequency: 2730, phaseDegrees: 37 }).working,
  gateFromGeometry: gateFromGeometry({ distance: 1.03, sourceHeight: 1.13, microphoneHeight: 1.27 }).working,
};

const functions: Readonly<Record<string, string>> = { sin: "sin", cos: "cos", asin: "asin", acos: "acos", lg: "log10", "√": "sqrt" };

/** A formula as it is printed, for a calculator: `symbols` by their names there. Angles of inverse functions are in degrees where the result is. */
function forCalculator(formula: string, symbols: readonly string[], inDegrees: boolean): string {
  const names = [...symbols.keys()].sort((a, b) => symbols[b]!.length - symbols[a]!.length);
  const out: string[] = [];
  let ends = false;
  const operand = (text: string): void => void (out.push(ends ? `*${text}` : text), (ends = true));
  for (let at = 0; at < formula.length;) {
    const rest = formula.slice(at);
    const name = names.find((index) => rest.startsWith(symbols[index]!));
    const word = Object.keys(functions).find(
      (each) => rest.startsWith(each) && (name === undefined || each.length > symbols[name]!.length),
    );
    const number = /^\d+(\.\d+)?/.exec(rest)?.[0];
    if (name !== undefined && word === undefined) {
      operand(`v${name}`);
      at += symbols[name]!.length;
    } else if (word !== undefined) {
      at += word.length;
      const call = inDegrees && /^a(sin|cos)/.test(word) ? `180/pi*${functions[word]}` : functions[word]!;
      out.push(ends ? `*${call}` : call);
      ends = false;
      // A root of a single thing needs no brackets on paper.
      if (formula[at] !== "(") {
        const single = names.find((index) => formula.startsWith(symbols[index]!, at));
        const digit = /^\d+/.exec(formula.slice(at))?.[0];
        out.push(`(${single === undefined ? digit : `v${single}`})`);
        at += single === undefined ? digit!.length : symbols[single]!.length;
        ends = true;
      }
    } else if (number !== undefined) {
      operand(number);
      at += number.length;
    } else {
      const sign = rest[0]!;
      at++;
      if (sign === "π") operand("pi");
      else if (sign === "(") {
        out.push(ends ? "*(" : "(");
        ends = false;
      } else if (sign === ")") {
        out.push(")");
        ends = true;
      } else if (sign === "|") {
        const closes = out.some((each) => each === "abs(");
        out.push(closes ? ")" : "abs(");
        ends = closes;
      } else if (sign === "²" || sign === "³") out.push(sign === "²" ? "^2" : "^3");
      else if (sign === " " || sign === "°") continue;
      else if (sign in signs) {
        out.push(signs[sign]!);
        ends = false;
      } else throw new Error(`no rule for ${JSON.stringify(sign)} in ${formula}`);
    }
  }
  return out.join("");
}
const signs: Readonly<Record<string, string>> = { "+": "+", "−": "-", "/": "/", "·": "*", "^": "^", "*": "*" };

/** A printed number with its unit, in SI. */
function fromPage(text: string): number {
  const [, digits, unit = ""] = /^(-?[\d.]+(?:e[+-]?\d+)?)(?: (.*))?$/.exec(text)!;
  return inSiFromPage(digits!, unit);
}

/** The printed page of a step: formula, numbers put in, and result. */
function pageOf(step: WorkingStep): { readonly formula: string; readonly inputs: ReadonlyMap<string, number>; readonly result: number } {
  const lines = workingText([step])
    .split("\n")
    .map((line) => line.replace(/^(1\.| ) */, ""));
  const formula = lines[0]!.slice(`${step.symbol} = `.length);
  const given = step.inputs.length === 0 ? "" : lines[1]!;
  const inputs = new Map(
    step.inputs.map(({ symbol }, index) => {
      const from = given.indexOf(`${symbol} = `, index === 0 ? 0 : given.indexOf(`, ${symbol} = `)) + `${symbol} = `.length;
      return [symbol, fromPage(given.slice(from).split(", ")[0]!)] as const;
    }),
  );
  const last = lines[step.inputs.length === 0 ? 1 : 2]!;
  return { formula, inputs, result: fromPage(last.slice(`${step.symbol} = `.length, last.lastIndexOf(` (${step.source})`))) };
}

describe.each(Object.entries(workings))("the working of %s", (_name, working) => {
  it("gives each printed result from its printed formula and numbers, to half of the last digit", () => {
    expect(working.length).toBeGreaterThan(0);
    for (const step of working) {
      const { formula, inputs, result } = pageOf(step);
      const symbols = [...inputs.keys()];
      const scope = Object.fromEntries(symbols.map((symbol, index) => [`v${index}`, inputs.get(symbol)!]));
      const again = evaluate(forCalculator(formula, symbols, step.unit === "°"), scope) as number;
      const unitOfLast = result === 0 ? 1e-12 : 10 ** (Math.floor(Math.log10(Math.abs(result))) + 1 - step.resultDigits);
      expect(Math.abs(again - result), `${workingText([step])}\ngives ${again}`).toBeLessThanOrEqual(0.5 * unitOfLast * (1 + 1e-9));
    }
  });

  it("stands in reading order: what a step takes in from another is printed above it, in the same digits", () => {
    working.forEach((step, index) => {
      const above = working.slice(0, index);
      const below = working.slice(index + 1);
      for (const { symbol, value } of step.inputs) {
        expect(
          below.some((later) => later.symbol === symbol && later.value === value) && !above.some((earlier) => earlier.value === value),
          `${symbol} is used before it is found`,
        ).toBe(false);
        const found = [...above].reverse().find((earlier) => earlier.symbol === symbol && earlier.value === value);
        if (found !== undefined) expect(found.resultDigits, symbol).toBeGreaterThanOrEqual(step.digits);
      }
    });
  });
});

describe("the reader of pages itself", () => {
  it("reads formulas as a person does", () => {
    expect(forCalculator("g1 R / (2πf)", ["g1", "R", "f"], false)).toBe("v0*v1/(2*pi*v2)");
    expect(forCalculator("fc √(b + √(b² + 1))", ["fc", "b"], false)).toBe("v0*sqrt(v1+sqrt(v1^2+1))");
    expect(forCalculator("R (k − 1)", ["R", "k − 1"], false)).toBe("v0*(v1)");
    expect(forCalculator("|asin(sin θ)|", ["sin θ"], true)).toBe("abs(180/pi*asin(v0))");
  });

  it("sees a number with a digit too few", () => {
    const [step] = ladder(butterworth(2), { pass: "low", frequency: 3000, load: 8 }).working.filter(({ symbol }) => symbol === "L1");
    expect(workingText([step!])).toContain("g1 = 1.4142, R = 8 Ω, f = 3 kHz");
    const page = pageOf({ ...step!, digits: 4 });
    expect(Math.abs((1.414 * 8) / (2 * Math.PI * 3000) - page.result)).toBeGreaterThan(0.5e-7);
  });
});

describe("what a working says beside its numbers", () => {
  it("where each formula comes from: an author with a year, textbooks, a definition, or itself", () => {
    for (const [name, working] of Object.entries(workings)) {
      for (const { source, symbol } of working)
        expect(source, `${name}, ${symbol}`).toMatch(
          /\(\d{4}\)|textbook|\(Introduction to Electroacoustics\)|^derived here: |^definition of /,
        );
    }
  });

  it("the polarity, and why", () => {
    const last = (working: Working): string => workingText(working.slice(-1));
    expect(last(workings["crossover, order 2"]!)).toMatch(
      /φ = φhigh − φlow\n.*\n.*180 °.*derived here.*\n.*the high-pass driver is reversed: half a turn apart/,
    );
    expect(last(workings["crossover, order 3"]!)).toMatch(/reversed: a quarter turn apart, .* smaller group delay/);
    expect(last(workings["crossover, Bessel"]!)).toMatch(/strays less from 0 dB/);
  });

  it("the polynomials before they are divided", () => {
    // s² + √2 s + 1: even part over odd part.
    expect(workingText(workings["ladder, 1.414"]!)).toContain("leading coefficients of 1 s² + 1 and 1.41421 s");
  });
});
