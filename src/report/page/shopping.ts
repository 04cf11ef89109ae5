import type { Comparison, Ratings } from "../../assessment";
import type { Stock } from "../../parts";
import { paragraph, table } from "../blocks";
import { element, type Markup } from "../markup";
import { formatQuantity } from "../../quantity";
import { hertz } from "../../quantity/internal";
import { marginText, requiredText } from "../parts-list";
import { shoppingList } from "./shopping-list";

/** What to buy for one and for a pair, and what can be taken from the network as found. */
export function shopping(comparison: Comparison, stock?: Stock): Markup {
  const { lines, rated, price, priced } = shoppingList(comparison, stock);
  const { ratings, goal } = comparison.after;
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
          ...(rated ? [{ label: "Rated for at least" }] : []),
          ...(stock === undefined ? [] : [{ label: "From the stock, each" }, { label: "Price for a pair", align: "right" as const }]),
        ],
        rows: lines.map(({ part, designators, quantity, reuse, tolerance, keep, required, taken = "", price: cost }) => [
          unbroken(part),
          designators.join(", "),
          quantity,
          2 * quantity,
          reuse === undefined ? "buy" : `reuse old ${reuse.join(", ")}`,
          tolerance,
          keep.map(unbroken).join(", "),
          ...(rated ? [unbroken(requiredText(required))] : []),
          ...(stock === undefined ? [] : [taken, cost === undefined ? "" : cost.toFixed(2)]),
        ]),
      },
      { label: "What to buy" },
    ),
    ...(stock === undefined
      ? []
      : [
          paragraph(
            `What is bought costs ${price.toFixed(2)} for a pair in the stock’s currency${priced ? "" : ", without what isn’t in stock or has no price"}. Within 2 % of a value, fewer and cheaper parts are taken. Losses may differ from those drawn: judge the network with the parts that are taken.`,
          ),
        ]),
    element(
      "p",
      { class: "small" },
      "Tolerances that no part states: common practice, no source. A part that is reused is measured first. A DCR that is lower than stated is made up by a resistor in series.",
      rated
        ? ` “Rated for at least” holds at the level of the amplifier that the summary states. Volts and amperes are peaks of the worst full sine. ${marginText(goal.derating)}${sinesText(ratings)}`
        : "",
    ),
  );
}

/** Text that stays on one line. */
function unbroken(text: string): string {
  return text.replaceAll(" ", "\u00A0");
}

/** What full sines make of the heat, in the parts that are bought by it. */
function sinesText({ checks }: Ratings): string {
  const heated = checks.filter(({ code, quantity }) => code === "part-rating" && quantity === "power");
  return heated.length === 0
    ? ""
    : ` Full sines make more heat: ${heated.map(({ name, sine, frequency }) => `${name} up to ${formatQuantity(sine, "W")} at ${hertz(frequency)}`).join(", ")}. Test with sines at a low level.`;
}
