import type { BranchPart, OptionLaws } from "./branch-laws";

/** How the parts put in are connected, once for each pattern of open and shorted places. */
export interface Pattern {
  /** By part: numbers of the nodes (0 `gnd`, 1 `in`, 2 … the rest), united by shorts. */
  readonly nodes: readonly (readonly number[])[];
  readonly unknowns: number;
}

/** The nodes of a branch by their numbers before any are united. */
export function nodeNumbers(parts: readonly BranchPart[]): ReadonlyMap<string, number> {
  const numbers = new Map([
    ["gnd", 0],
    ["in", 1],
  ]);
  for (const { nodes } of parts) for (const node of nodes) if (!numbers.has(node)) numbers.set(node, numbers.size);
  return numbers;
}

/**
 * The pattern of some options, remembered by which are open or short.
 *
 * @param isNetwork whether they make one
 */
export function patternsOf(
  parts: readonly BranchPart[],
  laws: OptionLaws,
  numbers: ReadonlyMap<string, number>,
  isNetwork: (options: ArrayLike<number>) => boolean,
): (options: ArrayLike<number>) => Pattern | undefined {
  const known = new Map<string, Pattern | undefined>();
  const made = (options: ArrayLike<number>): Pattern => {
    const united = Array.from({ length: numbers.size }, (_, node) => node);
    const find = (node: number): number => (united[node] === node ? node : find(united[node]!));
    parts.forEach(({ nodes }, p) => {
      if (laws[p]![options[p]!]?.[0]!.short !== true) return;
      const [a, b] = [find(numbers.get(nodes[0]!)!), find(numbers.get(nodes[1]!)!)];
      united[Math.max(a, b)] = Math.min(a, b);
    });
    const renumbered = new Map([
      [0, 0],
      [1, 1],
    ]);
    // Only nodes at which something conducts are unknown; at any other no current flows and nothing is heard of it.
    parts.forEach(({ nodes }, p) => {
      if (laws[p]![options[p]!] === undefined) return;
      for (const node of nodes) if (!renumbered.has(find(numbers.get(node)!))) renumbered.set(find(numbers.get(node)!), renumbered.size);
    });
    return {
      nodes: parts.map(({ nodes }) => nodes.map((node) => renumbered.get(find(numbers.get(node)!)) ?? 0)),
      unknowns: renumbered.size - 2,
    };
  };
  return (options) => {
    let key = "";
    for (let p = 0; p < parts.length; p++) {
      const branches = laws[p]![options[p]!];
      key += branches === undefined ? "o" : branches[0]!.short ? "s" : "y";
    }
    if (!known.has(key)) known.set(key, isNetwork(options) ? made(options) : undefined);
    return known.get(key);
  };
}
