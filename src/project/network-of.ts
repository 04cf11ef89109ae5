import { resistor, type PartOrCoupling } from "../parts";
import type { Entries } from "../network";
import { partOf } from "./part-of";
import type { ProjectNetwork } from "./project-types";

/**
 * The entries of a network in a project file, keyed by designator, unchecked. Without impedances, each driver is a resistor: enough
 * to see how the parts hang together.
 */
export function entriesOf({ parts }: ProjectNetwork, impedances?: ReadonlyMap<string, PartOrCoupling>): Entries {
  const entries = parts.map((part) => {
    const made = part.kind === "driver" ? (impedances?.get(part.name) ?? resistor(8)) : partOf(part);
    return [part.name, [made, ...(part.kind === "coupling" ? part.coils : part.nodes)]] as const;
  });
  // fromEntries defines keys and never assigns them, so that no name reaches a prototype.
  return Object.fromEntries(entries) as unknown as Entries;
}
