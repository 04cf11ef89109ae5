import type { Comparison, Ratings } from "../../assessment";
import type { Entries } from "../../network";
import { sameData } from "../../network/internal";
import { table } from "../blocks";
import { paragraph } from "../blocks";
import type { Markup } from "../markup";
import { isCoupling } from "../../parts/internal";
import { unrated } from "../network-changes";
import { formatQuantity } from "../../quantity";
import { marginText, partsList, requiredText } from "../parts-list";
import { hertz } from "./words";

/** What to buy for one and for a pair, and what can be taken from the network as found. */
export function shopping({ before, after }: Comparison): readonly Markup[] {
  const { ratings, goal } = after;
  const known = ratings.level !== "";
  const { network, drivers } = after.prediction.loudspeaker;
  const found = before.prediction.loudspeaker;
  const parts = without(network, drivers.map(({ part }) => part));
  const reused = reusedParts(parts, without(found.network, found.drivers.map(({ part }) => part)));
  const rows = [false, true].flatMap((reuse) => partsList(Object.fromEntries(Object.entries(parts).filter(([name]) => reused.has(name) === reuse)), { ratings }).map(({ quantity, part, detail, required, designators }) => [
    part,
    quantity,
    2 * quantity,
    reuse ? `reuse: ${designators.map((name) => reused.get(name)!).join(", ")} of the old network` : "buy",
    tolerance(part),
    detail.split(", ").map((each) => (/^(ESR|DCR)/.test(each) ? `${each} at most` : each)).join(", "),
    ...(known ? [requiredText(required)] : []),
    designators.join(", "),
  ]));
  return [
    table({
      columns: [{ label: "Part" }, { label: "For one", align: "right" }, { label: "For a pair", align: "right" }, { label: "Reuse or buy" }, { label: "Tolerance" }, { label: "Must keep" }, ...(known ? [{ label: "Rated for at least" }] : []), { label: "Designators" }],
      rows,
    }, { label: "What to buy" }),
    paragraph("Tolerances: common practice, no source. A part that is reused is measured first. A DCR that is lower than stated is made up by a resistor in series."),
    ...(known ? [paragraph(`“Rated for at least” holds at ${ratings.level}. Volts and amperes are peaks of the worst full sine. ${marginText(goal.derating)}${sinesText(ratings)}`)] : []),
  ];
}

/** What full sines make of the heat, in the parts that are bought by it. */
function sinesText({ checks }: Ratings): string {
  const heated = checks.filter(({ code, quantity }) => code === "part-rating" && quantity === "power");
  return heated.length === 0 ? "" : ` Full sines make more heat: ${heated.map(({ name, sine, frequency }) => `${name} up to ${formatQuantity(sine, "W")} at ${hertz(frequency)}`).join(", ")}. Test with sines at a low level.`;
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
