/** Names for a netlist: letters, digits and underscores, of which no two are alike when case is left out. */
export interface SpiceNames {
  /** The name of a node. */
  node(node: string): string;
  /** A new name for a node that the network doesn't have. */
  inner(near: string): string;
  /** A new name for an element of the kind that the letter says. */
  element(letter: string, designator: string): string;
  /** The nodes that are called otherwise in the netlist, each with its name there. */
  readonly renamed: ReadonlyMap<string, string>;
}

export function spiceNames(nodes: readonly string[]): SpiceNames {
  const [takenNodes, takenElements] = [
    new Map([
      ["0", 2],
      ["gnd", 2],
    ]),
    new Map<string, number>(),
  ];
  const names = new Map([["gnd", "0"]]);
  const renamed = new Map<string, string>();
  // Names that need no change come first: none of them gives way to one that is made up.
  const plain = (node: string): boolean => clean(node) === node && !/^0+$/.test(node);
  for (const node of [...nodes.filter(plain), ...nodes.filter((each) => !plain(each))]) {
    if (names.has(node)) continue;
    const name = free(plain(node) ? node : /^0*$/.test(clean(node)) ? `n${clean(node)}` : clean(node), takenNodes);
    names.set(node, name);
    if (name !== node) renamed.set(node, name);
  }
  return {
    node: (node) => names.get(node)!,
    inner: (near) => free(clean(near), takenNodes),
    element: (letter, designator) => {
      const name = clean(designator);
      return free(name.toUpperCase().startsWith(letter) && name.length > 1 ? name : `${letter}${name}`, takenElements);
    },
    renamed,
  };
}

const clean = (name: string): string => name.replaceAll(/[^A-Za-z0-9_]/g, "_").slice(0, 40);

/** A name of its own, which is noted; the map holds the number with which the next one of that name is tried. */
function free(name: string, taken: Map<string, number>): string {
  let own = name;
  let count = taken.get(name.toLowerCase()) ?? 1;
  for (; taken.has(own.toLowerCase()); count++) own = `${name}_${count}`;
  taken.set(name.toLowerCase(), Math.max(count, 2));
  taken.set(own.toLowerCase(), taken.get(own.toLowerCase()) ?? 2);
  return own;
}
