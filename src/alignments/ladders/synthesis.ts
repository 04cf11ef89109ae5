import type { WorkingBuilder } from "../../quantity";
import type { TransferFunction } from "../../response";
import { statedAccuracy } from "./check-elements";
import { closedFormLadder } from "./closed-form-ladder";
import {
  expandAtInfinity,
  parityPart,
  type Quotient,
  preciseOne,
  type Precise,
  addPolynomials,
  polynomialFromRoots,
  toPreciseRoots,
} from "../../numeric/internal";
import type { NormalElement } from "./normal-element";
import { reflectionOf } from "./reflection";

const cauer = "continued fraction after Cauer (1926)";

/**
 * The ladder from an ideal voltage source into 1 Ω whose transfer is a constant times sᶻ over the polynomial of the poles:
 * the continued fraction of the quotient of its even and odd parts, seen from the load. The `zerosAtOrigin` elements
 * nearest to the source block zero frequency, the others high frequencies.
 *
 * @returns elements from source to load
 */
export function singlyTerminated(poles: TransferFunction["poles"], zerosAtOrigin: number, steps: WorkingBuilder): NormalElement[] {
  const { denominator, scale } = normalised(poles);
  const n = poles.length;
  const [high, low] = [parityPart(denominator, n % 2 === 1), parityPart(denominator, n % 2 === 0)];
  const atInfinity = n - zerosAtOrigin;
  // y = even/odd for an even numerator, odd/even for an odd one; a pole of y at infinity is a capacitor in shunt.
  let series = (zerosAtOrigin % 2 === 0) !== (n % 2 === 0);
  const first = expandAtInfinity(high, low, atInfinity);
  const elements: NormalElement[] = [];
  for (const quotient of first.quotients) {
    const value = quotientStep(steps, n - elements.length, quotient, scale);
    elements.push({ placement: series ? "series" : "shunt", part: series ? "inductor" : "capacitor", value });
    series = !series;
  }
  if (zerosAtOrigin > 0) {
    // Seen in 1/s: the one of the two polynomials that has a constant term is the higher one.
    const swap = first.high[0] === 0n;
    if (swap) series = !series;
    const reversed = (list: Precise[]): Precise[] => list.slice(0, zerosAtOrigin + 1).reverse();
    const second = expandAtInfinity(reversed(swap ? first.low : first.high), reversed(swap ? first.high : first.low), zerosAtOrigin);
    for (const { a, b, top, bottom } of second.quotients) {
      const value = quotientStep(steps, n - elements.length, { a: b, b: a, top: bottom, bottom: top }, scale, "g", "1/s");
      elements.push({ placement: series ? "series" : "shunt", part: series ? "capacitor" : "inductor", value });
      series = !series;
    }
  }
  return elements.reverse();
}

/**
 * The low-pass ladder between a source of the given resistance and 1 Ω: closed form for Butterworth and Chebyshev
 * functions, else from the reflection at the source (after Darlington).
 *
 * @returns elements from source to load, and how near to the function they are meant to come
 */
export function doublyTerminated(
  caller: string,
  poles: TransferFunction["poles"],
  sourceResistance: number,
  first: "series" | "shunt",
  steps: WorkingBuilder,
): { readonly elements: NormalElement[]; readonly within: number } {
  const ratio = first === "series" ? 1 / sourceResistance : sourceResistance;
  const closed = closedFormLadder(caller, poles, ratio, steps);
  const relative = closed?.elements ?? fromReflection(caller, poles, ratio, steps);
  const scale = closed?.scale ?? 1;
  const elements = relative.map((h, k): NormalElement => {
    const series = (first === "series") === (k % 2 === 0);
    const name = `h${k + 1}`;
    const scaled = scale !== 1;
    const inputs: Readonly<Record<string, readonly [value: number, unit: string]>> = {
      [name]: [h, ""],
      Rs: [sourceResistance, "Ω"],
      ...(scaled ? { ω0: [scale, "rad/s"] } : {}),
    };
    const text = {
      formula: (series ? `h${k + 1} Rs` : `h${k + 1} / Rs`) + (scaled ? " / ω0" : ""),
      tex: (series ? `g_{${k + 1}} = h_{${k + 1}} R_s` : `g_{${k + 1}} = \\frac{h_{${k + 1}}}{R_s}`) + (scaled ? " / \\omega_0" : ""),
      source: scaled
        ? "derived here: from the source's resistance to the load's, and to the corner"
        : "derived here: from the source's resistance to the load's",
    };
    const value = steps.step(`g${k + 1}`, "", text, inputs, (v) => (series ? v[name]! * v["Rs"]! : v[name]! / v["Rs"]!) / (v["ω0"] ?? 1));
    return { placement: series ? "series" : "shunt", part: series ? "inductor" : "capacitor", value };
  });
  return { elements, within: closed?.within ?? statedAccuracy };
}

