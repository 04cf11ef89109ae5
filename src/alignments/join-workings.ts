import { startWorking, type Working } from "../quantity";

/** Several workings one after the other, each step's symbol behind a label; every step is taken over with its numbers. */
export function joinWorkings(parts: readonly { readonly label: string; readonly working: Working }[]): Working {
  const steps = startWorking();
  for (const { label, working } of parts) {
    for (const step of working) {
      const inputs = Object.fromEntries(step.inputs.map(({ symbol, value, unit }) => [symbol, [value, unit] as const]));
      steps.step(`${label}${step.symbol}`, step.unit, step, inputs, () => step.value);
    }
  }
  return steps.done();
}
