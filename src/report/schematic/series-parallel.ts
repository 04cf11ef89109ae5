import type { Piece } from "./pieces";

/** A network between two ends as nested chains and groups, each in its order from the first end to the second. */
export type Tree =
  | { readonly shape: "leaf"; readonly piece: Piece; /** Whether its first node is at the first end. */ readonly forward: boolean }
  | { readonly shape: "series" | "parallel"; readonly children: readonly Tree[] };

interface Edge {
  readonly from: string;
  readonly to: string;
  readonly tree: Tree;
}

/** The network between two nodes as a tree, or `undefined` where it has a bridge or a loose end. */
export function seriesParallel(pieces: readonly Piece[], first: string, last: string): Tree | undefined {
  let edges: Edge[] = pieces.map((piece) => ({ from: piece.from, to: piece.to, tree: { shape: "leaf", piece, forward: true } }));
  if (edges.some(({ from, to }) => from === to)) return undefined;
  for (let before = edges.length + 1; edges.length < before;) {
    before = edges.length;
    edges = mergeChain(mergeGroups(edges), first, last);
  }
  const [only] = edges;
  if (edges.length !== 1 || only === undefined) return undefined;
  if (only.from === first && only.to === last) return only.tree;
  return only.from === last && only.to === first ? turned(only.tree) : undefined;
}

function mergeGroups(edges: readonly Edge[]): Edge[] {
  const groups = new Map<string, Edge[]>();
  for (const edge of edges) {
    const key = JSON.stringify([edge.from, edge.to].sort());
    groups.set(key, [...(groups.get(key) ?? []), edge]);
  }
  return Array.from(groups.values(), ([edge, ...others]) =>
    others.length === 0
      ? edge!
      : {
          ...edge!,
          tree: combined(
            "parallel",
            [edge!, ...others].map((each) => (each.from === edge!.from ? each.tree : turned(each.tree))),
          ),
        },
  );
}

/** Joins the two edges at one inner node that has no third. */
function mergeChain(edges: readonly Edge[], first: string, last: string): Edge[] {
  const at = new Map<string, Edge[]>();
  for (const edge of edges) for (const node of [edge.from, edge.to]) at.set(node, [...(at.get(node) ?? []), edge]);
  for (const [node, pair] of at) {
    const [a, b] = pair;
    if (node === first || node === last || pair.length !== 2 || a === b) continue;
    const head = a!.to === node ? a!.tree : turned(a!.tree);
    const tail = b!.from === node ? b!.tree : turned(b!.tree);
    const joined: Edge = {
      from: a!.to === node ? a!.from : a!.to,
      to: b!.from === node ? b!.to : b!.from,
      tree: combined("series", [head, tail]),
    };
    return edges.flatMap((edge) => (edge === a ? [joined] : edge === b ? [] : [edge]));
  }
  return [...edges];
}

function combined(shape: "series" | "parallel", trees: readonly Tree[]): Tree {
  return { shape, children: trees.flatMap((tree) => (tree.shape === shape ? tree.children : [tree])) };
}

function turned(tree: Tree): Tree {
  if (tree.shape === "leaf") return { ...tree, forward: !tree.forward };
  const children = tree.children.map(turned);
  return { ...tree, children: tree.shape === "series" ? children.reverse() : children };
}

/** Whether a driver is anywhere in a tree. */
export function hasDriver(tree: Tree): boolean {
  return tree.shape === "leaf" ? tree.piece.symbol === "driver" : tree.children.some(hasDriver);
}
