import type { Comparison } from "../../assessment";
import type { Entries } from "../../network";
import { sameData } from "../../network/internal";
import type { BestCombination, BoughtPart, Part, Stock } from "../../parts";
import { describePart, isCoupling, lossAtOneKilohertz } from "../../parts/internal";
import { listOf } from "../../quantity/internal";
import { coupledTo, unrated } from "../network-changes";
import { partsList, type RequiredRating } from "../parts-list";
import { taker, type Taken } from "./from-stock";

/** One line of a shopping list. */
interface ShoppingLine {
  readonly part: string;
  readonly designators: readonly string[];
  /** How many one loudspeaker needs. */
  readonly quantity: number;
  /** Designators of the old network that serve; absent: to be bought. */
  readonly reuse?: readonly string[];
  readonly tolerance: string;
  /** What else it must keep, each by itself. */
  readonly keep: readonly string[];
  readonly required?: RequiredRating | undefined;
  /** What of the stock stands in each place; absent without a stock, and where it is reused. */
  readonly taken?: string;
  /** The same, as it is wired. */
  readonly pieces?: BestCombination;
  /** What a pair of loudspeakers' worth costs; absent where that isn't known. */
  readonly price?: number | undefined;
  /** Whether the stock holds fewer than a pair needs. */
  readonly short?: boolean;
}

/** What to buy, and what can be taken from the network as found. */
export interface ShoppingList {
  /** What is bought first. */
  readonly lines: readonly ShoppingLine[];
  /** Whether it is known what parts have to stand. */
  readonly rated: boolean;
  /** For a pair, of all that has a price. */
  readonly price: number;
  /** Whether all that is bought has one. */
  readonly priced: boolean;
}

/** What is needed of whoever builds: the network, its drivers, what is there already, and what parts have to stand. */
interface Wanted {
  readonly network: Entries;
  readonly drivers: Comparison["after"]["prediction"]["loudspeaker"]["drivers"];
  /** The loudspeaker as found, whose parts may serve again. */
  readonly found?: Comparison["before"]["prediction"]["loudspeaker"] | undefined;
  readonly ratings?: Comparison["after"]["ratings"] | undefined;
  /** Parts of the loudspeaker as found that may be at fault: they don't serve again. */
  readonly suspected?: readonly string[] | undefined;
}

/** The shopping list of the proposed network, from a stock where there is one: for a pair, so that what is taken for one isn't taken again. */
export function shoppingList({ before, after, verdict }: Comparison, stock: Stock | undefined): ShoppingList {
  const { network, drivers } = after.prediction.loudspeaker;
  return listOfWanted(
    { network, drivers, found: before.prediction.loudspeaker, ratings: after.ratings, suspected: suspectedParts(verdict) },
    stock,
  );
}

/** How many suspects are named where a measurement refutes the drawing. */
const NAMED_SUSPECTS = 3;

/** The parts of the first suspects, and of what can't be told from them. */
export function suspectedParts({ suspects }: Comparison["verdict"]): readonly string[] {
  return suspects.slice(0, NAMED_SUSPECTS).flatMap(({ parts, alike = [] }) => [...parts, ...alike.flatMap((other) => other.parts)]);
}

/** The same for any network. */
export function listOfWanted({ network, drivers, found, ratings, suspected = [] }: Wanted, stock: Stock | undefined): ShoppingList {
  const rated = ratings !== undefined && ratings.level !== "";
  const names = (all: typeof drivers) => all.map(({ part }) => part);
  const parts = without(network, names(drivers));
  const old = found === undefined ? {} : without(found.network, names(found.drivers));
  const reused = reusedParts(parts, Object.fromEntries(Object.entries(old).filter(([name]) => !suspected.includes(name))));
  const take = stock === undefined ? undefined : taker(stock);
  const lines = [false, true].flatMap((reuse) =>
    partsList(Object.fromEntries(Object.entries(parts).filter(([name]) => reused.has(name) === reuse)), { ratings }).map(
      ({ quantity, part, detail, required, designators }): ShoppingLine => {
        const details = detail.split(", ").filter((each) => each !== "");
        const taken = reuse ? undefined : take?.(parts[designators[0]!]![0] as Part, 2 * quantity, required);
        return {
          part,
          designators,
          quantity,
          ...(reuse
            ? { reuse: designators.map((name) => `${reused.get(name)!}${couplingText(name, reused, network, found!.network)}`) }
            : {}),
          tolerance: details.find((each) => each.startsWith("±")) ?? usualTolerance(part),
          keep: details
            // What the drawn part is rated for says nothing where it is known what it must be rated for.
            .filter((each) => !each.startsWith("±") && !(rated && each.startsWith("rated")))
            .map((each) => (/^(ESR|DCR|tan δ)/.test(each) ? `${each} at most` : each)),
          required,
          ...(taken === undefined ? {} : takenText(taken, parts[designators[0]!]![0] as BoughtPart, 2 * quantity)),
        };
      },
    ),
  );
  return {
    lines,
    rated,
    price: lines.reduce((sum, { price = 0 }) => sum + price, 0),
    priced: lines.every(({ reuse, price, short }) => reuse !== undefined || (price !== undefined && short !== true)),
  };
}

