import type { Entries } from "../network";
import { sameData } from "../network/internal";
import { describe, isCoupling, sameKind } from "../parts/internal";

/** Designators of `network` whose part (its ratings aside) or nodes differ from those in `other`, or that aren't in it, and coils that gain or lose a coupling. A part without polarity may lie the other way round. */
export function changedParts(network: Entries, other: Entries): readonly string[] {
  const coupled = new Set(
    [network, other].flatMap((one) => Object.values(one).flatMap(([part, ...names]) => (isCoupling(part) ? names : []))),
  );
  const renamed = renamedNodes(network, other);
  return Object.entries(network).flatMap(([name, [part, ...own]]) => {
    const nodes = own.map((node) => renamed.get(node) ?? node);
    if (!Object.hasOwn(other, name)) return [name];
    const [otherPart, ...otherNodes] = other[name]!;
    const turns = describe(part).turns === true && !coupled.has(name);
    const joined = (list: readonly string[]) => JSON.stringify(turns ? [...list].sort() : list);
    return sameData(unrated(part), unrated(otherPart))
      && joined(nodes) === joined(otherNodes)
      && coupledTo(name, network).join() === coupledTo(name, other).join()
      ? []
      : [name];
  });
}

/**
 * Nodes of `network` that bear another name in `other`: names that only one of both has, matched through parts of one designator, first those that are equal, then those of one kind.
 */
function renamedNodes(network: Entries, other: Entries): ReadonlyMap<string, string> {
  const nodesOf = (entries: Entries) => new Set(Object.values(entries).flatMap(([part, ...names]) => (isCoupling(part) ? [] : names)));
  const [own, theirs] = [nodesOf(network), nodesOf(other)];
  const renamed = new Map<string, string>();
  const free = new Set([...theirs].filter((node) => !own.has(node)));
  const known = (node: string): string | undefined => renamed.get(node) ?? (theirs.has(node) ? node : undefined);
  for (const equal of [true, false]) {
    for (let before = -1; before < renamed.size && free.size > 0;) {
      before = renamed.size;
      for (const [name, [part, ...nodes]] of Object.entries(network)) {
        if (!Object.hasOwn(other, name) || isCoupling(part)) continue;
        const [otherPart, ...otherNodes] = other[name]!;
        if (!sameKind(part, otherPart) || nodes.length !== otherNodes.length || (equal && !sameData(unrated(part), unrated(otherPart))))
          continue;
        const orders = nodes.length === 2 && describe(part).turns === true ? [otherNodes, [...otherNodes].reverse()] : [otherNodes];
        const fits = orders.find(
          (order) =>
            nodes.some((node, index) => known(node) === order[index])
            && nodes.every(
              (node, index) => (known(node) ?? order[index]) === order[index] && (known(node) !== undefined || free.has(order[index]!)),
            ),
        );
        if (fits === undefined) continue;
        for (const [index, node] of nodes.entries()) {
          if (known(node) !== undefined || !free.has(fits[index]!)) continue;
          renamed.set(node, fits[index]!);
          free.delete(fits[index]!);
        }
      }
    }
  }
  return renamed;
}

/** Designators of the coils that a coil is coupled to, in order. */
export function coupledTo(name: string, network: Entries): readonly string[] {
  return Object.values(network)
    .flatMap(([part, ...names]) =>
      isCoupling(part) && (names as readonly string[]).includes(name) ? names.filter((other) => other !== name) : [],
    )
    .sort();
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
