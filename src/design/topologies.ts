import { DividingNetworkError } from "../errors";
import { zobel } from "../alignments";
import type { Loudspeaker } from "../loudspeaker";
import { resistor, capacitor, inductor, type Part } from "../parts";
import { isDriver } from "../parts/internal";
import { levelDb } from "../response";
import { compile, type Entries, type Entry } from "../network";
import { knownBand } from "../assessment/internal";

/** What stands between the filter and a driver that is too loud: nothing, a resistor in series, or a resistor in series and one across. */
export type Pad = "none" | "series" | "divider";

/** How one group of drivers is fed. */
export interface BranchTopology {
  /** `"woofer"`, `"midrange"` or `"tweeter"`. */
  readonly role: string;
  /** Elements of the high-pass, 0 where there is none. */
  readonly highPass: number;
  /** Elements of the low-pass, 0 where there is none. */
  readonly lowPass: number;
  /** Whether a resistor and a capacitor across the driver level its coil. */
  readonly zobel: boolean;
  readonly pad: Pad;
  /** Whether the resistors stand before the filter. */
  readonly padFirst?: boolean;
  /** Whether a capacitor bridges the first coil of the low-pass, or else the resistor in series. */
  readonly bypass?: boolean;
  /** A coil, a capacitor and a resistor that take a peak away: one after the other across the driver, or beside one another before it. */
  readonly trap?: "across" | "series";
  /** How two drivers of one role hang together: the second after the first, or beside it behind a coil of its own; absent: side by side. */
  readonly pair?: "in series" | "rolled off";
}

/** A slot of a drawing: what may be bought for it, and whether it lies in the way to the driver or across it. */
export interface Slot {
  readonly kind: "resistor" | "inductor" | "capacitor";
  readonly way: "series" | "across";
  /** Parts that do nothing without one another have one word in common. */
  readonly together?: string;
  /** The branch that it is in. */
  readonly branch: string;
  /** SI: the least and the largest value looked at. */
  readonly from: number;
  readonly to: number;
  /** SI: the one value that is taken, where nothing is searched. */
  readonly fixed?: number;
}

/** A network drawn for a combination of branches, each slot with a value from the middle of its range; its names are the search's own. */
export interface Drawing {
  readonly network: Entries;
  readonly slots: Readonly<Record<string, Slot>>;
}

/** Drivers that are fed alike. */
export interface Group {
  readonly role: string;
  readonly parts: readonly string[];
  /** Ω: least magnitude of the impedance of them all in parallel. */
  readonly load: number;
  /** Hz between which this group may hand over to the next lower and the next higher one. */
  readonly below: readonly [number, number] | undefined;
  readonly above: readonly [number, number] | undefined;
}

const ROLES = ["woofer", "full-range", "midrange", "tweeter"] as const;

