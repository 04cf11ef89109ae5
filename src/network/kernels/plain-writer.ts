import { HALF_BYTES } from "./block";
import type { Recipe } from "./recipe";
import type { Place, Real } from "./symbols";

const SIGNS = { sum: "+", difference: "-", product: "*", quotient: "/" } as const;

/** One loop over the points of a block for each operation, as TypeScript. */
export function plainSource(recipes: readonly Recipe[]): string {
  return [
    'import type { Frame, PlainKernel } from "../frame";',
    "",
    ...recipes.map(kernel),
    "/** By the number of the operation. */",
    "export const PLAIN_KERNELS: readonly PlainKernel[] = [",
    ...recipes.map(({ name }) => `  ${functionName(name)},`),
    "];",
    "",
  ].join("\n");
}

const functionName = (name: string): string => `${name}Kernel`;

function kernel({ name, before, steps, operands }: Recipe): string {
  const names = new Map<Real, string>();
  const pointers = new Map<string, string>();
  const taken = new Set<string>();
  const letters = ["d", "a", "b"].slice(0, operands.length);
  const at = ({ base, half, overGrid }: Place): string => {
    if (!overGrid) {
      if (base === "growth") taken.add("growth");
      return half === 0 ? `${base} + i` : `${base} + ${(half * HALF_BYTES) / 8} + i`;
    }
    const pointer = base === "omega" ? "w" : `${base}${half}`;
    taken.add("at");
    if (base === "omega") taken.add("omega");
    if (half > 0) taken.add("stride");
    pointers.set(pointer, `${base} + at${half === 0 ? "" : half === 1 ? " + stride" : ` + ${half} * stride`}`);
    return `${pointer} + i`;
  };
  const own = letters[operands.indexOf("values")];
  const leaf = (value: Real): string | undefined => names.get(value) ?? (value.kind === "constant" ? String(value.value) : undefined);
  const inner = (value: Real): string => leaf(value) ?? (value.kind === "value" ? text(value) : `(${text(value)})`);
  const text = (value: Real): string => {
    if (value.kind === "value") return value.index === 0 ? `memory[${own}]!` : `memory[${own} + ${value.index}]!`;
    if (value.kind === "load") return `memory[${at(value.place)}]!`;
    if (value.kind === "negative") return `-${inner(value.of)}`;
    if (value.kind === "constant") return String(value.value);
    return `${inner(value.first)} ${SIGNS[value.kind]} ${inner(value.second)}`;
  };
  const define = (value: Real): string => {
    const made = text(value);
    names.set(value, `x${names.size}`);
    return `const ${names.get(value)} = ${made};`;
  };
  const fixed = before.map(define);
  const body = steps.map((step) => {
    if (step.kind === "let") return define(step.value);
    if (step.kind === "store") return `memory[${at(step.place)}] = ${leaf(step.value) ?? text(step.value)};`;
    // Even and odd points have sums of their own, as in vectors of two.
    const place = `${step.operand} + ${step.next === 0 ? "" : `${2 * step.next} + `}(i & 1)`;
    return `memory[${place}] = memory[${place}]! + ${leaf(step.value) ?? inner(step.value)};`;
  });
  const lines = [...[...pointers].map(([pointer, made]) => `const ${pointer} = ${made};`), ...fixed];
  return [
    `function ${functionName(name)}(memory: Float64Array, points: number, ${taken.size === 0 ? "_" : `{ ${[...taken].join(", ")} }`}: Frame, ${letters.map((letter) => `${letter}: number`).join(", ")}): void {`,
    ...lines.map((line) => `  ${line}`),
    "  for (let i = 0; i < points; i++) {",
    ...body.map((line) => `    ${line}`),
    "  }",
    "}",
    "",
  ].join("\n");
}
