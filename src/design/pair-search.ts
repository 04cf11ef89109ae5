import type { BranchTable } from "./branch-table";
import type { LossBound } from "./heard";
import type { StateTree } from "./state-tree";

/** The best that has been found so far, shared by all searches of one question. */
export interface Incumbent {
  /** ln² amplitude; Infinity before anything was found. */
  loss: number;
  /** Takes states that are better than the best so far, unless they break a limit that only the whole network tells. */
  readonly offer: (states: Int32Array, loss: number) => boolean;
}

/** A depth-first search over one state of each branch, cut by the best so far; can be interrupted at any step. */
export interface PairSearch {
  /** Looks at up to this many pairs of nodes; true when nothing is left. */
  readonly run: (pairs: number) => boolean;
  /** ln² amplitude: no combination that is still open is below it. Infinity when nothing is left. */
  readonly openBound: () => number;
  /** Combinations settled, and pairs (or triples) of nodes looked at. */
  readonly settled: () => number;
  readonly evaluated: () => number;
}

/** States gone through for new nodes of trees, after which a run ends early. */
const MOST_SPLIT = 30_000;

export function pairSearch(
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
  { below, exact }: LossBound,
  best: Incumbent,
): PairSearch {
  const G = tables.length;
  let room = 1024;
  let bounds = new Float64Array(room);
  let nodes = new Int32Array(room * G);
  const now = new Int32Array(G);
  const states = new Int32Array(G);
  let [depth, evaluated, settled] = [0, 0, 0];

  const combinations = (at: Int32Array) => {
    let product = 1;
    for (let g = 0; g < G; g++) product *= at[g]! < 0 ? 1 : trees[g]!.count[at[g]!]!;
    return product;
  };
  const single = (at: Int32Array) => {
    for (let g = 0; g < G; g++) if (at[g]! >= 0) return false;
    return true;
  };
  /** The bound of `now`, or its exact value offered; Infinity for what needs no further look. */
  const look = (): number => {
    evaluated++;
    if (single(now)) {
      const loss = exact(now, 0, best.loss);
      if (loss < best.loss) {
        for (let g = 0; g < G; g++) states[g] = -1 - now[g]!;
        if (best.offer(states, loss)) best.loss = loss;
      }
      settled++;
      return Infinity;
    }
    const bound = below(now, 0, best.loss);
    if (bound < best.loss) return bound;
    settled += combinations(now);
    return Infinity;
  };
  const push = (bound: number): void => {
    if (depth === room) {
      room *= 2;
      const [moreBounds, moreNodes] = [new Float64Array(room), new Int32Array(room * G)];
      moreBounds.set(bounds);
      moreNodes.set(nodes);
      [bounds, nodes] = [moreBounds, moreNodes];
    }
    bounds[depth] = bound;
    nodes.set(now, depth * G);
    depth++;
  };

  for (let g = 0; g < G; g++) now[g] = trees[g]!.root;
  const root = look();
  if (root < Infinity) push(root);

  return {
    run(pairs) {
      const until = evaluated + pairs;
      let gone = 0;
      for (;;) {
        if (depth === 0 || evaluated >= until || gone > MOST_SPLIT) break;
        depth--;
        for (let g = 0; g < G; g++) now[g] = nodes[depth * G + g]!;
        if (bounds[depth]! >= best.loss) {
          settled += combinations(now);
          continue;
        }
        let [widest, size] = [-1, -1];
        for (let g = 0; g < G; g++) {
          if (now[g]! < 0) continue;
          const own = trees[g]!.size[now[g]!]!;
          if (own > size) [widest, size] = [g, own];
        }
        const node = now[widest]!;
        gone += trees[widest]!.split(node);
        const [left, right] = [trees[widest]!.left[node]!, trees[widest]!.right[node]!];
        now[widest] = left;
        const a = look();
        now[widest] = right;
        const b = look();
        // The better one last: it is taken up first.
        if (a <= b) {
          if (b < Infinity) push(b);
          now[widest] = left;
          if (a < Infinity) push(a);
        } else {
          now[widest] = left;
          if (a < Infinity) push(a);
          now[widest] = right;
          push(b);
        }
      }
      return depth === 0;
    },
    openBound() {
      let least = Infinity;
      for (let i = 0; i < depth; i++) least = Math.min(least, bounds[i]!);
      return least;
    },
    settled: () => settled,
    evaluated: () => evaluated,
  };
}
