import { solve, type Entries } from "../../network";
import { resistor } from "../../parts";
import { expandPart, isCoupling, isDriver } from "../../parts/internal";

/** What conducts direct current between two nodes, Ω. */
interface Path {
  readonly part: string;
  readonly from: string;
  readonly to: string;
  readonly ohms: number;
}

/**
 * What an ohmmeter reads between two nodes, with nothing else connected: Ω, or `"open"`. Capacitors are open, coils their direct-current
 * resistance, windings of a transformer are apart, drivers what `driverOhms` says.
 */
export function dcResistance(
  network: Entries,
  from: string,
  to: string,
  driverOhms: (part: string) => number,
  without: readonly string[] = [],
): number | "open" {
  const paths = pathsOf(network, driverOhms).filter(({ part }) => !without.includes(part));
  const shorted = groups(paths.filter(({ ohms }) => ohms === 0));
  if (shorted(from) === shorted(to)) return 0;
  const joined = groups(paths);
  if (joined(from) !== joined(to)) return "open";
  const live = alive(
    paths
      .filter((path) => path.ohms > 0 && joined(path.from) === joined(from))
      .map((path) => ({ ...path, from: shorted(path.from), to: shorted(path.to) })),
    [shorted(from), shorted(to)],
  );
  const node = (name: string) => (name === shorted(from) ? "in" : name === shorted(to) ? "gnd" : `n ${name}`);
  const resistors: Entries = Object.fromEntries(
    live.map(({ from: a, to: b, ohms }, index) => [`R${index}`, [resistor(ohms), node(a), node(b)] as const]),
  );
  return solve<Entries>(resistors, [0]).impedance.re[0]!;
}

function pathsOf(network: Entries, driverOhms: (part: string) => number): readonly Path[] {
  return Object.entries(network).flatMap(([part, [given, ...nodes]]): Path[] => {
    if (isCoupling(given)) return [];
    if (isDriver(given)) return [{ part, from: nodes[0], to: nodes[1], ohms: driverOhms(part) }];
    const { branches, transformers = [] } = expandPart(given);
    const windings = transformers.flatMap(({ primary, secondary }) =>
      [primary, secondary].map(([from, to]) => ({ part, from: nodes[from]!, to: nodes[to]!, ohms: 0 })),
    );
    const ratio = new Float64Array(4);
    return [
      ...windings,
      ...branches.flatMap(({ from, to, law, values }) => {
        law.ratio(values, 0, 0, ratio);
        return ratio[0] === 0 ? [] : [{ part, from: nodes[from]!, to: nodes[to]!, ohms: ratio[2]! / ratio[0]! }];
      }),
    ];
  });
}

/** The name of the group in which paths join a node. */
function groups(paths: readonly Pick<Path, "from" | "to">[]): (node: string) => string {
  const over = new Map<string, string>();
  const top = (node: string): string => {
    let at = node;
    for (let next = over.get(at); next !== undefined; next = over.get(at)) at = next;
    return at;
  };
  for (const { from, to } of paths) if (top(from) !== top(to)) over.set(top(from), top(to));
  return top;
}

/** What can carry current between the two ends: loops on one node and dead ends, again and again, are left out. */
function alive(paths: readonly Path[], ends: readonly string[]): readonly Path[] {
  let kept = paths.filter(({ from, to }) => from !== to);
  for (;;) {
    const count = new Map<string, number>();
    for (const { from, to } of kept) for (const node of [from, to]) count.set(node, (count.get(node) ?? 0) + 1);
    const next = kept.filter(({ from, to }) => [from, to].every((node) => ends.includes(node) || count.get(node)! > 1));
    if (next.length === kept.length) return kept;
    kept = next;
  }
}
