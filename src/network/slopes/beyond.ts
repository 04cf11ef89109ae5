import { pairKey, type Elimination } from "../solve/elimination";
import type { OutputPair } from "../solve/program-values";

/** A pair of merged nodes seen from one further in: what lies across it is the ratio of `node` to `third`, times what lies between `third` and `other`. */
export interface Beyond {
  readonly node: number;
  readonly other: number;
  readonly third: number;
}

/** A branch between two merged nodes, and whether its current would do where it is in series with something. */
export interface Asked {
  readonly pair: OutputPair;
  readonly current: boolean;
}

/** Which pairs of nodes need their voltages, and which follow from others. */
export interface Reduction {
  /** The nodes whose mesh, the admittance of what lies in series through them, is needed. */
  readonly meshes: ReadonlySet<number>;
  /** The pairs that need them. */
  readonly direct: readonly OutputPair[];
  /** The nodes whose ratios the others need. */
  readonly squares: ReadonlySet<number>;
  /** How often the product of a pair (by `pairKey`) is used: by the pairs given, and by others that follow from it. */
  readonly uses: ReadonlyMap<number, number>;
  /** How often the square of the current through a node of `meshes` is used. */
  readonly seriesUses: ReadonlyMap<number, number>;
  /** One step inwards; undefined: a pair that needs its voltages. */
  beyond(a: number, b: number): Beyond | undefined;
  /** The outermost node of those that what lies between a and b is in series through: its mesh times the voltage between `third` and `other` is the current; undefined: in series with nothing. */
  series(a: number, b: number): Beyond | undefined;
}

/**
 * A node with two neighbours i, j and no current of its own (`injected`: those that have one) has V_k − V_i = m_j (V_j − V_i), for the driven network and for
 * injected currents alike: the product of the two voltages is m_j² times that between i and j, and neither is needed. Where nothing lies beside a branch of such a node, its
 * current is that of all that is in series with it, one square for them all.
 */
export function reduction(elimination: Elimination, injected: ReadonlySet<number>, asked: readonly Asked[]): Reduction {
  const { neighbours, order, rank } = elimination;
  const squares = new Set<number>();
  const direct: OutputPair[] = [];
  const uses = new Map<number, number>();
  const seriesUses = new Map<number, number>();
  const alone = aloneIn(elimination);
  const beyond = (a: number, b: number): Beyond | undefined => {
    const [node, other] = rank[a]! < rank[b]! ? [a, b] : [b, a];
    const around = rank[node]! < order.length ? neighbours[rank[node]!]! : [];
    return around.length === 2 && around.includes(other) && !injected.has(node)
      ? { node, other, third: around.find((neighbour) => neighbour !== other)! }
      : undefined;
  };
  const series = (a: number, b: number): Beyond | undefined => {
    const step = alone(a, b) ? beyond(a, b) : undefined;
    return step && (series(step.third, step.other) ?? step);
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
  for (const { pair, current } of asked) {
    const step = current ? series(...pair) : undefined;
    if (step === undefined) request(...pair);
    else {
      const before = seriesUses.get(step.node) ?? 0;
      seriesUses.set(step.node, before + 1);
      if (before === 0) request(step.third, step.other);
    }
  }
  return { direct, squares, uses, seriesUses, meshes: new Set(seriesUses.keys()), beyond, series };
}

/** Whether a single thing lies between two nodes by the time that one of them is eliminated: one branch, or what one elimination left there. */
function aloneIn({ pairs, neighbours }: Elimination): (a: number, b: number) => boolean {
  const things = new Map<number, number>();
  const count = (key: number, more: number): void => void things.set(key, (things.get(key) ?? 0) + more);
  for (const [key, contributions] of pairs) count(key, contributions.length);
  for (const around of neighbours)
    for (let i = 0; i < around.length; i++) for (let j = i + 1; j < around.length; j++) count(pairKey(around[i]!, around[j]!), 1);
  return (a, b) => things.get(pairKey(a, b)) === 1;
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
