import type { WorkingBuilder } from "../../quantity";
import type { ChainPart } from "./chain-branch";
import type { NormalElement } from "./normal-element";

const source = "derived here: scaling of impedance and frequency";

type Reactance = ChainPart & { readonly kind: "inductor" | "capacitor" };

interface Scale {
  /** Ω */
  readonly load: number;
  /** Hz */
  readonly frequency: number;
}

/** The low-pass (or already band-passing) ladder at a frequency and a load, from its values at ω = 1 rad/s and 1 Ω. */
export function atFrequency(elements: readonly NormalElement[], { load, frequency }: Scale, steps: WorkingBuilder): Reactance[] {
  return elements.map(({ placement, part, value }, k) => {
    const index = k + 1;
    const inputs = { g: [value, ""], R: [load, "Ω"], f: [frequency, "Hz"] } as const;
    return part === "inductor"
      ? coil(
          steps,
          index,
          placement,
          { formula: `g${index} R / (2πf)`, tex: `\\frac{g_{${index}} R}{2\\pi f}` },
          inputs,
          ({ g, R, f }) => (g * R) / (2 * Math.PI * f),
        )
      : condenser(
          steps,
          index,
          placement,
          { formula: `g${index} / (2πf R)`, tex: `\\frac{g_{${index}}}{2\\pi f R}` },
          inputs,
          ({ g, R, f }) => g / (2 * Math.PI * f * R),
        );
  });
}

/** The high-pass ladder: each coil of the low-pass becomes a capacitor and the other way round. */
export function asHighPass(elements: readonly NormalElement[], { load, frequency }: Scale, steps: WorkingBuilder): Reactance[] {
  return elements.map(({ placement, part, value }, k) => {
    const index = k + 1;
    const inputs = { g: [value, ""], R: [load, "Ω"], f: [frequency, "Hz"] } as const;
    return part === "inductor"
      ? condenser(
          steps,
          index,
          placement,
          { formula: `1 / (g${index} 2πf R)`, tex: `\\frac{1}{g_{${index}} 2\\pi f R}` },
          inputs,
          ({ g, R, f }) => 1 / (g * 2 * Math.PI * f * R),
        )
      : coil(
          steps,
          index,
          placement,
          { formula: `R / (g${index} 2πf)`, tex: `\\frac{R}{g_{${index}} 2\\pi f}` },
          inputs,
          ({ g, R, f }) => R / (g * 2 * Math.PI * f),
        );
  });
}

/** The band-pass ladder between two corners: each reactance becomes a resonant circuit at their geometric mean. */
export function asBandPass(
  elements: readonly NormalElement[],
  { load, from, to }: { readonly load: number; readonly from: number; readonly to: number },
  steps: WorkingBuilder,
): Reactance[] {
  return elements.flatMap(({ placement, part, value }, k) => {
    const index = k + 1;
    const inputs = { g: [value, ""], R: [load, "Ω"], f1: [from, "Hz"], f2: [to, "Hz"] } as const;
    const wide = "2π(f2 − f1)";
    const wideTex = "2\\pi(f_2 - f_1)";
    return part === "inductor"
      ? [
          coil(
            steps,
            index,
            placement,
            { formula: `g${index} R / (${wide})`, tex: `\\frac{g_{${index}} R}{${wideTex}}` },
            inputs,
            ({ g, R, f1, f2 }) => (g * R) / (2 * Math.PI * (f2 - f1)),
          ),
          condenser(
            steps,
            index,
            placement,
            { formula: `(f2 − f1) / (2π f1 f2 g${index} R)`, tex: `\\frac{f_2 - f_1}{2\\pi f_1 f_2 g_{${index}} R}` },
            inputs,
            ({ g, R, f1, f2 }) => (f2 - f1) / (2 * Math.PI * f1 * f2 * g * R),
          ),
        ]
      : [
          coil(
            steps,
            index,
            placement,
            { formula: `R (f2 − f1) / (2π f1 f2 g${index})`, tex: `\\frac{R (f_2 - f_1)}{2\\pi f_1 f_2 g_{${index}}}` },
            inputs,
            ({ g, R, f1, f2 }) => (R * (f2 - f1)) / (2 * Math.PI * f1 * f2 * g),
          ),
          condenser(
            steps,
            index,
            placement,
            { formula: `g${index} / (${wide} R)`, tex: `\\frac{g_{${index}}}{${wideTex} R}` },
            inputs,
            ({ g, R, f1, f2 }) => g / (2 * Math.PI * (f2 - f1) * R),
          ),
        ];
  });
}

type Inputs = Readonly<Record<string, readonly [value: number, unit: string]>> & { readonly g: readonly [value: number, unit: string] };

type Values<I> = { readonly [K in keyof I]: number };

/** The inputs with g under the name that the formula gives it: `g1`. */
function numbered(index: number, { g, ...others }: Inputs): Readonly<Record<string, readonly [value: number, unit: string]>> {
  return { [`g${index}`]: g, ...others };
}

/** A coil or a capacitor of the chain, as a step of the working. */
const element =
  (letter: "L" | "C") =>
  <const I extends Inputs>(
    steps: WorkingBuilder,
    index: number,
    placement: ChainPart["placement"],
    text: { readonly formula: string; readonly tex: string },
    inputs: I,
    compute: (values: Values<I>) => number,
  ): Reactance => {
    const value = steps.step(
      `${letter}${index}`,
      letter === "L" ? "H" : "F",
      { formula: text.formula, tex: `${letter}_{${index}} = ${text.tex}`, source },
      numbered(index, inputs),
      (v) => compute({ ...v, g: v[`g${index}`]! } as Values<I>),
    );
    return Object.freeze({ designator: `${letter}${index}`, placement, kind: letter === "L" ? "inductor" : "capacitor", value });
  };
const coil = /* @__PURE__ */ element("L");
const condenser = /* @__PURE__ */ element("C");
