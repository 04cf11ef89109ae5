import type { Combination, Part, StockPart } from "../parts";
import { writeCodes, type BranchTable } from "./branch-table";
import type { Choice } from "./choices";
import type { LossBound } from "./heard";
import type { StateTree } from "./state-tree";

/** What candidates are made of, where they come from a stock, and what all may cost. */
export interface Goods {
  /** The pieces of a candidate; none are known of one that isn't here. */
  readonly pieces: ReadonlyMap<Part, readonly StockPart[]>;
  /** How the pieces of a candidate are connected, where a search made it of several. */
  readonly wholes?: ReadonlyMap<Part, Combination>;
  /** In the stock's currency; Infinity: no limit. */
  readonly largestPrice: number;
  /** How many loudspeakers are built of it. */
  readonly units: number;
}

/** Whether there is enough of every line of the stock, and all together don't cost more than they may. */
export function canBeHad({ pieces, largestPrice, units }: Goods, choices: readonly Choice[], codes: ArrayLike<number>): boolean {
  const used = new Map<StockPart, number>();
  let price = 0;
  for (let index = 0; index < choices.length; index++) {
    const option = choices[index]!.options[codes[index]!];
    if (option === undefined) continue;
    for (const one of pieces.get(option) ?? []) {
      const count = (used.get(one) ?? 0) + units;
      if (count > (one.count ?? Infinity)) return false;
      used.set(one, count);
    }
    price += priceOf(pieces.get(option));
  }
  return withinPrice(price, largestPrice);
}

/** What pieces cost; Infinity where the price of one isn't known, 0 for what is in no stock. */
export function priceOf(pieces: readonly StockPart[] | undefined): number {
  return (pieces ?? []).reduce((sum, { price = Infinity }) => sum + price, 0);
}

function withinPrice(price: number, largest: number): boolean {
  return largest === Infinity || price <= largest * (1 + 1e-12);
}

/** ln²: what the price of the dearest network counts, far below what is heard. */
const CHEAPER = 1e-13;

/** A bound that also knows what can be had: of single states all of it, of sets of states the least that they cost. */
export function boundOfGoods(
  bound: LossBound,
  goods: Goods,
  choices: readonly Choice[],
  tables: readonly BranchTable[],
  trees: readonly StateTree[],
): LossBound {
  const codes = new Int32Array(choices.length);
  const { largestPrice, pieces } = goods;
  const least =
    largestPrice === Infinity
      ? undefined
      : tables.map((table, index) =>
          leastPrices(table, trees[index]!, choices, (option) => (option === undefined ? 0 : priceOf(pieces.get(option)))),
        );
  const prices = choices.map(({ options }) => options.map((option) => (option === undefined ? 0 : priceOf(pieces.get(option)))));
  const dearest = prices.reduce((sum, own) => sum + own.reduce((most, price) => (price < Infinity ? Math.max(most, price) : most), 0), 0);
  const priceAt = (of: Int32Array) => prices.reduce((sum, own, index) => sum + own[of[index]!]!, 0);
  return {
    beyond: (nodes, at, enough) => bound.beyond(nodes, at, enough),
    below(nodes, at, enough) {
      if (least !== undefined) {
        let price = 0;
        for (let g = 0; g < tables.length; g++) price += least[g]!(nodes[at + g]!);
        if (!withinPrice(price, largestPrice)) return Infinity;
      }
      return bound.below(nodes, at, enough);
    },
    exact(nodes, at, enough) {
      for (let g = 0; g < tables.length; g++) writeCodes(tables[g]!, choices, -1 - nodes[at + g]!, codes);
      if (!canBeHad(goods, choices, codes)) return Infinity;
      const loss = bound.exact(nodes, at, enough);
      // Of networks that sound the same the cheaper.
      return dearest > 0 ? loss + (CHEAPER * Math.min(dearest, priceAt(codes))) / dearest : loss;
    },
  };
}

/** The least that a state below a node costs; a node is asked once. */
function leastPrices(
  table: BranchTable,
  tree: StateTree,
  choices: readonly Choice[],
  price: (option: Part | undefined) => number,
): (node: number) => number {
  const codes = new Int32Array(choices.length);
  const prices = new Float64Array(table.states);
  const own = table.choices.map((index) => choices[index]!.options.map(price));
  for (let state = 0; state < table.states; state++) {
    writeCodes(table, choices, state, codes);
    table.choices.forEach((index, place) => (prices[state]! += own[place]![codes[index]!]!));
  }
  const known = new Map<number, number>();
  return (node) => {
    if (node < 0) return prices[-1 - node]!;
    const least = known.get(node) ?? tree.leastOf(node, prices);
    known.set(node, least);
    return least;
  };
}