/** The drivers by role, from low to high; each role is one branch. */
export function groupsOf(caller: string, { network, drivers }: Loudspeaker): readonly Group[] {
  const present = ROLES.filter((role) => drivers.some((driver) => driver.role === role));
  if (present.length < 2 || present.length > 3) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: the drivers must have two or three roles, got ${present.join(", ")}`,
      'State each driver\'s role: "woofer", "midrange", "tweeter", "full-range"; one group of drivers needs no crossover: draw its trap or step network and use chooseValues or fitValues',
    );
  }
  const { from, to } = knownBand(network);
  // Two-way: 0.8 to 6 kHz; three-way: 150 Hz to 1.2 kHz and 1.5 to 8 kHz (common practice, no source).
  const handovers: readonly (readonly [number, number])[] =
    present.length === 2
      ? [[800, 6000]]
      : [
          [150, 1200],
          [1500, 8000],
        ];
  return present.map((role, index) => {
    const parts = [...new Set(drivers.filter((driver) => driver.role === role).map(({ part }) => part))];
    const alone = Object.fromEntries(parts.map((part) => [part, [network[part]![0], "in", "gnd"]])) as unknown as Entries;
    const points = [100, 200, 400, 800, 1600, 3200, 6400].filter((frequency) => frequency >= from && frequency <= to);
    const { impedance } = compile<Entries>(alone).sweep(points.length > 0 ? points : [Math.sqrt(from * Math.max(from, Math.min(to, 1e5)))]);
    const load = 10 ** (levelDb(impedance).reduce((least, level) => Math.min(least, level), Infinity) / 20);
    return { role, parts, load, below: handovers[index - 1], above: handovers[index] };
  });
}

/** All ways to feed one group: orders one to three, or those asked for, with and without a Zobel network below and a pad above. */
export function waysOf({ role, below, above }: Group, zobels: boolean, asked?: readonly number[]): readonly BranchTopology[] {
  const ways: BranchTopology[] = [];
  // A midrange has both filters, of orders one and two: tables of a third order on both sides would not fit.
  const both = below !== undefined && above !== undefined;
  const orders =
    asked === undefined ? (both ? [1, 2] : [1, 2, 3]) : [1, 2, 3, 4].filter((order) => asked.includes(order) && (!both || order <= 2));
  const highs = below === undefined ? [0] : orders;
  const lows = above === undefined ? [0] : orders;
  for (const highPass of highs)
    for (const lowPass of lows)
      for (const flat of zobels && below === undefined ? [false, true] : [false]) {
        for (const pad of (below === undefined
          ? ["none"]
          : above !== undefined
            ? ["none", "series"]
            : ["none", "series", "divider"]) as readonly Pad[])
          ways.push({ role, highPass, lowPass, zobel: flat, pad });
      }
  return ways;
}

/** How many parts are bought for it. */
export function partCount(way: BranchTopology): number {
  return (
    way.highPass
    + way.lowPass
    + (way.zobel ? 2 : 0)
    + (way.pad === "none" ? 0 : way.pad === "series" ? 1 : 2)
    + (way.bypass === true ? 1 : 0)
    + (way.trap === undefined ? 0 : 3)
    + (way.pair === "rolled off" ? 1 : 0)
  );
}

/** A topology in a few words. */
export function saysWay({ role, highPass, lowPass, zobel: flat, pad, padFirst, bypass, trap, pair }: BranchTopology): string {
  const says = [
    highPass > 0 ? `high-pass of ${highPass}` : "",
    lowPass > 0 ? `low-pass of ${lowPass}` : "",
    flat ? "Zobel network" : "",
    pad === "none"
      ? ""
      : `${pad === "series" ? "series resistor" : "resistors in series and across"}${padFirst === true ? " before it" : ""}`,
    bypass === true ? (lowPass > 0 ? "coil bridged by a capacitor" : "resistor bridged by a capacitor") : "",
    trap === undefined ? "" : trap === "across" ? "trap across" : "trap in series",
    pair === undefined ? "" : pair === "in series" ? "drivers in series" : "second driver rolled off lower",
  ];
  return `${role}: ${says.filter((word) => word !== "").join(", ")}`;
}

/** The Zobel network of a group, where its driver's coil is known. */
export function zobelOf({ network }: Loudspeaker, { parts }: Group): { readonly r: number; readonly c: number } | undefined {
  const [part] = network[parts[0]!]!;
  if (parts.length !== 1 || !isDriver(part)) return undefined;
  try {
    const { r, c } = zobel(part);
    return { r, c };
  } catch {
    return undefined;
  }
}

/**
 * The drawing of a combination: branches between `in` and `gnd`, in which each group's drivers lie in parallel. Designators and nodes begin with what the branch is, so that one branch
 * has the same in every drawing that holds it; `named` gives the parts the names that a person writes.
 */
export function drawingOf(box: Loudspeaker, groups: readonly Group[], ways: readonly BranchTopology[]): Drawing {
  const entries: Record<string, Entry> = {};
  const slots: Record<string, Slot> = {};
  groups.forEach((group, index) => {
    const way = ways[index]!;
    const { highPass, lowPass, zobel: flat, pad, padFirst, bypass, trap, pair } = way;
    const load = pair === "in series" ? group.load * group.parts.length ** 2 : group.load;
    const branch = keyOf(way);
    let [at, nodes, parts] = ["in", 0, 0];
    const node = () => `${branch} node ${++nodes}`;
    const put = (
      letter: "L" | "C" | "R",
      side: Slot["way"],
      range: readonly [number, number],
      from: string,
      to: string,
      fixed?: number,
      together?: string,
    ) => {
      const name = `${branch} ${letter}${++parts}`;
      const kind = letter === "L" ? "inductor" : letter === "C" ? "capacitor" : "resistor";
      const middle = fixed ?? Math.sqrt(range[0] * range[1]);
      const part: Part = letter === "L" ? inductor(middle) : letter === "C" ? capacitor(middle) : resistor(middle);
      entries[name] = Object.freeze([part, from, to]) as unknown as Entry;
      slots[name] = Object.freeze({
        kind,
        way: side,
        branch,
        from: range[0],
        to: range[1],
        ...(fixed === undefined ? {} : { fixed }),
        ...(together === undefined ? {} : { together }),
      });
    };
    const filter = (order: number, series: "L" | "C", across: "L" | "C", [low, high]: readonly [number, number]) => {
      const range = (letter: "L" | "C"): readonly [number, number] =>
        letter === "L"
          ? [(0.4 * load) / (2 * Math.PI * high), (2.5 * load) / (2 * Math.PI * low)]
          : [0.4 / (2 * Math.PI * high * load), 2.5 / (2 * Math.PI * low * load)];
      for (let i = 0; i < order; i++) {
        if (i % 2 === 1) put(across, "across", range(across), at, "gnd");
        else {
          const next = node();
          put(series, "series", range(series), at, next);
          // What the capacitor takes from the coil lies above the handover.
          if (i === 0 && series === "L" && bypass === true)
            put("C", "across", [0.02 / (2 * Math.PI * high * load), 0.6 / (2 * Math.PI * low * load)], at, next);
          at = next;
        }
      }
    };
    const quieten = () => {
      if (pad === "none") return;
      const next = node();
      put("R", "series", [0.08 * load, 2.5 * load], at, next);
      // Half way up, the capacitor's reactance is the resistance: between 3 and 20 kHz.
      if (bypass === true && lowPass === 0)
        put("C", "across", [1 / (2 * Math.PI * 20_000 * load), 1 / (2 * Math.PI * 3000 * 0.3 * load)], at, next);
      at = next;
      if (pad === "divider") put("R", "across", [0.5 * load, 10 * load], at, "gnd");
    };
    if (padFirst === true) quieten();
    if (group.below !== undefined) filter(highPass, "C", "L", group.below);
    if (group.above !== undefined) filter(lowPass, "L", "C", group.above);
    if (padFirst !== true) quieten();
    if (trap !== undefined) {
      // Somewhere between the handovers, or beyond the upper one: where cones break up and domes resonate.
      const [low, high] = [group.below === undefined ? group.above![0] : 0.5 * group.below[0], 12_000];
      const [l, c] = [
        [(0.3 * load) / (2 * Math.PI * high), load / (2 * Math.PI * low)],
        [1 / (2 * Math.PI * high * load), 1 / (0.3 * 2 * Math.PI * low * load)],
      ] as const;
      if (trap === "across") {
        const [one, two] = [node(), node()];
        put("L", "across", l, at, one, undefined, "trap");
        put("C", "across", c, one, two, undefined, "trap");
        put("R", "across", [0.2 * load, 3 * load], two, "gnd", undefined, "trap");
      } else {
        const next = node();
        put("L", "across", [l[0] / 2, l[1] / 2], at, next, undefined, "trap in series");
        put("C", "across", [c[0] * 2, c[1] * 2], at, next, undefined, "trap in series");
        put("R", "across", [0.2 * load, 3 * load], at, next, undefined, "trap in series");
        at = next;
      }
    }
    if (flat) {
      const { r, c } = zobelOf(box, group)!;
      const next = node();
      put("R", "across", [r, r], at, next, r, "zobel");
      put("C", "across", [c, c], next, "gnd", c, "zobel");
    }
    group.parts.forEach((part, place) => {
      let [from, to] = [at, "gnd"];
      if (pair === "in series" && place + 1 < group.parts.length) [at, to] = [node(), ""];
      if (to === "") to = at;
      if (pair === "rolled off" && place === 1) {
        from = node();
        put("L", "series", [load / (2 * Math.PI * group.above![1]), (6 * load) / (2 * Math.PI * 0.25 * group.above![0])], at, from);
      }
      entries[part] = Object.freeze([box.network[part]![0], from, to]) as unknown as Entry;
    });
  });
  return { network: Object.freeze(entries), slots: Object.freeze(slots) };
}

/** One word for a branch. */
export function keyOf({ role, highPass, lowPass, zobel: flat, pad, padFirst, bypass, trap, pair }: BranchTopology): string {
  const more = [padFirst === true ? "first" : "", bypass === true ? "bypass" : "", trap ?? "", pair ?? ""]
    .filter((word) => word !== "")
    .map((word) => `/${word}`)
    .join("");
  return `${role}/${highPass}/${lowPass}/${flat ? "zobel" : ""}/${pad}${more}`;
}

/** What a drawing's parts and nodes are called when it is handed over: L1, C1, R1 and n1 and so on, none of them a driver's name. */
export function namesFor({ network, slots }: Drawing): ReadonlyMap<string, string> {
  const drivers = new Set(Object.keys(network).filter((name) => !Object.hasOwn(slots, name)));
  const counts: Record<string, number> = {};
  const names = new Map<string, string>([
    ["in", "in"],
    ["gnd", "gnd"],
  ]);
  const give = (own: string, letter: string) => {
    if (names.has(own)) return;
    do counts[letter] = (counts[letter] ?? 0) + 1;
    while (drivers.has(`${letter}${counts[letter]}`));
    names.set(own, `${letter}${counts[letter]}`);
  };
  for (const [name, [, ...nodes]] of Object.entries(network)) {
    if (drivers.has(name)) names.set(name, name);
    else give(name, { inductor: "L", capacitor: "C", resistor: "R" }[slots[name]!.kind]);
    for (const node of nodes) give(node, "n");
  }
  return names;
}
