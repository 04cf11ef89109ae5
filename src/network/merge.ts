/** A union of nodes into groups: `find(a)` names the group, whose name is its lowest number. */
export interface Groups {
  find(node: number): number;
  unite(a: number, b: number): void;
}

export function groups(count: number): Groups {
  const parent = Int32Array.from({ length: count }, (_, index) => index);
  const find = (node: number): number => {
    let root = node;
    while (parent[root] !== root) root = parent[root]!;
    while (parent[node] !== root) {
      const next = parent[node]!;
      parent[node] = root;
      node = next;
    }
    return root;
  };
  return {
    find,
    unite(a, b) {
      const [first, second] = [find(a), find(b)];
      parent[Math.max(first, second)] = Math.min(first, second);
    },
  };
}
