import type { Entries } from "../network";
import { entryFromJSON } from "../network/internal";
import { resistor, type PartOrCoupling } from "../parts";
import { isDriver } from "../parts/internal";
import type { ProjectNetwork } from "./project-types";

/**
 * The entries of a network in a project file, keyed by designator, unchecked. Without impedances, each driver is a resistor: enough
 * to see how the parts hang together.
 */
export function entriesOf({ parts }: ProjectNetwork, impedances?: ReadonlyMap<string, PartOrCoupling>): Entries {
  const entries = parts.map(
    (part) => [part.name, isDriver(part) ? [impedances?.get(part.name) ?? resistor(8), ...part.nodes] : entryFromJSON(part)] as const,
  );
  // fromEntries defines keys and never assigns them, so that no name reaches a prototype.
  return Object.fromEntries(entries) as unknown as Entries;
}
