import { DividingNetworkError } from "../../errors";
import { checkOptions, show } from "../../errors/internal";
import type { Voltage } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { Entries, UncheckedEntries } from "../entries";
import type { PartName } from "../names";
import { branchesOf, type SweepBranches } from "./sweep-behind";
import type { Sweep } from "./sweep-data";

/** Where the power goes. Every array has one number for each frequency of the sweep. */
export interface Dissipation<T extends UncheckedEntries = Entries> {
  /** Hz. */
  readonly frequencies: Float64Array;
  /** W by part: what it turns into heat (a driver: into heat and sound). Coupled coils pass power to each other; only their own heat counts. */
  readonly power: Readonly<Record<PartName<T>, Float64Array>>;
  /** The same as a share of all that is dissipated, the source's impedance included; dimensionless, 0 where nothing is. */
  readonly share: Readonly<Record<PartName<T>, Float64Array>>;
  /** W lost in the source's impedance. */
  readonly sourceImpedance: Float64Array;
  /** W that the ideal source gives: from its voltage and current, not from the sum of the parts. */
  readonly source: Float64Array;
  /** |source − sum of all that is dissipated| over the sum of |branch powers|; dimensionless, rounding error. */
  readonly imbalance: Float64Array;
}

/** Power and apparent power of one branch, W and VA per squared volt at `in`. */
interface BranchPower {
  readonly real: Float64Array;
  readonly apparent: Float64Array;
}

/**
 * The real power (W) that each part takes from the source, $P = |V|^2\,\mathrm{Re}\,Y$, of a coupled coil
 * $P = |I|^2 R$, of a part with several branches (an L-pad) their sum; with its share of the whole, the source's power, and how
 * well the two sides balance.
 *
 * @param sweep what `solve` or `compile(network).sweep` returned; n frequencies
 * @param options `voltage`: of the source, open circuit, V rms
 * @returns `power` and `sourceImpedance` and `source` in W, `share` and `imbalance` dimensionless; n numbers each
 * @throws DividingNetworkError `invalid-argument`, `invalid-quantity`, `unknown-option`
 * @example
 * ```ts
 * import { lPad, network, resistor, solve } from "dividing-network";
 * import { dissipation } from "dividing-network/network";
 *
 * const padded = network({ P1: [lPad({ attenuationDb: 6, load: 8 }), "in", "t", "gnd"], tweeter: [resistor(8), "t", "gnd"] });
 * const { power, share, source } = dissipation(solve(padded, [1000]), { voltage: "2.83 V" });
 * power.tweeter; // [0.251468]
 * share.P1; // [0.748811]
 * source; // [1.00111]
 * ```
 */
export function dissipation<const T extends UncheckedEntries>(sweep: Sweep<T>, options: { readonly voltage: Voltage }): Dissipation<T> {
  const caller = "dissipation";
  const { voltage } = checkOptions(caller, options, ["voltage"]);
  const behind = typeof sweep === "object" && sweep !== null ? branchesOf(sweep) : undefined;
  if (behind === undefined)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "sweep" must be what solve returned, got ${show(sweep)}`,
      "A copy of a sweep doesn't know its network: call this where the sweep was made",
    );
  const volts = inSi(caller, "voltage", voltage, "V", { above: 0, max: 1e150 });
  const { frequencies } = sweep;
  const { engine, admittance, scale, source } = behind;
  const n = frequencies.length;
  const zeros = () => new Float64Array(n);
  const [total, apparent] = [zeros(), zeros()];
  const square = zeros().map((_, i) => volts ** 2 * (scale === undefined ? 1 : scale.re[i]! ** 2 + scale.im[i]! ** 2));
  const power = [...engine.circuit.parts].map(([name, part]) => {
    const own = zeros();
    for (const branch of part.branches) {
      const one = branchPower(behind, branch, frequencies);
      for (let i = 0; i < n; i++) {
        own[i] = own[i]! + one.real[i]! * square[i]!;
        apparent[i] = apparent[i]! + one.apparent[i]! * square[i]!;
      }
    }
    for (let i = 0; i < n; i++) total[i] = total[i]! + own[i]!;
    return [name, own] as const;
  });
  const [lost, given] = [zeros(), zeros()];
  for (let i = 0; i < n; i++) {
    const current = square[i]! * (admittance.re[i]! ** 2 + admittance.im[i]! ** 2);
    lost[i] = current * (source?.re[i] ?? 0);
    total[i] = total[i]! + lost[i]!;
    apparent[i] = apparent[i]! + current * Math.hypot(source?.re[i] ?? 0, source?.im[i] ?? 0);
    given[i] = volts ** 2 * (scale === undefined ? admittance.re[i]! : admittance.re[i]! * scale.re[i]! - admittance.im[i]! * scale.im[i]!);
  }
  const share = power.map(([name, own]) => [name, own.map((watts, i) => (total[i]! > 0 ? watts / total[i]! : 0))] as const);
  return Object.freeze({
    frequencies,
    power: Object.freeze(Object.fromEntries(power)) as Dissipation<T>["power"],
    share: Object.freeze(Object.fromEntries(share)) as Dissipation<T>["share"],
    sourceImpedance: lost,
    source: given,
    imbalance: given.map((watts, i) => (apparent[i]! > 0 ? Math.abs(watts - total[i]!) / apparent[i]! : 0)),
  });
}

function branchPower({ engine, values, voltage, current }: SweepBranches, branch: number, frequencies: Float64Array): BranchPower {
  const n = frequencies.length;
  const { re: vr, im: vi } = voltage(branch);
  const [real, apparent] = [new Float64Array(n), new Float64Array(n)];
  const first = frequencies[0] === 0 ? 1 : 0;
  const { law } = engine.circuit.branches[branch]!;
  // Without a voltage there is no power: a connection of 0 Ω, whose admittance is infinite.
  const put = (i: number, yr: number, yi: number) => {
    const size = vr[i]! ** 2 + vi[i]! ** 2;
    if (size === 0) return;
    real[i] = yr * size;
    apparent[i] = Math.hypot(yr, yi) * size;
  };
  if (engine.elimination.coils.some(({ branches }) => branches.includes(branch))) {
    const { re: ir, im: ii } = current(branch);
    for (let i = first; i < n; i++) {
      real[i] = (ir[i]! ** 2 + ii[i]! ** 2) * values[branch]![1]!;
      apparent[i] = Math.hypot(ir[i]!, ii[i]!) * Math.hypot(vr[i]!, vi[i]!);
    }
  } else if (first < n) {
    const above = frequencies.subarray(first);
    const [yr, yi] = [new Float64Array(n - first), new Float64Array(n - first)];
    law.bind(above).admittance(values[branch]!, 0, 0, n - first, yr, yi, 0);
    for (let i = first; i < n; i++) put(i, yr[i - first]!, yi[i - first]!);
  }
  if (first === 1) {
    const q = new Float64Array(4);
    law.ratio(values[branch]!, 0, 0, q);
    const size = q[2]! ** 2 + q[3]! ** 2;
    if (size > 0) put(0, (q[0]! * q[2]! + q[1]! * q[3]!) / size, (q[1]! * q[2]! - q[0]! * q[3]!) / size);
  }
  return { real, apparent };
}
