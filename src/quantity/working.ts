import { shown } from "../errors";
import { workingMarkdown, workingText } from "./working-text";

/** One step of a calculation, with everything a reader needs to repeat it by hand. */
export interface WorkingStep {
  /** What the step finds: `"C"`, `"k"`. */
  readonly symbol: string;
  /** The formula's right-hand side in plain text: `"Le / Re²"`. */
  readonly formula: string;
  /** The whole equation in TeX: `"C = \\frac{L_e}{R_e^2}"`. */
  readonly tex: string;
  /** The numbers put in, SI, in the order in which the formula names them. */
  readonly inputs: readonly { readonly symbol: string; readonly value: number; readonly unit: string }[];
  /** The result, SI. */
  readonly value: number;
  /** Unit of the result; `""` when dimensionless. */
  readonly unit: string;
  /** Key or words that name where the formula comes from. */
  readonly source: string;
}

/** The ordered steps of a calculation; the last step's value is the calculation's answer. */
export type Working = readonly WorkingStep[];

type Inputs = Readonly<Record<string, readonly [value: number, unit: string]>>;

/** What `startWorking` hands out: `step` computes and records at once, `done` ends it. */
export interface WorkingBuilder {
  step<const I extends Inputs>(
    symbol: string,
    unit: string,
    text: { readonly formula: string; readonly tex: string; readonly source: string },
    inputs: I,
    compute: (values: { readonly [K in keyof I]: number }) => number,
  ): number;
  done(): Working;
}

/**
 * Starts the record of a calculation. Each `step` evaluates the very expression that it records, so that a working
 * cannot disagree with the value it explains.
 *
 * The array that `done` returns displays itself in notebooks: it carries a hidden method under the key that they ask for,
 * which neither JSON nor a loop over the steps sees.
 *
 * @returns a builder whose `step` returns the number computed and whose `done` returns the frozen steps
 * @example
 * ```ts
 * import { startWorking } from "dividing-network/quantity";
 *
 * const working = startWorking();
 * working.step("C", "F", { formula: "Le / Re²", tex: "C = \\frac{L_e}{R_e^2}", source: "algebra" },
 *   { Le: [0.0005, "H"], Re: [6, "Ω"] }, ({ Le, Re }) => Le / Re ** 2); // 0.0000138889
 * working.done().length; // 1
 * ```
 */
export function startWorking(): WorkingBuilder {
  const steps: WorkingStep[] = [];
  return {
    step(symbol, unit, text, inputs, compute) {
      const values = Object.fromEntries(Object.entries(inputs).map(([name, [value]]) => [name, value]));
      const value = compute(values as Parameters<typeof compute>[0]);
      const list = Object.entries(inputs).map(([name, [given, of]]) => Object.freeze({ symbol: name, value: given, unit: of }));
      steps.push(Object.freeze({ symbol, formula: text.formula, tex: text.tex, inputs: Object.freeze(list), value, unit, source: text.source }));
      return value;
    },
    done: () => displayable([...steps]),
  };
}

function displayable(steps: WorkingStep[]): Working {
  return Object.freeze(shown<Working>(steps, { text: workingText, markdown: workingMarkdown }));
}
