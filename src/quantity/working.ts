import { shown } from "../errors/internal";
import { workingMarkdown, workingText } from "./working-text";
import type { WorkingStep, Working } from "./working-step";

/** What a formula takes in, by symbol: each number in SI with its unit. */
export type WorkingInputs = Readonly<Record<string, readonly [value: number, unit: string]>>;

/** What `startWorking` hands out: `step` computes and records at once, `done` ends it. */
export interface WorkingBuilder {
  /** Computes a result and records how; `symbol` and `unit` are the result's. */
  step<const I extends WorkingInputs>(
    symbol: string,
    unit: string,
    text: {
      /** Right-hand side in plain text. */
      readonly formula: string;
      /** The whole equation in TeX. */
      readonly tex: string;
      /** Key or words that name where it comes from. */
      readonly source: string;
      /** What follows from it. */
      readonly note?: string;
    },
    inputs: I,
    compute: (values: { readonly [K in keyof I]: number }) => number,
  ): number;
  /** Takes over the steps of a finished working, each result's symbol behind a label. */
  take(label: string, working: Working): void;
  /** The steps so far, frozen. */
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
  const drafts: Draft[] = [];
  return {
    step(symbol, unit, { formula, tex, source, note }, inputs, compute) {
      const values = Object.fromEntries(Object.entries(inputs).map(([name, [value]]) => [name, value]));
      const again = compute as (values: Readonly<Record<string, number>>) => number;
      const value = again(values);
      const list = Object.entries(inputs).map(([name, [given, of]]) => Object.freeze({ symbol: name, value: given, unit: of }));
      drafts.push({
        step: { symbol, formula, tex, inputs: Object.freeze(list), value, unit, source, ...(note === undefined ? {} : { note }) },
        compute: again,
      });
      return value;
    },
    take(label, working) {
      for (const step of working) drafts.push({ step: { ...step, symbol: `${label}${step.symbol}` }, digits: step });
    },
    done: () => displayable(withDigits(drafts)),
  };
}

/** Digits of a result that nothing takes in: enough to follow a calculation by hand. */
const fewest = 4;

interface Draft {
  readonly step: Omit<WorkingStep, "digits" | "resultDigits">;
  readonly compute?: (values: Readonly<Record<string, number>>) => number;
  /** Of a step that was taken over. */
  readonly digits?: Pick<WorkingStep, "digits" | "resultDigits">;
}

/** From the last step back: a result has the digits that later steps take in, and the inputs those that give it so. */
function withDigits(drafts: readonly Draft[]): WorkingStep[] {
  const steps: WorkingStep[] = [];
  for (const { step, compute, digits: known } of [...drafts].reverse()) {
    const uses = steps.filter(({ inputs }) => inputs.some(({ symbol, value }) => symbol === step.symbol && value === step.value));
    const resultDigits = known?.resultDigits ?? uses.reduce((most, { digits }) => Math.max(most, digits), fewest);
    const digits = known?.digits ?? digitsOfInputs(step, resultDigits, compute!);
    steps.push(Object.freeze({ ...step, digits, resultDigits }));
  }
  return steps.reverse();
}

/** The fewest digits of the inputs from which the result comes out as it is printed. */
function digitsOfInputs(
  { inputs, value }: Draft["step"],
  resultDigits: number,
  compute: (values: Readonly<Record<string, number>>) => number,
): number {
  if (!Number.isFinite(value)) return fewest;
  for (let digits = fewest; digits < 17; digits++) {
    const again = compute(Object.fromEntries(inputs.map((input) => [input.symbol, Number(input.value.toPrecision(digits))])));
    if (Number.isFinite(again) && again.toPrecision(resultDigits) === value.toPrecision(resultDigits)) return digits;
  }
  return 17;
}

function displayable(steps: WorkingStep[]): Working {
  return Object.freeze(shown<Working>(steps, { text: workingText, markdown: workingMarkdown }));
}
