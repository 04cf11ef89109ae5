import { DividingNetworkError } from "../errors";
import type { BoughtPart, Stock, StockPart } from "../parts";
import { isStockKind, lossAtOneKilohertz, mainValue, ratingOf } from "../parts/internal";
import type { Goods } from "./goods";
import { enough } from "./lacking-kinds";
import { MOST_STATES, partOf, type CoilLaw } from "./series-parts";
import type { Supply } from "./supply";
import type { Slot } from "./topologies";

/** Other values looked at to either side of one that was found. */
const STEPS = 2;
/** How far apart values are, as a ratio, where a branch has too many combinations of them: coils and capacitors, then resistors. */
const THINNINGS = [
  [1, 1],
  [1, 1.4],
  [1, 2],
  [1.1, 1.4],
  [1.2, 1.4],
  [1.2, 2],
  [1.45, 2],
  [2.1, 2.1],
  [4, 4],
] as const;

/** One line of the stock as a candidate: losses that it doesn't state are assumed. */
interface Good {
  readonly line: StockPart;
  readonly part: BoughtPart;
  readonly value: number;
}

/** What a stock holds, each part with its own losses, no more often than it is there. */
export function stockSupply(
  caller: string,
  { parts }: Stock,
  law: CoilLaw,
  { largestPrice, units }: Pick<Goods, "largestPrice" | "units">,
): Supply & { readonly goods: Goods } {
  const goods = {
    resistor: goodsOf(parts, "resistor", law, units),
    inductor: goodsOf(parts, "inductor", law, units),
    capacitor: goodsOf(parts, "capacitor", law, units),
  };
  if (goods.inductor.length === 0 && goods.capacitor.length === 0) {
    throw new DividingNetworkError(
      "not-in-stock",
      `${caller}: "stock" must hold coils or capacitors, got no coil and no capacitor${enough(units)}`,
      'Add parts, or design with a series of preferred values: series: "E12"',
    );
  }
  const within = (slot: Slot, ratio: number): readonly Good[] => {
    const own = goods[slot.kind];
    if (slot.fixed !== undefined) return nearest(own, slot.fixed, 0);
    const inside = own.filter(({ value }) => value >= slot.from && value <= slot.to);
    return inside.length === 0 ? nearest(own, Math.sqrt(slot.from * slot.to), 0) : thinned(inside, ratio);
  };
  return {
    goods: {
      pieces: new Map(Object.values(goods).flatMap((of) => of.map(({ part, line }) => [part, [line]] as const))),
      largestPrice,
      units,
    },
    choicesFor(slots) {
      const list = Object.entries(slots);
      if (list.some(([, { kind }]) => goods[kind].length === 0)) return undefined;
      const inside = (slot: Slot, [reactive, resistive]: (typeof THINNINGS)[number]) =>
        within(slot, slot.kind === "resistor" ? resistive : reactive);
      const chosen = new Map(
        [...new Set(list.map(([, { branch }]) => branch))].map((branch) => {
          const states = (pair: (typeof THINNINGS)[number]) =>
            list.reduce((product, [, slot]) => (slot.branch === branch ? product * inside(slot, pair).length : product), 1);
          return [branch, THINNINGS.find((pair) => states(pair) <= MOST_STATES) ?? THINNINGS[THINNINGS.length - 1]!] as const;
        }),
      );
      return list.map(([name, slot]) => ({ name, options: inside(slot, chosen.get(slot.branch)!).map(({ part }) => part) }));
    },
    isThinned: (slots, choices) => choices.some(({ name, options }) => options.length < within(slots[name]!, 1).length),
    lacks: (slots) => [...new Set(Object.values(slots).map(({ kind }) => kind))].filter((kind) => goods[kind].length === 0),
    near: ({ kind, fixed }, found) =>
      nearest(goods[kind], mainValue(found as BoughtPart), fixed === undefined ? STEPS : 1).map(({ part }) => part),
  };
}

/** What can be had of a kind, by value; of lines that are the same in a network the cheaper alone, where there is enough of it. */
function goodsOf(parts: readonly StockPart[], kind: Slot["kind"], law: CoilLaw, units: number): readonly Good[] {
  const own = parts
    .filter(({ part, count }) => isStockKind(part, kind) && (count ?? Infinity) >= units)
    .map((line) => ({ line, part: lossy(line, kind, law), value: mainValue(line.part) }));
  const price = ({ line }: Good) => line.price ?? Infinity;
  own.sort(
    (a, b) =>
      a.value - b.value || lossAtOneKilohertz(a.part) - lossAtOneKilohertz(b.part) || (price(a) === price(b) ? 0 : price(a) - price(b)),
  );
  return own.filter((one, index) => {
    const before = own[index - 1];
    return (
      before === undefined
      || before.value !== one.value
      || lossAtOneKilohertz(before.part) !== lossAtOneKilohertz(one.part)
      || before.part.tolerance !== one.part.tolerance
      || ratingOf(before.part)?.value !== ratingOf(one.part)?.value
      || before.line.count !== undefined
    );
  });
}

/** A part that no other of the same line or value is: what is chosen is known by it. */
function lossy({ part, lossKnown }: StockPart, kind: Slot["kind"], law: CoilLaw): BoughtPart {
  return Object.freeze(lossKnown ? { ...part } : { ...part, ...partOf(kind, mainValue(part), law) });
}

/** Of values, ascending, one from each step of a ratio; with a ratio of 1, all. */
function thinned(goods: readonly Good[], ratio: number): readonly Good[] {
  if (ratio === 1) return goods;
  const kept: Good[] = [];
  for (const one of goods) if (kept.length === 0 || one.value >= kept[kept.length - 1]!.value * ratio) kept.push(one);
  return kept;
}

/** All of the values nearest to one: that, and so many others to either side. */
function nearest(goods: readonly Good[], value: number, steps: number): readonly Good[] {
  const values = [...new Set(goods.map((one) => one.value))];
  const middle = values.reduce(
    (best, one, at) => (Math.abs(Math.log(one / value)) < Math.abs(Math.log(values[best]! / value)) ? at : best),
    0,
  );
  const kept = new Set(values.slice(Math.max(0, middle - steps), middle + steps + 1));
  return goods.filter((one) => kept.has(one.value));
}
