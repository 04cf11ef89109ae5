// Networks for property tests: fast-check chooses, and shrinks, the tree, the chords, the kinds and the values.
import { uniform } from "./uniform";
import type { Entries, Entry } from "dividing-network/network";
import { capacitor, coupling, inductor, resistor, type TwoTerminalPart } from "dividing-network/parts";
import fc from "fast-check";

const kinds = ["resistor", "coil", "lossy coil", "capacitor", "lossy capacitor", "leaky capacitor", "link"] as const;
type Kind = (typeof kinds)[number];

interface Choice {
  readonly kind: Kind;
  /** Where the part's ends are, as shares of what is possible. */
  readonly from: number;
  readonly to: number;
  readonly turned: boolean;
  /** Exponents of the value and of its loss, −1 … 1. */
  readonly value: number;
  readonly loss: number;
}

export interface NetworkOptions {
  /** Decades that the values span; default 12. */
  readonly decades?: number;
  /** Kinds to choose from; default all. `link` is 0 Ω. */
  readonly kinds?: readonly Kind[];
  /** Whether coils may be coupled; default false. */
  readonly coupled?: boolean;
  /** Nodes apart from `gnd` and `in`, at most; default 7. */
  readonly nodes?: number;
}

/**
 * Connected networks: a tree that reaches every node, then chords between any two, so that ladders, bridges, series
 * connections and dead ends all occur. A 0 Ω link never closes a loop of links nor shorts the source (it becomes a resistor).
 */
export function arbitraryNetwork({
  decades = 12,
  kinds: some = kinds,
  coupled = false,
  nodes = 7,
}: NetworkOptions = {}): fc.Arbitrary<Entries> {
  const share = uniform(0, 1 - 2 ** -30);
  const exponent = uniform(-1, 1);
  const choice: fc.Arbitrary<Choice> = fc.record({
    kind: fc.constantFrom(...some),
    from: share,
    to: share,
    turned: fc.boolean(),
    value: exponent,
    loss: exponent,
  });
  const tree = fc.array(choice, { minLength: 1, maxLength: nodes + 1 });
  const chords = fc.array(choice, { maxLength: 8 });
  const factors = coupled ? fc.array(uniform(-0.94, 0.94), { minLength: 2, maxLength: 3 }) : fc.constant([]);
  return fc.tuple(tree, chords, factors).map(([branches, extra, shares]) => build(branches, extra, shares, decades));
}

function build(tree: readonly Choice[], chords: readonly Choice[], shares: readonly number[], decades: number): Entries {
  const names = ["gnd", "in", ...tree.slice(1).map((_, i) => `n${i}`)];
  const entries: Record<string, Entry> = {};
  const merged = names.map((_, i) => i);
  const root = (i: number): number => (merged[i] === i ? i : root(merged[i]!));
  const put = (a: number, b: number, choice: Choice): void => {
    const spread = (middle: number, exponent: number) => middle * 10 ** ((exponent * decades) / 2);
    let { kind } = choice;
    if (kind === "link") {
      const [x, y] = [root(a), root(b)];
      const shorts = new Set([root(0), root(1)]);
      if (x === y || (shorts.has(x) && shorts.has(y))) kind = "resistor";
      else merged[Math.max(x, y)] = Math.min(x, y);
    }
    const parts: Record<Kind, () => TwoTerminalPart> = {
      resistor: () => resistor(spread(10, choice.value)),
      coil: () => inductor(spread(1e-3, choice.value)),
      "lossy coil": () => inductor(spread(1e-3, choice.value), { dcr: spread(0.3, choice.loss) }),
      capacitor: () => capacitor(spread(1e-5, choice.value)),
      "lossy capacitor": () => capacitor(spread(1e-5, choice.value), { esr: spread(0.05, choice.loss) }),
      "leaky capacitor": () => capacitor(spread(1e-5, choice.value), { dissipationFactor: 0.01 * (1 + choice.loss) }),
      link: () => resistor(0),
    };
    const [from, to] = choice.turned ? [b, a] : [a, b];
    entries[`P${Object.keys(entries).length}`] = [parts[kind](), names[from]!, names[to]!];
  };
  tree.forEach((choice, i) => put(i + 1, i === 0 ? 0 : Math.floor(choice.to * (i + 1)), choice));
  for (const choice of chords) {
    const a = Math.floor(choice.from * names.length);
    put(a, (a + 1 + Math.floor(choice.to * (names.length - 1))) % names.length, choice);
  }
  // The first coils, all coupled to each other by k_ij = c_i·c_j, which no c within (−1, 1) makes impossible.
  const coils = Object.keys(entries)
    .filter((name) => entries[name]![0].kind === "inductor")
    .slice(0, shares.length);
  coils.forEach((first, i) =>
    coils.slice(0, i).forEach((second, j) => (entries[`K${i}_${j}`] = [coupling(shares[i]! * shares[j]!), second, first])),
  );
  return entries;
}

/** Hz over 12 decades. */
export const arbitraryFrequency: fc.Arbitrary<number> = uniform(-3, 9).map((exponent) => 10 ** exponent);
