import { show } from "../errors/internal";
import type { StockPart } from "../parts";
import { canBeHad, priceOf } from "./goods";
import type { Miss } from "./misses";
import type { Question } from "./question";

/** What of a combination can't be had, or not for the price, as limits that it misses. */
export function missingGoods({ goods, choices }: Pick<Question, "goods" | "choices">, codes: ArrayLike<number>): readonly Miss[] {
  if (goods === undefined || canBeHad(goods, choices, codes)) return [];
  const { pieces, largestPrice, units } = goods;
  const lines = choices.flatMap(({ options }, index) => {
    const option = options[codes[index]!];
    return option === undefined ? [] : (pieces.get(option) ?? []);
  });
  const taken = new Map<StockPart, number>();
  for (const line of lines) taken.set(line, (taken.get(line) ?? 0) + units);
  const short = [...taken].filter(([{ count = Infinity }, wanted]) => wanted > count);
  const few: readonly Miss[] =
    short.length === 0
      ? []
      : [
          {
            limit: "stock",
            by: short.reduce((sum, [{ count }, wanted]) => sum + wanted / Math.max(count!, 0.5) - 1, 0),
            says: short.map(([{ name, count }, wanted]) => `of ${show(name)} ${wanted} are wanted and ${count} there`).join(", "),
          },
        ];
  if (largestPrice === Infinity) return few;
  const unpriced = [...taken.keys()].filter(({ price }) => price === undefined);
  if (unpriced.length > 0)
    return [
      ...few,
      {
        limit: "largestPrice",
        by: unpriced.length,
        says: `no price is known of ${unpriced.map(({ name }) => show(name)).join(", ")}, and with a largest price only what has one is taken`,
      },
    ];
  const price = priceOf(lines);
  return price <= largestPrice
    ? few
    : [
        ...few,
        {
          limit: "largestPrice",
          by: Math.min(10, price / largestPrice - 1),
          says: `the parts cost ${priced(price)} together, at most ${priced(largestPrice)} is asked for`,
        },
      ];
}

const priced = (price: number): string => String(Number(price.toFixed(2)));
