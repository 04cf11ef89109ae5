import { logGrid } from "../../numeric";
import { join, network, solve, type Entries } from "../../network";
import type { DriverImpedance } from "../../parts";

/** How far an impedance strays from a resistance. */
export interface Flatness {
  /** Largest |Z/R − 1|, dimensionless. */
  readonly worst: number;
  /** Hz, where that is. */
  readonly worstFrequency: number;
}

/** Impedance of a driver with a branch across it, between the nodes `in` and `gnd`, Ω. */
export function shuntedImpedance(driver: DriverImpedance, branch: Entries, frequencies: Float64Array) {
  return solve(network(join({ driver: [driver, "in", "gnd"] }, branch)), frequencies).impedance;
}

/** The largest deviation between two frequencies (Hz), on 2000 points with equal ratios. */
export function flatness(driver: DriverImpedance, branch: Entries, resistance: number, from: number, to: number): Flatness {
  const { frequencies, re, im } = shuntedImpedance(driver, branch, logGrid(from, to, 2000));
  const deviations = re.map((value, i) => Math.hypot(value / resistance - 1, im[i]! / resistance));
  const at = deviations.reduce((best, value, i) => (value > deviations[best]! ? i : best), 0);
  return Object.freeze({ worst: deviations[at]!, worstFrequency: frequencies[at]! });
}
