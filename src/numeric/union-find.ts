/** Things, each a whole number from 0 on, united into groups: `find(a)` names the group, whose name is its lowest number. */
export interface Groups {
  find(thing: number): number;
  /** Whether they weren't in one group before. */
  unite(a: number, b: number): boolean;
}

/** Groups of one thing each, as many as will be asked for. */
export function unionFind(): Groups {
  const parent: number[] = [];
  const find = (thing: number): number => {
    for (let next = parent.length; next <= thing; next++) parent.push(next);
    let root = thing;
    while (parent[root] !== root) root = parent[root]!;
    while (parent[thing] !== root) {
      const next = parent[thing]!;
      parent[thing] = root;
      thing = next;
    }
    return root;
  };
  return {
    find,
    unite(a, b) {
      const [first, second] = [find(a), find(b)];
      parent[Math.max(first, second)] = Math.min(first, second);
      return first !== second;
    },
  };
}
