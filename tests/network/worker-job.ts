// What a worker is given and what it answers: used on both sides of worker.test.ts.
import { solve, tolerance, type Entries, type ToleranceOptions } from "dividing-network/network";

export interface Job {
  readonly entries: Entries;
  readonly frequencies: Float64Array;
  readonly options: ToleranceOptions<Entries, string>;
}

const names = ["a", "w", "t", "s", "P1", "T1", "tweeter", "woofer"];

export function answer({ entries, frequencies, options }: Job) {
  const sweep = solve(entries, frequencies, { sourceImpedance: { resistance: 0.1 } });
  return {
    voltages: names.map((name) => sweep.voltage(name)),
    currents: names.slice(4).map((name) => sweep.current(name)),
    impedance: sweep.impedance,
    scatter: tolerance(entries, frequencies, options),
  };
}
