// Writes precise-set.json: random networks over 12 decades of values with their solutions at one frequency, computed with 60
// digits by precise.ts and kept with 22. Seeded: the same every time. Run: npx tsx tests/network/make-precise-set.ts
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { capacitor, coupling, inductor, resistor } from "dividing-network/parts";
import type { Entries, Entry } from "dividing-network/network";
import { difference, solvePrecisely } from "../support/precise";
import { nodesOf, randomNetwork, seeded } from "../support/random-network";

type C = ReturnType<typeof difference>;
/** [kind, value, loss or k, first node or coil, second]. */
type Row = readonly [kind: "R" | "L" | "C" | "K", value: number, loss: number, from: string, to: string];

export interface PreciseNetwork {
  readonly family: string;
  readonly frequency: number;
  readonly parts: Readonly<Record<string, Row>>;
  /** Digits of Re and Im: V(node) by node, V(first) − V(second) by part, and the impedance at `in`. */
  readonly nodes: Readonly<Record<string, readonly [string, string]>>;
  readonly voltages: Readonly<Record<string, readonly [string, string]>>;
  readonly impedance: readonly [string, string];
}

/** The entries that a network of the set stands for. */
export function entriesOf(parts: PreciseNetwork["parts"]): Entries {
  const made = {
    R: ([, value]: Row) => resistor(value),
    L: ([, value, loss]: Row) => inductor(value, { dcr: loss }),
    C: ([, value, loss]: Row) => capacitor(value, { esr: loss }),
    K: ([, value]: Row) => coupling(value),
  };
  return Object.fromEntries(Object.entries(parts).map(([name, row]) => [name, [made[row[0]](row), row[3], row[4]] as unknown as Entry]));
}

function rowsOf(entries: Entries): Record<string, Row> {
  const row = ([part, from, to]: Entry): Row => {
    if (part.kind === "resistor") return ["R", part.resistance, 0, from, to];
    if (part.kind === "inductor") return ["L", part.inductance, part.dcr, from, to];
    if (part.kind === "capacitor") return ["C", part.capacitance, part.esr, from, to];
    if (part.kind === "coupling") return ["K", part.k, 0, from, to];
    throw new Error(`the set has no ${part.kind}`);
  };
  return Object.fromEntries(Object.entries(entries).map(([name, entry]) => [name, row(entry)]));
}

/** Puts a link of 1e-12 Ω between some parts and the node at which they ended. */
function withLinks(entries: Entries, random: () => number): Entries {
  let links = 0;
  return Object.fromEntries(
    Object.entries(entries).flatMap(([name, entry]): [string, Entry][] => {
      if (random() < 0.6 || links === 3) return [[name, entry]];
      const [part, from, to] = entry;
      const middle = `m${links++}`;
      return [
        [name, [part, from, middle] as unknown as Entry],
        [`X${links}`, [resistor(1e-12), middle, to]],
      ];
    }),
  );
}

const families: Readonly<Record<string, readonly [count: number, make: (random: () => number) => Entries]>> = {
  "12 decades": [160, (random) => randomNetwork(random, { nodes: 2 + Math.floor(random() * 7), decades: 12 })],
  "12 decades, lossless": [80, (random) => randomNetwork(random, { nodes: 2 + Math.floor(random() * 7), decades: 12, loss: 0 })],
  "12 decades, links of 1e-12 Ω": [
    120,
    (random) => withLinks(randomNetwork(random, { nodes: 2 + Math.floor(random() * 6), decades: 12 }), random),
  ],
  "12 decades, coupled coils": [
    80,
    (random) => randomNetwork(random, { nodes: 2 + Math.floor(random() * 6), decades: 12, couplings: 1 + Math.floor(random() * 2) }),
  ],
};

function make(family: string, entries: Entries, frequency: number): PreciseNetwork {
  const point = solvePrecisely(entries, frequency);
  // What is left of a zero after 60 digits is a zero: no voltage of the set lies between.
  const digit = (x: C[0]) => (x.abs().lt("1e-38") ? "0" : x.toSignificantDigits(22).toString());
  const digits = ([re, im]: C): [string, string] => [digit(re), digit(im)];
  const parts = Object.entries(entries).filter(([, [part]]) => part.kind !== "coupling");
  const [a, b] = point.source;
  const norm = a.times(a).plus(b.times(b));
  return {
    family,
    frequency,
    parts: rowsOf(entries),
    nodes: Object.fromEntries(
      nodesOf(entries)
        .filter((node) => node !== "in")
        .map((node) => [node, digits(point.voltage(node))]),
    ),
    voltages: Object.fromEntries(parts.map(([name, [, from, to]]) => [name, digits(difference(point.voltage(from), point.voltage(to)))])),
    impedance: digits([a.div(norm), b.div(norm).neg()]),
  };
}

/** The networks of the set; with `only`, the first few of each family. */
export function makeSet(only = Infinity): PreciseNetwork[] {
  return Object.entries(families).flatMap(([family, [count, network]], number) =>
    Array.from({ length: Math.min(count, only) }, (_, index) => {
      const random = seeded(1000 * (number + 1) + index);
      const entries = network(random);
      return make(family, entries, Number((10 ** (1 + 4 * random())).toPrecision(6)));
    }),
  );
}

if (process.argv[1]?.endsWith("make-precise-set.ts")) {
  writeFileSync(
    join(import.meta.dirname, "precise-set.json"),
    `[\n${makeSet()
      .map((each) => JSON.stringify(each))
      .join(",\n")}\n]\n`,
  );
}
