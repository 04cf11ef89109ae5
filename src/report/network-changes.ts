import type { Entries } from "../network";
import { sameData } from "../network/internal";
import { describe, isCoupling } from "../parts/internal";

/** Designators of `network` whose part (its ratings aside) or nodes differ from those in `other`, or that aren't in it. A part without polarity may lie the other way round. */
export function changedParts(network: Entries, other: Entries): readonly string[] {
  const coupled = new Set([network, other].flatMap((one) => Object.values(one).flatMap(([part, ...names]) => (isCoupling(part) ? names : []))));
  return Object.entries(network).flatMap(([name, [part, ...nodes]]) => {
    if (!Object.hasOwn(other, name)) return [name];
    const [otherPart, ...otherNodes] = other[name]!;
    const turns = describe(part).turns === true && !coupled.has(name);
    const joined = (list: readonly string[]) => JSON.stringify(turns ? [...list].sort() : list);
    return sameData(unrated(part), unrated(otherPart)) && joined(nodes) === joined(otherNodes) ? [] : [name];
  });
}

/** What a part is, without what it is rated for: another rating changes nothing that is drawn. */
export function unrated(part: object): object {
  return Object.fromEntries(Object.entries(part).filter(([key]) => !["power", "voltage", "current", "tolerance"].includes(key)));
}

/**
 * Whether a part of two terminals stands the other way round in another network. What ends at `gnd` or begins at `in` says where
 * its + points; else its two nodes must be the same pair. `undefined`: neither tells.
 */
export function turned(part: string, network: Entries, other: Entries): boolean | undefined {
  if (!Object.hasOwn(network, part) || !Object.hasOwn(other, part)) return undefined;
  const [first, second] = [network, other].map((one) => one[part]!.slice(1) as readonly string[]);
  const [a, b] = [senseOf(first!), senseOf(second!)];
  if (a !== undefined && b !== undefined) return a !== b;
  if (first![0] === second![0] && first![1] === second![1]) return false;
  return first![0] === second![1] && first![1] === second![0] ? true : undefined;
}

function senseOf([plus, minus]: readonly string[]): "forward" | "backward" | undefined {
  if (minus === "gnd" || plus === "in") return "forward";
  return plus === "gnd" || minus === "in" ? "backward" : undefined;
}
