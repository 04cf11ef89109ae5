import { fragment, type Network } from "../../network";
import { capacitor, inductor, resistor, type Capacitor, type Inductor, type Resistor } from "../../parts";
import { checkNodes, type BranchNodes, type CheckedNodes, type PlacedName, type PrefixOf } from "../branch";
import type { Entries } from "../../network";

/** One part of a chain: in series on the way from input to output, or in shunt from there to the return. */
export interface ChainPart {
  readonly designator: string;
  readonly placement: "series" | "shunt";
  readonly kind: "inductor" | "capacitor" | "resistor";
  /** H, F or Ω. */
  readonly value: number;
  /** Ω: direct-current resistance of a coil, equivalent series resistance of a capacitor. */
  readonly loss?: number;
  /** tan δ of a capacitor, in place of `loss`. */
  readonly dissipationFactor?: number;
}

/** The numbers that a ladder's parts can have; in a middle way of high order there may be more. */
type LadderNumber = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9 | 10 | 11 | 12 | 13 | 14 | 15 | 16 | 17 | 18 | 19 | 20;

/** An end of a part of a ladder: the ladder's own nodes, or one inside it, after the part before it. */
type LadderNode<N, P extends string> = PlacedName<"from" | "to" | "ground", N> | (`${P}${"L" | "C"}${number}.2` & Record<never, never>);

/**
 * The entries of a ladder between nodes. How many parts it has is known only at run time: L1 to L20, C1 to C20 and the
 * wire W1 may each be there.
 */
export type LadderEntries<N, P extends string = PrefixOf<N>> = string extends P
  ? Entries
  : {
      readonly [K in `L${LadderNumber}` as `${P}${K}`]?: readonly [Inductor, LadderNode<N, P>, LadderNode<N, P>];
    } & {
      readonly [K in `C${LadderNumber}` as `${P}${K}`]?: readonly [Capacitor, LadderNode<N, P>, LadderNode<N, P>];
    } & { readonly [K in "W1" as `${P}${K}`]?: readonly [Resistor, PlacedName<"from", N>, PlacedName<"to", N>] };

/** A function that places a ladder between nodes and gives a fragment for `join`; its parts are known to be `L1` to `L20` and `C1` to `C20` at most. */
export type LadderBranch = <const N extends BranchNodes>(nodes: CheckedNodes<N, BranchNodes>) => Network<LadderEntries<N>>;

/** The part of the parts floor that an element stands for. */
export function makePart({
  kind,
  value,
  loss = 0,
  dissipationFactor = 0,
}: Pick<ChainPart, "kind" | "value" | "loss" | "dissipationFactor">) {
  if (kind === "inductor") return inductor(value, { dcr: loss });
  if (dissipationFactor > 0) return capacitor(value, { dissipationFactor });
  return kind === "capacitor" ? capacitor(value, { esr: loss }) : resistor(value);
}

/**
 * The fragment of a chain of parts. Nodes inside are named after the part before them (`"L1.2"`), so that fragments
 * with different designators never meet by accident. A chain without a series part gets a wire of 0 Ω from input to
 * output.
 */
export function chainBranch(caller: string, parts: readonly ChainPart[]): LadderBranch {
  const place = (nodes: BranchNodes): Network => {
    const { from, to, ground, prefix } = checkNodes(caller, nodes);
    const chain: readonly ChainPart[] = parts.some(({ placement }) => placement === "series")
      ? parts
      : [{ designator: "W1", placement: "series", kind: "resistor", value: 0 }, ...parts];
    const last = chain.map(({ placement }) => placement).lastIndexOf("series");
    let node = from;
    const entries = chain.map((part, k) => {
      const name = prefix + part.designator;
      if (part.placement === "shunt") return [name, [makePart(part), node, ground]] as const;
      const next = k === last ? to : `${name}.2`;
      const entry = [name, [makePart(part), node, next]] as const;
      node = next;
      return entry;
    });
    return fragment(Object.fromEntries(entries));
  };
  return place as LadderBranch;
}
