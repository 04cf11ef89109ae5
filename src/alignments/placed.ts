import type { Coupling, Part } from "../parts";
import { fragment, type Entry, type Network } from "../network";
import { checkNodes, type BranchNodes } from "./branch";

/** A part or coupling, with the names of the nodes (or coils) it goes between; names that begin with "." are nodes of the fragment. */
export type Placement = readonly [designator: string, part: Part | Coupling, ...names: string[]];

/**
 * A branch from placements written with the names `from`, `to` and `ground`, with nodes inside such as `.a`, and, for
 * couplings, designators.
 */
export function placedBranch(caller: string, placements: readonly Placement[]): (nodes: BranchNodes) => Network {
  const designators = placements.map(([designator]) => designator);
  return (nodes) => {
    const { prefix, ...outer } = checkNodes(caller, nodes);
    // Nodes inside carry the first designator, so that fragments with different designators never meet by accident.
    const named = (name: string): string =>
      name.startsWith(".") ? `${prefix}${designators[0]!}${name}` : designators.includes(name) ? prefix + name : outer[name as "from" | "to" | "ground"];
    return fragment(Object.fromEntries(placements.map(([designator, part, ...names]) => [prefix + designator, [part, ...names.map(named)] as unknown as Entry])));
  };
}
