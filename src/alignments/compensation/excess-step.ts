import type { WorkingBuilder } from "../../quantity";
import { amplitudeExcess } from "../../quantity/internal";

/** What the formulas of attenuators, traps and shelves are made of, k − 1 with k = 10^(A/20), as a step of their working. */
export function excessStep(steps: WorkingBuilder, letter: "A" | "D", db: number): number {
  const text = { formula: `10^(${letter}/20) − 1`, tex: `k - 1 = 10^{${letter}/20} - 1`, source: "definition of the decibel" };
  return steps.step("k − 1", "", text, { [letter]: [db, "dB"] }, (v) => amplitudeExcess(v[letter]!));
}
