import { DividingNetworkError, owned } from "../errors";
import { checkEntries } from "./check-entries";
import type { Entries } from "./entries";

type Disjoint<A, B> = string extends keyof A ? unknown : string extends keyof B ? unknown : keyof A & keyof B extends never ? unknown : { readonly error: "both pieces have a part of this name"; readonly name: keyof A & keyof B };

/**
 * Joins two pieces of a network at the nodes whose names they share. A designator that both use is refused, in types
 * where the names are known and at run time always: a spread would let the second overwrite the first.
 *
 * @param first entries keyed by designator: a network or a fragment; dimensionless
 * @param second entries keyed by designator: a network or a fragment; dimensionless
 * @returns all entries together, frozen; a fragment, to be joined further or given to `network` or `solve`
 * @throws DividingNetworkError `duplicate-designator`, `malformed-network`
 * @example
 * ```ts
 * import { capacitor, inductor, join, resistor } from "dividing-network";
 *
 * const low = { L1: [inductor("1 mH"), "in", "w"], woofer: [resistor(6), "w", "gnd"] } as const;
 * const high = { C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(6), "t", "gnd"] } as const;
 * Object.keys(join(low, high)).length; // 4
 * ```
 */
export function join<const A extends Entries, const B extends Entries>(first: A, second: B & Disjoint<A, B>): Readonly<A & B> {
  // A third piece, which the types forbid, must not vanish.
  if (arguments.length !== 2) throw new DividingNetworkError("invalid-argument", `join: there must be two pieces, got ${arguments.length}`, "Join them one after the other: join(join(a, b), c)");
  checkEntries("join", first);
  checkEntries("join", second);
  const shared = Object.keys(first).filter((name) => Object.hasOwn(second, name));
  if (shared.length > 0) {
    throw new DividingNetworkError("duplicate-designator", `join: both pieces have a part named ${shared.map((name) => `"${name}"`).join(", ")}`, "Give the parts of one piece other names, for instance by the `prefix` of the function that made it");
  }
  return owned({ ...first, ...second });
}
