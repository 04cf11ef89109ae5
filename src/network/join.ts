import { DividingNetworkError } from "../errors";
import { owned, shown } from "../errors/internal";
import { checkEntries, checkParts } from "./check-entries";
import type { Entries, UncheckedEntries } from "./entries";
import type { CheckedPieces, Joined, Unplaced } from "./joined";
import { networkViews } from "./views";

/**
 * Joins pieces of a network at the nodes whose names they share. A designator that two of them use is refused, in types
 * where the names are known and at run time always: a spread would let the later overwrite the earlier.
 *
 * @param pieces entries keyed by designator: networks or fragments; dimensionless
 * @returns all entries together, frozen; a fragment, to be joined further or given to `network` or `solve`
 * @throws DividingNetworkError `duplicate-designator`, `malformed-network`, `invalid-argument`
 * @example
 * ```ts
 * import { capacitor, inductor, join, resistor } from "dividing-network";
 *
 * const low = { L1: [inductor("1 mH"), "in", "w"], woofer: [resistor(6), "w", "gnd"] } as const;
 * const high = { C1: [capacitor("10 µF"), "in", "t"], tweeter: [resistor(6), "t", "gnd"] } as const;
 * Object.keys(join(low, high, { R1: [resistor(10), "t", "gnd"] })).length; // 5
 * ```
 */
export function join<const P extends readonly (UncheckedEntries | Unplaced)[]>(...pieces: CheckedPieces<P>): Joined<P>;
export function join(...pieces: readonly Entries[]): Entries {
  if (pieces.length === 0) throw new DividingNetworkError("invalid-argument", "join: there must be at least one piece, got none");
  const owners = new Map<string, number>();
  const clashes: string[] = [];
  pieces.forEach((piece, index) => {
    checkEntries("join", piece);
    checkParts(piece);
    for (const name of Object.keys(piece)) {
      const owner = owners.get(name);
      if (owner === undefined) owners.set(name, index + 1);
      else clashes.push(`pieces ${owner} and ${index + 1} both have a part named "${name}"`);
    }
  });
  if (clashes.length > 0) {
    throw new DividingNetworkError(
      "duplicate-designator",
      `join: ${clashes.join("; ")}`,
      "Give the parts of one piece other names, for instance by the `prefix` of the function that made it",
    );
  }
  const all = Object.fromEntries(pieces.flatMap((piece) => Object.entries(piece).map(([name, entry]) => [name, owned(entry)] as const)));
  return Object.freeze(shown(all as Entries, networkViews));
}
