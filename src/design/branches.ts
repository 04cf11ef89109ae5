import type { Entries } from "../network";
import { isCoupling } from "../parts/internal";

/**
 * The designators of a network in groups that meet only at `in` and `gnd`: parts that share another node belong together, and so do
 * coupled coils. At a given voltage between `in` and `gnd` one group knows nothing of the others.
 */
export function independentBranches(network: Entries): readonly (readonly string[])[] {
  const names = Object.keys(network);
  const parent = new Map(names.map((name) => [name, name]));
  const find = (name: string): string => {
    let at = name;
    while (parent.get(at) !== at) at = parent.get(at)!;
    return at;
  };
  const first = new Map<string, string>();
  for (const name of names) {
    const [part, ...ends] = network[name]!;
    for (const end of ends) {
      if (isCoupling(part)) parent.set(find(end), find(name));
      else if (end !== "in" && end !== "gnd") {
        if (first.has(end)) parent.set(find(name), find(first.get(end)!));
        else first.set(end, name);
      }
    }
  }
  const groups = new Map<string, string[]>();
  for (const name of names) groups.set(find(name), [...(groups.get(find(name)) ?? []), name]);
  return [...groups.values()];
}
