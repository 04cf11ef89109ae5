// Slopes of a loss against differences of the loss itself: none of the code that makes slopes.
import { frequencyResponse, type Entries } from "dividing-network";
import { sumObjective } from "dividing-network/network";

export const slopeGrid = [70, 300, 1_100, 4_000, 9_000];
export const flat = frequencyResponse([10, 20_000], [1, 1], [0, 0]);

/** Value times slope: central differences at two steps, extrapolated. */
export function relativeSlope(f: (share: number) => number): number {
  const central = (step: number) => (f(1 + step) - f(1 - step)) / (2 * step);
  // Their own error falls with the fourth power of the step: next to a transformer's resonance 1e-6 at 1e-3, 1.6e-9 at 2e-4.
  return (4 * central(2e-4) - central(4e-4)) / 3;
}

/** The greatest distance between slopes and differences, as a share of the greatest relative slope or of the loss. */
export function worstSlope(entries: Entries, heard: readonly string[], vary: readonly string[]): number {
  const objective = sumObjective(entries, {
    frequencies: slopeGrid,
    contributions: Object.fromEntries(heard.map((name) => [name, flat])),
    target: 0.7,
    vary,
    parasitics: true,
    sourceImpedance: { resistance: 0.3 },
  });
  const values = objective.variables.map(({ value }) => value);
  const slopes = new Float64Array(values.length);
  const loss = objective.lossAndSlopes(values, slopes);
  const found = values.map(
    (value, k) =>
      [value * slopes[k]!, relativeSlope((share) => objective.loss(values.map((own, i) => (i === k ? own * share : own))))] as const,
  );
  const scale = Math.max(loss, ...found.map(([, difference]) => Math.abs(difference)));
  return Math.max(...found.map(([slope, difference]) => Math.abs(slope - difference) / scale));
}
