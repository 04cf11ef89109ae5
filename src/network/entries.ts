import type { Coupling, FourTerminalPart, PartOrCoupling, ThreeTerminalPart, TwoTerminalPart } from "../parts";

/** One entry of a network: a part and the names of the nodes at its terminals, or a coupling and the names of two coils. */
export type Entry =
  | readonly [part: TwoTerminalPart, from: string, to: string]
  | readonly [part: ThreeTerminalPart, input: string, output: string, common: string]
  | readonly [part: FourTerminalPart, primaryDot: string, primaryEnd: string, secondaryDot: string, secondaryEnd: string]
  | readonly [coupling: Coupling, first: string, second: string];

/** Entries keyed by designator. */
export type Entries = Readonly<Record<string, Entry>>;

/** Entries of which it isn't known whether each part has the names that it needs: what `network` takes in and checks. */
export type UncheckedEntries = Readonly<Record<string, readonly [part: PartOrCoupling, ...names: string[]]>>;

/** A network: its entries, keyed by designator, checked and frozen. */
export type Network<T extends UncheckedEntries = Entries> = Readonly<T>;
