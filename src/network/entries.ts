import type { Coupling, Inductor, LPad, Transformer, TwoTerminalPart } from "../parts";

/** One entry of a network: a part and the names of the nodes at its terminals, or a coupling and the names of two coils. */
export type Entry =
  | readonly [part: TwoTerminalPart, from: string, to: string]
  | readonly [part: LPad, input: string, output: string, common: string]
  | readonly [part: Transformer, primaryDot: string, primaryEnd: string, secondaryDot: string, secondaryEnd: string]
  | readonly [coupling: Coupling, first: string, second: string];

/** Entries keyed by designator. */
export type Entries = Readonly<Record<string, Entry>>;

/** The designators of a network's parts: every key but those of couplings, which have no voltage or current. */
export type PartName<T extends Entries> = { [K in keyof T]: T[K] extends readonly [Coupling, ...unknown[]] ? never : K }[keyof T] & string;

/** The node names that occur in a network. */
export type NodeName<T extends Entries> = {
  [K in keyof T]: T[K] extends readonly [Coupling, ...unknown[]] ? never : T[K] extends readonly [unknown, ...infer N extends readonly string[]] ? N[number] : never;
}[keyof T];

type CoilName<T extends Entries> = { [K in keyof T]: T[K] extends readonly [Inductor, ...unknown[]] ? K : never }[keyof T] & string;

/**
 * What the compiler checks of entries written out in code: no part shares a name with a node, a coupling names two
 * coils of the network, and some part touches `in`. Networks whose keys are known only at run time pass, and are
 * checked then.
 */
export type Checked<T extends Entries> = string extends keyof T ? unknown : CheckedFragment<T> & CheckedInput<T>;

/** As `Checked`, without the demand that a part touches `in`. */
export type CheckedFragment<T extends Entries> = string extends keyof T
  ? unknown
  : {
      readonly [K in keyof T]: K extends KnownName<NodeName<T>> | "in" | "gnd"
        ? { readonly error: "a part and a node must not share a name"; readonly name: K }
        : T[K] extends readonly [Coupling, ...unknown[]]
          ? readonly [Coupling, CoilName<T>, CoilName<T>]
          : T[K];
    };

type CheckedInput<T extends Entries> = "in" extends NodeName<T> ? unknown : string extends NodeName<T> ? unknown : { readonly error: "some part must touch the node \"in\"" };

/** Names that are known to the compiler: none, when one of them is known only at run time. */
type KnownName<S extends string> = string extends S ? never : S;

/** A network: its entries, keyed by designator, checked and frozen. */
export type Network<T extends Entries = Entries> = Readonly<T>;
