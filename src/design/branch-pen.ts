import type { Entries, Entry } from "../network";
import { capacitor, inductor, resistor } from "../parts";
import type { Slot } from "./drawing-data";

/** The least and the largest value of a slot, SI. */
export type Range = readonly [number, number];

/** What draws one branch: it stands at a node, and goes on to the next one. */
export interface BranchPen {
  /** The node that it stands at. */
  readonly at: () => string;
  /** A node of the branch that nothing is at so far. */
  readonly node: () => string;
  /** Goes on from another node. */
  readonly go: (to: string) => void;
  /** A slot between two nodes, with the middle of its range, or the one value that is taken. */
  readonly put: (
    letter: "L" | "C" | "R",
    way: Slot["way"],
    range: Range,
    from: string,
    to: string,
    more?: Pick<Slot, "fixed" | "together">,
  ) => void;
}

const KINDS = {
  L: { kind: "inductor", part: inductor },
  C: { kind: "capacitor", part: capacitor },
  R: { kind: "resistor", part: resistor },
} as const;

/** A pen for one branch, at `in`: what it draws goes into the entries and slots. */
export function branchPen(branch: string, entries: Record<string, Entry>, slots: Record<string, Slot>): BranchPen {
  let [at, nodes, parts] = ["in", 0, 0];
  return {
    at: () => at,
    node: () => `${branch} node ${++nodes}`,
    go: (to) => {
      at = to;
    },
    put(letter, way, [from, to], node, next, more = {}) {
      const name = `${branch} ${letter}${++parts}`;
      const { kind, part } = KINDS[letter];
      entries[name] = Object.freeze([part(more.fixed ?? Math.sqrt(from * to)), node, next]) as unknown as Entry;
      slots[name] = Object.freeze({ kind, way, branch, from, to, ...more });
    },
  };
}

/** A driver as it is in the loudspeaker, between other nodes. */
export function hung(network: Entries, part: string, from: string, to: string): Entry {
  return Object.freeze([network[part]![0], from, to]) as unknown as Entry;
}
