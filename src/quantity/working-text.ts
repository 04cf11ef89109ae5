import { DividingNetworkError } from "../errors";
import { checkList, show } from "../errors/internal";
import { formatQuantity } from "./format-quantity";
import { markdownEscaped } from "./markdown-escaped";
import { isUnit } from "./units";
import type { Working, WorkingStep } from "./working-step";

function number(value: number, unit: string, digits: number): string {
  if (isUnit(unit) && Number.isFinite(value)) return formatQuantity(value, unit, { digits });
  const plain = Number.isFinite(value) ? String(Number(value.toPrecision(digits)) + 0) : String(value);
  return unit === "" ? plain : `${plain} ${unit}`;
}

/** What `startWorking` made, or a copy of it: the words are words and the numbers numbers. */
function checkedWorking(caller: string, working: Working): Working {
  const steps = checkList(caller, "working", working, "steps, as startWorking gives them");
  const words = (step: Partial<Record<string, unknown>>, names: readonly string[]) => names.every((name) => typeof step[name] === "string");
  const digits = (value: unknown) => Number.isInteger(value) && (value as number) >= 1 && (value as number) <= 17;
  steps.forEach((step: unknown, index) => {
    const given = (typeof step === "object" && step !== null ? step : {}) as Partial<Record<keyof WorkingStep, unknown>>;
    const taken: unknown[] = Array.isArray(given.inputs) && given.inputs.length <= 1000 ? Array.from<unknown>(given.inputs) : [null];
    const good =
      words(given, ["symbol", "formula", "tex", "unit", "source"])
      && typeof given.value === "number"
      && !Number.isNaN(given.value)
      && digits(given.digits)
      && digits(given.resultDigits)
      && (given.note === undefined || typeof given.note === "string")
      && taken.every(
        (input) =>
          typeof input === "object"
          && input !== null
          && words(input, ["symbol", "unit"])
          && Number.isFinite((input as { value?: unknown }).value),
      );
    if (!good)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "working[${index}]" must be a step as startWorking gives it, got ${show(step)}`,
        "Make it with startWorking() and done()",
      );
  });
  return steps;
}

function inputs(step: WorkingStep): string {
  return step.inputs.map((input) => `${input.symbol} = ${number(input.value, input.unit, step.digits)}`).join(", ");
}

function result(step: WorkingStep): string {
  return `${step.symbol} = ${number(step.value, step.unit, step.resultDigits)}`;
}

/**
 * A working as plain text: for each step the formula, the numbers put in, and the result with its unit (prefixed SI) and
 * source, and what follows from it. Results have four digits, or as many as a later step takes in; the numbers put in have as many as
 * give the result as it is printed, so that the calculation can be redone by hand from the page alone.
 *
 * @param working the steps
 * @returns lines of text without a trailing newline; `""` for no steps
 * @example
 * ```ts
 * import { startWorking, workingText } from "dividing-network/quantity";
 *
 * const working = startWorking();
 * working.step("C", "F", { formula: "Le / Re²", tex: "C = \\frac{L_e}{R_e^2}", source: "algebra" },
 *   { Le: [0.0005, "H"], Re: [6, "Ω"] }, ({ Le, Re }) => Le / Re ** 2);
 * workingText(working.done()); // "1. C = Le / Re²\n   Le = 0.5 mH, Re = 6 Ω\n   C = 13.89 µF (algebra)"
 * ```
 */
export function workingText(working: Working): string {
  return checkedWorking("workingText", working)
    .map((step, i) => {
      const margin = " ".repeat(`${i + 1}. `.length);
      const lines = [`${step.symbol} = ${step.formula}`, inputs(step), `${result(step)} (${step.source})`, step.note ?? ""];
      return `${i + 1}. ${lines.filter((line) => line !== "").join(`\n${margin}`)}`;
    })
    .join("\n");
}

/**
 * A working as Markdown with formulas in TeX: a numbered list of equation, numbers put in, and result with its unit
 * (prefixed SI) and source. Digits are as in `workingText`.
 *
 * @param working the steps
 * @returns Markdown without a trailing newline; `""` for no steps
 * @example
 * ```ts
 * import { startWorking, workingMarkdown } from "dividing-network/quantity";
 *
 * const working = startWorking();
 * working.step("k", "", { formula: "2 x", tex: "k = 2x", source: "algebra" }, { x: [3, ""] }, ({ x }) => 2 * x);
 * workingMarkdown(working.done()); // "1. $k = 2x$ with x = 3: **k = 6** (algebra)"
 * ```
 */
export function workingMarkdown(working: Working): string {
  return checkedWorking("workingMarkdown", working)
    .map((step, i) => {
      const given = step.inputs.length === 0 ? "" : ` with ${markdownEscaped(inputs(step))}`;
      return `${i + 1}. $${step.tex}$${given}: **${markdownEscaped(result(step))}** (${markdownEscaped(step.source)})${step.note === undefined ? "" : `; ${markdownEscaped(step.note)}`}`;
    })
    .join("\n");
}
