import { startWorking, type Working } from "../../quantity";

/** Several workings one after the other, each step's symbol behind a label; every step is taken over with its numbers. */
export function joinWorkings(parts: readonly { readonly label: string; readonly working: Working }[]): Working {
  const steps = startWorking();
  for (const { label, working } of parts) steps.take(label, working);
  return steps.done();
}
