import { checkOptions } from "../../errors/internal";
import { compile, type SweepOptions } from "./compile";
import type { CheckedShape } from "../checked";
import type { UncheckedEntries } from "../entries";
import type { Sweep } from "./sweep-data";

/**
 * Solves a network at the given frequencies by nodal analysis: all voltages and currents per volt of the source's
 * open-circuit voltage, and the impedance at `in`, which excludes the source's own. 0 Ω parts, lossless traps at their
 * resonance and 0 Hz are solved exactly; what has no finite solution is refused with the parts named. Time convention
 * e^(+jωt); current positive from a part's first node to its second.
 *
 * @param network the network (or any entries keyed by designator); dimensionless
 * @param frequencies Hz, ≥ 0, strictly ascending, length n
 * @param options `sourceImpedance` in Ω: a resistance, `{ resistance, inductance }`, or a `FrequencyResponse`
 * @returns `.voltage(nodeOrPart)` in V per V, `.current(part)` in A per V, `.impedance` in Ω, each of n points
 * @throws DividingNetworkError `malformed-network`, `invalid-network`, `invalid-frequencies`, `no-solution`
 * @example
 * ```ts
 * import { capacitor, network, resistor, solve, valueAt } from "dividing-network";
 *
 * const firstOrder = network({ C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor("8 Ω"), "t", "gnd"] });
 * const sweep = solve(firstOrder, [1000, 2000, 4000], { sourceImpedance: "0.1 Ω" });
 * valueAt(sweep.impedance, 2000).im; // -7.9577
 * ```
 */
export function solve<const T extends UncheckedEntries>(
  network: CheckedShape<T>,
  frequencies: ArrayLike<number>,
  options: SweepOptions = {},
): Sweep<T> {
  return compile<T>(network).sweep(frequencies, checkOptions("solve", options, ["sourceImpedance"]));
}
