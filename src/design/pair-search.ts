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

/** States gone through for new nodes of trees, after which a run ends early. */
const MOST_SPLIT = 30_000;

/** A depth-first search over one state of each branch, cut by the best so far; can be interrupted at any step. */
export class PairSearch {
  private readonly trees: readonly StateTree[];
  private readonly bound: LossBound;
  private readonly best: Incumbent;
  private bounds = new Float64Array(1024);
  private nodes: Int32Array;
  private readonly now: Int32Array;
  private readonly states: Int32Array;
  private depth = 0;
  /** Pairs (or triples) of nodes looked at. */
  evaluated = 0;
  /** Combinations settled. */
  settled = 0;

  constructor(tables: readonly BranchTable[], trees: readonly StateTree[], bound: LossBound, best: Incumbent) {
    const G = tables.length;
    this.trees = trees;
    this.bound = bound;
    this.best = best;
    this.nodes = new Int32Array(this.bounds.length * G);
    this.now = Int32Array.from(trees, ({ root }) => root);
    this.states = new Int32Array(G);
    const root = this.look();
    if (root < Infinity) this.push(root);
  }

  /** Looks at up to this many pairs of nodes; true when nothing is left. */
  run(pairs: number): boolean {
    const { trees, now, best } = this;
    const G = now.length;
    const until = this.evaluated + pairs;
    let gone = 0;
    while (this.depth > 0 && this.evaluated < until && gone <= MOST_SPLIT) {
      this.depth--;
      for (let g = 0; g < G; g++) now[g] = this.nodes[this.depth * G + g]!;
      if (this.bounds[this.depth]! >= best.loss) {
        this.settled += this.combinations();
        continue;
      }
      let [widest, size] = [-1, -1];
      for (let g = 0; g < G; g++) {
        if (now[g]! < 0) continue;
        const own = trees[g]!.size[now[g]!]!;
        if (own > size) {
          widest = g;
          size = own;
        }
      }
      const node = now[widest]!;
      gone += trees[widest]!.split(node);
      const left = trees[widest]!.left[node]!;
      const right = trees[widest]!.right[node]!;
      now[widest] = left;
      const a = this.look();
      now[widest] = right;
      const b = this.look();
      // The better one last: it is taken up first.
      if (a <= b) {
        if (b < Infinity) this.push(b);
        now[widest] = left;
        if (a < Infinity) this.push(a);
      } else {
        now[widest] = left;
        if (a < Infinity) this.push(a);
        now[widest] = right;
        this.push(b);
      }
    }
    return this.depth === 0;
  }

  /** ln² amplitude: no combination that is still open is below it. Infinity when nothing is left. */
  openBound(): number {
    let least = Infinity;
    for (let i = 0; i < this.depth; i++) least = Math.min(least, this.bounds[i]!);
    return least;
  }

  private combinations(): number {
    const { now, trees } = this;
    let product = 1;
    for (let g = 0; g < now.length; g++) product *= now[g]! < 0 ? 1 : trees[g]!.count[now[g]!]!;
    return product;
  }

  /** The bound of `now`, or its exact value offered; Infinity for what needs no further look. */
  private look(): number {
    const { now, states, best, bound } = this;
    this.evaluated++;
    if (!single(now)) {
      const own = bound.below(now, 0, best.loss);
      if (own < best.loss) return own;
      this.settled += this.combinations();
      return Infinity;
    }
    const loss = bound.exact(now, 0, best.loss);
    if (loss < best.loss) {
      for (let g = 0; g < now.length; g++) states[g] = -1 - now[g]!;
      if (best.offer(states, loss)) best.loss = loss;
    }
    this.settled++;
    return Infinity;
  }

  private push(bound: number): void {
    const G = this.now.length;
    if (this.depth === this.bounds.length) {
      const [bounds, nodes] = [new Float64Array(2 * this.depth), new Int32Array(2 * this.depth * G)];
      bounds.set(this.bounds);
      nodes.set(this.nodes);
      [this.bounds, this.nodes] = [bounds, nodes];
    }
    this.bounds[this.depth] = bound;
    this.nodes.set(this.now, this.depth * G);
    this.depth++;
  }
}

/** Whether all nodes are single states. */
function single(nodes: Int32Array): boolean {
  for (let g = 0; g < nodes.length; g++) if (nodes[g]! >= 0) return false;
  return true;
}
