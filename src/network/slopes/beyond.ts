import { pairKey, type Elimination } from "../solve/elimination";
import type { OutputPair } from "../solve/program-builder";

/** A pair of merged nodes seen from one further in: what lies across it is the ratio of `node` to `third`, times what lies between `third` and `other`. */
export interface Beyond {
  readonly node: number;
  readonly other: number;
  readonly third: number;
}

/** Which pairs of nodes need their voltages, and which follow from others. */
export interface Reduction {
  /** The pairs that need them. */
  readonly direct: readonly OutputPair[];
  /** The nodes whose ratios the others need. */
  readonly squares: ReadonlySet<number>;
  /** How often the product of a pair (by `pairKey`) is used: by the pairs given, and by others that follow from it. */
  readonly uses: ReadonlyMap<number, number>;
  /** One step inwards; undefined: a pair that needs its voltages. */
  beyond(a: number, b: number): Beyond | undefined;
}

/**
 * A node with two neighbours i, j and no current of its own (`injected`: those that have one) has V_k − V_i = m_j (V_j − V_i), for the driven network and for
 * injected currents alike: the product of the two voltages is m_j² times that between i and j, and neither is needed.
 */
export function reduction(
  { neighbours, order, rank }: Elimination,
  injected: ReadonlySet<number>,
  pairs: readonly OutputPair[],
): Reduction {
  const squares = new Set<number>();
  const direct: OutputPair[] = [];
  const uses = new Map<number, number>();
  const beyond = (a: number, b: number): Beyond | undefined => {
    const [node, other] = rank[a]! < rank[b]! ? [a, b] : [b, a];
    const around = rank[node]! < order.length ? neighbours[rank[node]!]! : [];
    return around.length === 2 && around.includes(other) && !injected.has(node)
      ? { node, other, third: around.find((neighbour) => neighbour !== other)! }
      : undefined;
  };
  const request = (a: number, b: number): void => {
    const key = pairKey(a, b);
    const before = uses.get(key) ?? 0;
    uses.set(key, before + 1);
    if (before > 0) return;
    const step = beyond(a, b);
    if (step === undefined) direct.push([a, b]);
    else {
      squares.add(step.node);
      request(step.third, step.other);
    }
  };
  for (const [a, b] of pairs) request(a, b);
  return { direct, squares, uses, beyond };
}

/** The nodes at which currents into these pairs' nodes arrive. */
export function injectedBy({ neighbours, order, rootOf }: Elimination, pairs: readonly OutputPair[]): Set<number> {
  const injected = new Set<number>();
  for (const pair of pairs) for (const node of pair) if (rootOf[node]! > 1) injected.add(rootOf[node]!);
  order.forEach((node, step) => {
    if (injected.has(node)) for (const neighbour of neighbours[step]!) if (neighbour > 1) injected.add(neighbour);
  });
  return injected;
}