/** What a stock gives for a line. */
function takenText(
  { found, bears, places }: Taken,
  part: BoughtPart,
  wanted: number,
): Pick<ShoppingLine, "taken" | "pieces" | "price" | "short"> {
  if (found === undefined) return { taken: "not in stock" };
  return {
    taken: `${stockText(found, bears)}${lossText(found, part)}${missingText(places, wanted)}`,
    pieces: found,
    ...(found.price === undefined ? {} : { price: places * found.price }),
    ...(places === wanted ? {} : { short: true }),
  };
}

/** What stands in one place, how far it is, and whether it is known to bear what it must. */
function stockText({ says, parts, deviation }: BestCombination, bears: boolean): string {
  const names = [...new Set(parts.map(({ name }) => name))].join(", ");
  const away = Math.abs(deviation) < 5e-4 ? "" : `, ${deviation > 0 ? "+" : "−"}${Math.abs(100 * deviation).toFixed(1)} %`;
  return `${parts.length === 1 ? names : `${says}: ${names}`}${away}${bears ? "" : "; too small a rating, or none stated"}`;
}

/** A loss beyond which what is taken isn't what is drawn, relative. */
const MORE_LOSS = 1.1;

/** The loss of what is taken, where it is more than was drawn: `"; but DCR 0.24 Ω"`. */
function lossText({ part, lossKnown }: BestCombination, drawn: BoughtPart): string {
  if (!lossKnown || !(lossAtOneKilohertz(part) > MORE_LOSS * lossAtOneKilohertz(drawn))) return "";
  const [loss] = describePart(part)[1].split(", ");
  return loss === undefined || loss === "" ? "" : `; but ${loss}`;
}

/** How many places of a pair are left without. */
function missingText(places: number, wanted: number): string {
  return places === wanted ? "" : `; enough for ${places} of ${wanted} places, ${wanted - places} missing`;
}

/** Parts of the old network that serve in the new one, by designator of the new: equal ones, each once. */
function reusedParts(parts: Entries, found: Entries): ReadonlyMap<string, string> {
  const left = new Set(Object.keys(found));
  const reused = new Map<string, string>();
  for (const [name, [part]] of Object.entries(parts)) {
    const same = [name, ...left].find((other) => left.has(other) && sameData(unrated(part), unrated(found[other]![0])));
    if (same === undefined || isCoupling(part)) continue;
    left.delete(same);
    reused.set(name, same);
  }
  return reused;
}

/** What becomes of the couplings of a coil that serves again: together with which it must lie, or from which it must come apart. */
function couplingText(name: string, reused: ReadonlyMap<string, string>, parts: Entries, found: Entries): string {
  const now = coupledTo(name, parts);
  const were = coupledTo(reused.get(name)!, found);
  const [gained, lost] = [
    now.filter((other) => !were.includes(reused.get(other) ?? "")),
    were.filter((other) => !now.some((own) => reused.get(own) === other)),
  ];
  const words = [
    ...(gained.length === 0 ? [] : [`now coupled to ${listOf(gained)}`]),
    ...(lost.length === 0 ? [] : [`if it comes apart from old ${listOf(lost)}`]),
  ];
  return words.length === 0 ? "" : ` (${words.join("; ")})`;
}

function without(network: Entries, names: readonly string[]): Entries {
  return Object.fromEntries(Object.entries(network).filter(([name]) => !names.includes(name)));
}

/** What parts are sold within; common practice, no source. */
function usualTolerance(part: string): string {
  return /^(Resistor|Capacitor|Coil|L-pad)/.test(part) ? "±5 %" : "";
}