/** Elements relative to the source's resistance, from Zin/Rs = (D + K)/(D − K), or Yin·Rs for a first element in shunt. */
function fromReflection(caller: string, poles: TransferFunction["poles"], ratio: number, steps: WorkingBuilder): number[] {
  const { denominator: given, scale } = normalised(poles);
  const { denominator, numerator: reflected } = reflectionOf(caller, given, ratio);
  const n = poles.length;
  const high = parityPart(addPolynomials(denominator, reflected, preciseOne()), n % 2 === 1);
  const low = parityPart(addPolynomials(denominator, reflected, -preciseOne()), n % 2 === 0);
  return expandAtInfinity(high, low, n).quotients.map((quotient, k) => quotientStep(steps, k + 1, quotient, scale, "h"));
}

/** One division of the continued fraction; ω0 is the frequency to which the polynomials are scaled, where it isn't 1 rad/s. */
function quotientStep(
  steps: WorkingBuilder,
  index: number,
  { a, b, top, bottom }: Quotient,
  scale: number,
  letter = "g",
  variable = "s",
): number {
  const scaled = scale !== 1;
  const text = {
    formula: scaled ? "a / (b ω0)" : "a / b",
    tex: `${letter}_{${index}} = \\frac{a}{b${scaled ? "\\,\\omega_0" : ""}}`,
    source: cauer,
    note: `leading coefficients of ${polynomialText(top, variable)} and ${polynomialText(bottom, variable)}${scaled ? ", for s in units of ω0" : ""}`,
  };
  const inputs: Readonly<Record<string, readonly [value: number, unit: string]>> = {
    a: [a, ""],
    b: [b, ""],
    ...(scaled ? { ω0: [scale, "rad/s"] } : {}),
  };
  return steps.step(`${letter}${index}`, "", text, inputs, (v) => v["a"]! / (v["b"]! * (v["ω0"] ?? 1)));
}

/** A polynomial as it is written, highest power first, to six digits. */
function polynomialText(coefficients: readonly number[], variable: string): string {
  const power = (k: number): string => {
    const raised = Array.from(String(k), (digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(digit)]).join("");
    return k === 0 ? "" : k === 1 ? ` ${variable}` : ` ${variable === "s" ? "s" : `(${variable})`}${raised}`;
  };
  const terms = coefficients.flatMap((value, k) => (value === 0 ? [] : [`${Number(value.toPrecision(6))}${power(k)}`]));
  return terms.reverse().join(" + ").replaceAll("+ -", "− ");
}

/** The monic denominator, lowest power first, with its roots scaled by a power of two to a geometric mean near 1. */
function normalised(poles: TransferFunction["poles"]): { readonly denominator: Precise[]; readonly scale: number } {
  const mean = poles.reduce((sum, { re, im }) => sum + Math.log2(Math.hypot(re, im)), 0) / poles.length;
  const scale = 2 ** Math.round(mean);
  return { denominator: polynomialFromRoots(toPreciseRoots(poles.map(({ re, im }) => ({ re: re / scale, im: im / scale })))), scale };
}
