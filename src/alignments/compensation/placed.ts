import { fragment, type Entries, type Entry } from "../../network";
import type { PartOrCoupling } from "../../parts";
import { checkNodes, type Branch, type BranchNodes } from "../branch";

/** What a shape stands for: by designator a part or coupling, and the names it goes between. */
export type Placements<S> = { readonly [K in keyof S]: S[K] };

/**
 * A branch from placements: `from`, `to` and `ground` are the nodes outside; every other name is a node inside, or a coil
 * of a coupling, and gets the prefix. Nodes inside begin with a designator, so that fragments with different designators
 * never meet by accident.
 */
export function placedBranch<S extends object>(caller: string, placements: Placements<S>): Branch<S> {
  const place = (nodes: BranchNodes): Entries => {
    const { prefix, ...outer } = checkNodes(caller, nodes);
    return fragment(placed(placements, prefix, outer));
  };
  return place as Branch<S>;
}

/** The entries of placements with the names that they get outside. */
export function placed(placements: object, prefix: string, outer: Readonly<Record<string, string>>): Entries {
  const named = (name: string): string => (Object.hasOwn(outer, name) ? outer[name]! : prefix + name);
  return Object.fromEntries(
    (Object.entries(placements) as [string, readonly [PartOrCoupling, ...string[]]][]).map(([designator, [part, ...names]]) => [
      prefix + designator,
      [part, ...names.map(named)] as unknown as Entry,
    ]),
  );
}
