import { fewDigits } from "../quantity/internal";
import { fragment, type Entries } from "../network";
import { describePart, driverModel, isCoupling, isDriver } from "../parts/internal";
import { formatQuantity } from "../quantity";

/**
 * Where each part of a network is connected, for whoever builds or checks it: designator, part, and the nodes at its
 * terminals in their order (a driver's + and a coil's dot come first).
 *
 * @param network entries keyed by designator; dimensionless
 * @returns rows of designator, part with its value (Ω, H, F), and nodes
 * @throws DividingNetworkError what `formatQuantity` throws
 * @example
 * ```ts
 * import { network, resistor } from "dividing-network";
 * import { connections } from "dividing-network/report";
 *
 * connections(network({ R1: [resistor(4.7), "in", "gnd"] })); // [["R1", "Resistor 4.7 Ω", "in – gnd"]]
 * ```
 */
export function connections(network: Entries): readonly (readonly [designator: string, part: string, nodes: string])[] {
  return Object.entries(fragment(network as never) as Entries).map(([name, [part, ...nodes]]) => {
    const text = nodes.join(" – ");
    const model = driverModel(part);
    if (isDriver(part))
      return [name, model === undefined ? "Driver, as measured" : `Driver, Re ${formatQuantity(model.re, "Ω")}`, `+ ${text}`] as const;
    if (isCoupling(part)) return [name, `Coupling k = ${fewDigits(part.k)}`, text] as const;
    const [what, detail] = describePart(part);
    return [name, detail === "" ? what : `${what}, ${detail}`, text] as const;
  });
}
