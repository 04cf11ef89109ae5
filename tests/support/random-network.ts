// Seeded random networks for the tests: connected, every topology, parts of every basic kind.
import type { Entries, Entry } from "dividing-network/network";
import { capacitor, coupling, inductor, resistor } from "dividing-network/parts";

/** Numbers in [0, 1) from a 32-bit seed (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

export interface RandomOptions {
  /** Nodes apart from `gnd`: 1 … 12. */
  readonly nodes: number;
  /** Decades around each kind's middle value; default 3. */
  readonly decades?: number;
  /** Share of parts that are lossy where loss is optional; default 1. */
  readonly loss?: number;
  /** Coils coupled to a first one, all among each other; default 0. */
  readonly couplings?: number;
  /** Bound of |k|; default 0.9. */
  readonly tightest?: number;
}

/**
 * A connected network: first a random tree that reaches every node, then chords. `in` always carries a part, and no coil or
 * capacitor without loss stands alone across the source.
 */
export function randomNetwork(
  random: () => number,
  { nodes, decades = 3, loss = 1, couplings = 0, tightest = 0.9 }: RandomOptions,
): Entries {
  const pick = (count: number) => Math.floor(random() * count);
  const spread = (middle: number) => Number((middle * 10 ** ((random() - 0.5) * decades)).toPrecision(6));
  const names = ["gnd", "in", ...Array.from({ length: nodes - 1 }, (_, i) => `n${i}`)];
  const entries: Record<string, Entry> = {};
  const coils: string[] = [];
  const part = (from: string, to: string, coil: boolean): void => {
    const kind = coil ? 1 : pick(3);
    const number = Object.keys(entries).length;
    if (kind === 0) entries[`R${number}`] = [resistor(spread(10)), from, to];
    else if (kind === 1) {
      entries[`L${number}`] = [inductor(spread(1e-3), random() < loss ? { dcr: spread(0.3) } : {}), from, to];
      coils.push(`L${number}`);
    } else entries[`C${number}`] = [capacitor(spread(10e-6), random() < loss ? { esr: spread(0.05) } : {}), from, to];
  };
  // A tree: node i hangs on an earlier one; the source's node on gnd.
  for (let i = 1; i < names.length; i++) {
    const other = i === 1 ? 0 : pick(i);
    if (random() < 0.5) part(names[i]!, names[other]!, false);
    else part(names[other]!, names[i]!, false);
  }
  const chords = 1 + pick(nodes + 1);
  for (let chord = 0; chord < chords; chord++) {
    const a = pick(names.length);
    const b = (a + 1 + pick(names.length - 1)) % names.length;
    part(names[a]!, names[b]!, false);
  }
  if (couplings > 0) {
    while (coils.length < couplings + 1) {
      const a = pick(names.length);
      part(names[a]!, names[(a + 1 + pick(names.length - 1)) % names.length]!, true);
    }
    // Every pair of the group, with factors c_i·c_j: such a matrix is positive definite whatever the c within (−1, 1).
    const share = coils.slice(0, couplings + 1).map(() => (random() * 2 - 1) * Math.sqrt(tightest));
    for (let i = 0; i <= couplings; i++) {
      for (let j = 0; j < i; j++) entries[`K${i}_${j}`] = [coupling(Number((share[i]! * share[j]!).toPrecision(6))), coils[j]!, coils[i]!];
    }
  }
  return entries;
}

/** The names of a network's nodes apart from `gnd`. */
export function nodesOf(entries: Entries): string[] {
  const names = new Set<string>();
  for (const [part, ...nodes] of Object.values(entries)) if (part.kind !== "coupling") for (const node of nodes) names.add(node);
  names.delete("gnd");
  return [...names];
}
