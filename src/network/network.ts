import { owned, shown } from "../errors/internal";
import { checkEntries, checkParts } from "./check-entries";
import { throwFindings } from "./diagnose";
import type { Checked, CheckedFragment } from "./checked";
import type { Entries, Network, UncheckedEntries } from "./entries";
import { networkViews } from "./views";

/**
 * A network: parts keyed by designator, each with the nodes at its terminals. Node names are free, but `in` is the
 * amplifier's terminal and `gnd` its return; a part and a node must not share a name. Any topology is legal: parallel,
 * series-connected, bridged, coupled. What can be seen wrong by its types doesn't compile; the rest is refused here.
 *
 * @param entries parts (two terminals: `[part, from, to]`; L-pad: input, output, common; transformer: primary dot and
 *   end, secondary dot and end; coupling: the names of two coils), keyed by designator; dimensionless
 * @returns the entries, checked and frozen: the keys type the answers of `solve`
 * @throws DividingNetworkError `malformed-network`, `invalid-network` with one issue for each thing that is wrong
 * @example
 * ```ts
 * import { capacitor, inductor, network, resistor } from "dividing-network";
 *
 * const highPass = network({
 *   C1: [capacitor("6.8 µF"), "in", "t"],
 *   L1: [inductor("0.33 mH"), "t", "gnd"],
 *   tweeter: [resistor("6 Ω"), "t", "gnd"],
 * });
 * Object.keys(highPass); // ["C1", "L1", "tweeter"]
 * ```
 */
export function network<const T extends UncheckedEntries>(entries: Checked<T>): Network<T> {
  throwFindings(entries as Entries);
  return freezeEntries<T>(entries);
}

/**
 * A piece of a network, for `join`: entries written out in code keep their names in their type, without `as const`.
 * A fragment need not touch `in` nor reach `gnd`, so nothing but its shape is checked.
 *
 * @param entries parts keyed by designator, as for `network`; dimensionless
 * @returns the entries, frozen
 * @throws DividingNetworkError `malformed-network`
 * @example
 * ```ts
 * import { fragment, join, network, resistor } from "dividing-network";
 *
 * const pad = fragment({ R1: [resistor(2), "a", "t"] });
 * const whole = network(join(pad, { R2: [resistor(4), "in", "a"], tweeter: [resistor(6), "t", "gnd"] }));
 * Object.keys(whole); // ["R1", "R2", "tweeter"]
 * ```
 */
export function fragment<const T extends UncheckedEntries>(entries: CheckedFragment<T>): Network<T> {
  return freezeEntries<T>(entries);
}

function freezeEntries<T extends UncheckedEntries>(entries: unknown): Network<T> {
  checkEntries("fragment", entries);
  checkParts(entries as Entries);
  const own = Object.fromEntries(Object.entries(entries as Entries).map(([name, entry]) => [name, owned([...entry])]));
  return Object.freeze(shown(own as unknown as Entries, networkViews)) as unknown as Network<T>;
}
