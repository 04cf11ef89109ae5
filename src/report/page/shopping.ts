import type { Comparison, Ratings } from "../../assessment";
import type { Entries } from "../../network";
import { sameData } from "../../network/internal";
import type { BestCombination, Part, Stock } from "../../parts";
import { table } from "../blocks";
import { paragraph } from "../blocks";
import { element, type Markup } from "../markup";
import { isCoupling } from "../../parts/internal";
import { unrated } from "../network-changes";
import { formatQuantity } from "../../quantity";
import { marginText, partsList, requiredText, type RequiredRating } from "../parts-list";
import { taker } from "./from-stock";
import { hertz } from "../../quantity/internal";

/** What to buy for one and for a pair, and what can be taken from the network as found. */
export function shopping({ before, after }: Comparison, stock?: Stock): Markup {
  const { ratings, goal } = after;
  const known = ratings.level !== "";
  const { network, drivers } = after.prediction.loudspeaker;
  const found = before.prediction.loudspeaker;
  const parts = without(
    network,
    drivers.map(({ part }) => part),
  );
  const reused = reusedParts(
    parts,
    without(
      found.network,
      found.drivers.map(({ part }) => part),
    ),
  );
  const take = stock === undefined ? undefined : taker(stock);
  let [price, priced] = [0, true];
  /** From the stock, for a pair: what for each place, and what all of it costs. */
  const fromStock = (reuse: boolean, designators: readonly string[], required: RequiredRating | undefined): readonly string[] => {
    if (take === undefined) return [];
    if (reuse) return ["", ""];
    const { found: own, bears } = take(parts[designators[0]!]![0] as Part, 2 * designators.length, required);
    if (own === undefined || own.price === undefined) priced = false;
    price += own?.price === undefined ? 0 : 2 * designators.length * own.price;
    return own === undefined
      ? ["not in stock", ""]
      : [stockText(own, bears), own.price === undefined ? "" : (2 * designators.length * own.price).toFixed(2)];
  };
  const rows = [false, true].flatMap((reuse) =>
    partsList(Object.fromEntries(Object.entries(parts).filter(([name]) => reused.has(name) === reuse)), { ratings }).map(
      ({ quantity, part, detail, required, designators }) => [
        unbroken(part),
        designators.join(", "),
        quantity,
        2 * quantity,
        reuse ? `reuse old ${designators.map((name) => reused.get(name)!).join(", ")}` : "buy",
        tolerance(part),
        detail
          .split(", ")
          // What the drawn part is rated for says nothing where it is known what it must be rated for.
          .filter((each) => !known || !each.startsWith("rated"))
          .map((each) => unbroken(/^(ESR|DCR)/.test(each) ? `${each} at most` : each))
          .join(", "),
        ...(known ? [unbroken(requiredText(required))] : []),
        ...fromStock(reuse, designators, required),
      ],
    ),
  );
  return element(
    "div",
    { class: "shopping" },
    table(
      {
        columns: [
          { label: "Part" },
          { label: "Where" },
          { label: "For one", align: "right" },
          { label: "For a pair", align: "right" },
          { label: "Reuse or buy" },
          { label: "Tolerance" },
          { label: "Must keep" },
          ...(known ? [{ label: "Rated for at least" }] : []),
          ...(take === undefined ? [] : [{ label: "From the stock, each" }, { label: "Price for a pair", align: "right" as const }]),
        ],
        rows,
      },
      { label: "What to buy" },
    ),
    ...(take === undefined
      ? []
      : [
          paragraph(
            `What is bought costs ${price.toFixed(2)} for a pair in the stock’s currency${priced ? "" : ", without what isn’t in stock or has no price"}. Within 2 % of a value, fewer and cheaper parts are taken. Losses may differ from those drawn: judge the network with the parts that are taken.`,
          ),
        ]),
    element(
      "p",
      { class: "small" },
      "Tolerances: common practice, no source. A part that is reused is measured first. A DCR that is lower than stated is made up by a resistor in series.",
      known
        ? ` “Rated for at least” holds at the level of the amplifier that the summary states. Volts and amperes are peaks of the worst full sine. ${marginText(goal.derating)}${sinesText(ratings)}`
        : "",
    ),
  );
}

/** Text that stays on one line. */
function unbroken(text: string): string {
  return text.replaceAll(" ", "\u00A0");
}

/** What stands in one place, how far it is, and whether it is known to bear what it must. */
function stockText({ says, parts, deviation }: BestCombination, bears: boolean): string {
  const names = [...new Set(parts.map(({ name }) => name))].join(", ");
  const away = Math.abs(deviation) < 5e-4 ? "" : `, ${deviation > 0 ? "+" : "−"}${Math.abs(100 * deviation).toFixed(1)} %`;
  return `${parts.length === 1 ? names : `${says}: ${names}`}${away}${bears ? "" : "; too small a rating, or none stated"}`;
}

/** What full sines make of the heat, in the parts that are bought by it. */
function sinesText({ checks }: Ratings): string {
  const heated = checks.filter(({ code, quantity }) => code === "part-rating" && quantity === "power");
  return heated.length === 0
    ? ""
    : ` Full sines make more heat: ${heated.map(({ name, sine, frequency }) => `${name} up to ${formatQuantity(sine, "W")} at ${hertz(frequency)}`).join(", ")}. Test with sines at a low level.`;
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

function without(network: Entries, names: readonly string[]): Entries {
  return Object.fromEntries(Object.entries(network).filter(([name]) => !names.includes(name)));
}

function tolerance(part: string): string {
  return /^(Resistor|Capacitor|Coil|L-pad)/.test(part) ? "±5 %" : "";
}
