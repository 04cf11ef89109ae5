import { sourceSeen, spareDb } from "../assessment/internal";
import type { Entries } from "../network";
import { resistor } from "../parts";
import type { BranchPart } from "./branch-laws";
import { branchSolver } from "./branch-solver";
import { beyondDamping, type Damped, type Spared } from "./limits";

/** The limits that each branch settles by itself: whether a state, by its options, keeps them. */
export function branchLimits(
  parts: readonly BranchPart[],
  couplings: Entries,
  channels: readonly string[],
  { spared, drive, damped }: { readonly spared: readonly Spared[]; readonly drive: Float64Array; readonly damped: readonly Damped[] },
): (options: Int32Array) => boolean {
  const all = [
    ...spared.filter(({ part }) => channels.includes(part)).map((one) => sparer(parts, couplings, one, drive)),
    ...damped.filter(({ part }) => channels.includes(part)).map((one) => damper(parts, couplings, one)),
  ];
  return (options) => all.every((keeps) => keeps(options));
}

/** Whether a state spares a driver, but for rounding. */
function sparer(
  parts: readonly BranchPart[],
  couplings: Entries,
  { part, resonance, leastDb }: Spared,
  drive: Float64Array,
): (options: Int32Array) => boolean {
  const passband = branchSolver(parts, couplings, [part], drive);
  const below = branchSolver(parts, couplings, [part], Float64Array.of(resonance));
  const n = drive.length;
  const [voltages, admittance, one] = [new Float64Array(2 * n), new Float64Array(2 * n), new Float64Array(2)];
  const volts = new Float64Array(n);
  return (options) => {
    if (!passband.solve(options, voltages, admittance) || !below.solve(options, one, admittance)) return false;
    for (let i = 0; i < n; i++) volts[i] = Math.hypot(voltages[2 * i]!, voltages[2 * i + 1]!);
    return spareDb(drive, volts, Math.hypot(one[0]!, one[1]!)) >= leastDb - 1e-6;
  };
}

/** Whether a woofer sees no more than it may, but for rounding. */
function damper(parts: readonly BranchPart[], couplings: Entries, damped: Damped): (options: Int32Array) => boolean {
  const { part, alike, frequency } = damped;
  const solverWith = (ohms: number) =>
    branchSolver(
      parts.map((each) => (alike.includes(each.name) ? { ...each, options: [resistor(ohms)] } : each)),
      couplings,
      [part],
      Float64Array.of(frequency),
    );
  const solvers = new Map([1, 100].map((ohms) => [ohms, solverWith(ohms)]));
  const [voltage, admittance] = [new Float64Array(2), new Float64Array(2)];
  return (options) => {
    let solved = true;
    const [resistance, reactance] = sourceSeen((ohms) => {
      solved = solvers.get(ohms)!.solve(options, voltage, admittance) && solved;
      return { re: voltage[0]!, im: voltage[1]! };
    });
    const { ohms, q } = beyondDamping(damped, resistance, reactance);
    return solved && ohms <= 1e-9 && q <= 1e-9;
  };
}
