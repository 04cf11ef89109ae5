import { DividingNetworkError } from "../errors";
import { checkOptions, show } from "../errors/internal";
import type { Entries, Network, UncheckedEntries } from "../network";

/** Where a fragment goes: names of nodes, and what stands before its designators. */
export interface BranchNodes {
  /** Node at the fragment's input. */
  readonly from: string;
  /** Node at its output. */
  readonly to: string;
  /** Node of the common return, default `"gnd"`; of use only where the fragment has parts in shunt. */
  readonly ground?: string | undefined;
  /** Put before each designator, default none: `"LP"` makes `LPL1` of `L1`. */
  readonly prefix?: string | undefined;
}

/**
 * A function that places parts between nodes and gives a fragment for `join`, whose type knows the designators, with the
 * prefix before them, and the nodes. `S` is its shape: by designator the part and, for each of its terminals, `"from"`,
 * `"to"`, `"ground"`, a node inside (`"R1.a"`) or, for couplings, a designator.
 */
export type Branch<S extends object, M extends object = BranchNodes> = <const N extends M>(
  nodes: CheckedNodes<N, M>,
) => Network<PlacedIn<S, N>>;

/** Names of nodes without any that the branch doesn't know. */
export type CheckedNodes<N, M> = keyof N extends keyof M ? N : M;

/** The entries of a shape between nodes; any, where the prefix is known only at run time. */
export type PlacedIn<S, N> =
  string extends PrefixOf<N>
    ? Entries
    : AsEntries<{ readonly [K in keyof S as `${PrefixOf<N>}${K & string}`]: PlacedEntry<Exclude<S[K], undefined>, N> }>;

type AsEntries<T> = T extends UncheckedEntries ? T : Entries;

type PlacedEntry<E, N> = E extends readonly [infer P, ...infer Names]
  ? readonly [P, ...{ [I in keyof Names]: PlacedName<Names[I], N> }]
  : never;

/** The name that a node of a shape, or a coil, has in the network. */
export type PlacedName<S, N> = S extends "from" | "to" | "toReturn"
  ? S extends keyof N
    ? N[S]
    : never
  : S extends "ground" | "fromReturn"
    ? Default<S, N, "gnd">
    : `${PrefixOf<N>}${S & string}`;

/** What stands before designators: `""` where none is given. */
export type PrefixOf<N> = "prefix" extends keyof N ? Extract<N["prefix"], string> | (undefined extends N["prefix"] ? "" : never) : "";

type Default<K extends string, N, D extends string> = K extends keyof N ? Extract<N[K], string> | (undefined extends N[K] ? D : never) : D;

/** Checks the names of a branch. */
export function checkNodes(
  caller: string,
  nodes: BranchNodes,
): { readonly from: string; readonly to: string; readonly ground: string; readonly prefix: string } {
  const { from, to, ground = "gnd", prefix = "" } = checkOptions(caller, nodes, ["from", "to", "ground", "prefix"]);
  const named = { from, to, ground, prefix };
  for (const key of ["from", "to", "ground"] as const) {
    if (typeof named[key] !== "string" || named[key] === "") {
      throw new DividingNetworkError("invalid-argument", `${caller}: "${key}" must be the name of a node, got ${show(named[key])}`);
    }
  }
  if (typeof prefix !== "string") {
    throw new DividingNetworkError("invalid-argument", `${caller}: "prefix" must be text, got ${show(prefix)}`);
  }
  return named;
}
