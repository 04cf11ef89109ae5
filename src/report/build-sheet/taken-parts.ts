import type { Comparison } from "../../assessment";
import type { Loudspeaker } from "../../loudspeaker";
import type { Entries } from "../../network";
import type { Stock } from "../../parts";
import { listOfWanted, suspectedParts } from "../page/shopping-list";
import { madeOfText, wiredAsText } from "./made-of";

/** What stands in the place of each part: what is reused of the network as found, or taken from a stock; and how several pieces are wired. */
export function takenFor(
  { network, drivers }: Loudspeaker<Entries>,
  comparison: Comparison | undefined,
  stock: Stock | undefined,
  placed: readonly string[],
): { readonly taken: ReadonlyMap<string, string>; readonly wiredAs: readonly string[] } {
  const taken = new Map<string, string>();
  const wiredAs: string[] = [];
  const { lines } = listOfWanted(
    {
      network,
      drivers,
      found: comparison?.before.prediction.loudspeaker,
      ratings: comparison?.after.ratings,
      suspected: comparison === undefined ? undefined : suspectedParts(comparison.verdict),
    },
    stock,
  );
  for (const { designators, reuse, pieces } of lines)
    for (const [index, name] of designators.entries()) {
      if (reuse !== undefined) taken.set(name, `old ${reuse[index]!}`);
      if (pieces === undefined) continue;
      taken.set(name, madeOfText(pieces));
      const [from, to] = network[name]!.slice(1) as readonly string[];
      const words = wiredAsText(name, pieces, [from!, to!], placed.includes(name));
      if (words !== "") wiredAs.push(words);
    }
  return { taken, wiredAs };
}
