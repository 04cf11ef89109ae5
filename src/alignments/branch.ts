import { checkOptions, DividingNetworkError, show } from "../errors";
import { fragment, type Network } from "../network";
import { capacitor, inductor, resistor } from "../parts";

/** Where a fragment goes: names of nodes, and what stands before its designators. */
export interface BranchNodes {
  /** Node at the fragment's input. */
  readonly from: string;
  /** Node at its output. */
  readonly to: string;
  /** Node of the common return, default `"gnd"`; of use only where the fragment has parts in shunt. */
  readonly ground?: string;
  /** Put before each designator, default none: `"LP"` makes `LPL1` of `L1`. */
  readonly prefix?: string;
}

/** A function that places parts between nodes and gives a fragment for `join`. */
export type Branch = (nodes: BranchNodes) => Network;

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

/** Checks the names of a branch. */
export function checkNodes(caller: string, nodes: BranchNodes, extra: readonly string[] = []): Required<BranchNodes> {
  const given = checkOptions(caller, nodes, ["from", "to", "ground", "prefix", ...extra]);
  const named = { ground: "gnd", prefix: "", ...given };
  for (const key of ["from", "to", "ground"] as const) {
    if (typeof named[key] !== "string" || named[key] === "") {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${key}" must be the name of a node, got ${show(named[key])}`,
      );
    }
  }
  if (typeof named.prefix !== "string") {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "prefix" must be text, got ${show(named.prefix)}`,
    );
  }
  return named;
}

/** The part of the parts floor that an element stands for. */
export function makePart({ kind, value, loss = 0, dissipationFactor = 0 }: Pick<ChainPart, "kind" | "value" | "loss" | "dissipationFactor">) {
  if (kind === "inductor") return inductor(value, { dcr: loss });
  if (dissipationFactor > 0) return capacitor(value, { dissipationFactor });
  return kind === "capacitor" ? capacitor(value, { esr: loss }) : resistor(value);
}

/**
 * The fragment of a chain of parts. Nodes inside are named after the part before them (`"L1.2"`), so that fragments
 * with different designators never meet by accident. A chain without a series part gets a wire of 0 Ω from input to
 * output.
 */
export function chainBranch(caller: string, parts: readonly ChainPart[]): Branch {
  return (nodes) => {
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
}
