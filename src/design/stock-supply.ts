import { DividingNetworkError } from "../errors";
import type { BoughtPart, Combination, Stock, StockPart } from "../parts";
import { isStockKind, lossAtOneKilohertz, mainValue, ratingOf } from "../parts/internal";
import type { Goods } from "./goods";
import { enough } from "./lacking-kinds";
import { MOST_STATES, partOf, type CoilLaw } from "./series-parts";
import { stockPairs } from "./stock-pairs";
import type { Supply } from "./supply";
import type { Slot } from "./drawing-data";

/** Lines of one kind of which pairs are looked at. */
const MOST_COMBINED = 2000;
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

/** Ratios to a value that was found at which others are looked at, where parts may be made of two: as wide as E24, and fine. */
const NEARBY = [1 / 1.1, 1 / 1.03, 1.03, 1.1] as const;
/** How far apart values are, as a ratio, that pairs add to the lines of a stock where these lie further apart: as E24. */
const FILLED = 1.1;

/** A line of the stock as a candidate, or two in the place of one: losses that a line doesn't state are assumed. */
interface Good {
  readonly lines: readonly StockPart[];
  readonly part: BoughtPart;
  readonly value: number;
  /** How two are connected. */
  readonly whole?: Combination;
}

/** What is there of a kind, by value: lines alone, and with what two of them make. */
interface Kept {
  readonly single: readonly Good[];
  readonly all: readonly Good[];
}

/** What a stock holds, each part with its own losses, no more often than it is there. */
export function stockSupply(
  caller: string,
  { parts }: Stock,
  law: CoilLaw,
  { largestPrice, units, mostPieces }: Pick<Goods, "largestPrice" | "units"> & { readonly mostPieces: 1 | 2 },
): Supply & { readonly goods: Goods } {
  const keptOf = (kind: Slot["kind"]): Kept => {
    const single = goodsOf(parts, kind, law, units);
    if (mostPieces === 1) return { single, all: single };
    if (single.length > MOST_COMBINED)
      throw new DividingNetworkError(
        "too-many-parts",
        `${caller}: "stock" must hold at most ${MOST_COMBINED} different ${kind}s where parts may be made of two, got ${single.length}`,
        "Leave out what lies far from what is wanted, or mostPieces: 2",
      );
    const pairs = stockPairs(
      single.map(({ lines }) => lines[0]!),
      kind,
      units,
      (line) => withLoss(line, kind, law),
    ).map(({ lines, whole }): Good => ({ lines, part: Object.freeze({ ...whole.part }), value: mainValue(whole.part), whole }));
    return { single, all: [...single, ...pairs].sort((a, b) => a.value - b.value) };
  };
  const goods = { resistor: keptOf("resistor"), inductor: keptOf("inductor"), capacitor: keptOf("capacitor") };
  const every = Object.values(goods).flatMap(({ all }) => all);
  if (goods.inductor.single.length === 0 && goods.capacitor.single.length === 0) {
    throw new DividingNetworkError(
      "not-in-stock",
      `${caller}: "stock" must hold coils or capacitors, got no coil and no capacitor${enough(units)}`,
      'Add parts, or design with a series of preferred values: series: "E12"',
    );
  }
  const within = (slot: Slot, ratio: number): readonly Good[] => {
    const { single, all } = goods[slot.kind];
    if (slot.fixed !== undefined) return nearest(all, slot.fixed, 0);
    const isInside = ({ value }: Good) => value >= slot.from && value <= slot.to;
    const inside = single.filter(isInside);
    const kept = inside.length === 0 ? [] : thinned(inside, ratio);
    const own = mostPieces === 1 ? kept : filled(kept, all.filter(isInside), Math.max(FILLED, ratio));
    return own.length === 0 ? nearest(all, Math.sqrt(slot.from * slot.to), 0) : own;
  };
  const inRange = (slot: Slot): number =>
    slot.fixed === undefined ? Math.max(1, goods[slot.kind].all.filter(({ value }) => value >= slot.from && value <= slot.to).length) : 1;
  return {
    goods: {
      pieces: new Map(every.map(({ part, lines }) => [part, lines] as const)),
      wholes: new Map(every.flatMap(({ part, whole }) => (whole === undefined ? [] : [[part, whole] as const]))),
      largestPrice,
      units,
    },
    choicesFor(slots) {
      const list = Object.entries(slots);
      if (list.some(([, { kind }]) => goods[kind].single.length === 0)) return undefined;
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
    isThinned: (slots, choices) => choices.some(({ name, options }) => options.length < inRange(slots[name]!)),
    lacks: (slots) => [...new Set(Object.values(slots).map(({ kind }) => kind))].filter((kind) => goods[kind].single.length === 0),
    near({ kind, fixed }, found) {
      const { all } = goods[kind];
      const value = mainValue(found as BoughtPart);
      const near =
        mostPieces === 1 || fixed !== undefined
          ? nearest(all, value, fixed === undefined ? STEPS : 1)
          : [...new Set([1, ...NEARBY].flatMap((ratio) => nearest(all, value * ratio, 0)))].sort((a, b) => a.value - b.value);
      return near.map(({ part }) => part);
    },
  };
}

/** What can be had of a kind, by value; of lines that are the same in a network the cheaper alone, where there is enough of it. */
function goodsOf(parts: readonly StockPart[], kind: Slot["kind"], law: CoilLaw, units: number): readonly Good[] {
  const own = parts
    .filter(({ part, count }) => isStockKind(part, kind) && (count ?? Infinity) >= units)
    .map((line): Good => ({ lines: [line], part: lossy(line, kind, law), value: mainValue(line.part) }));
  const price = ({ lines }: Good) => lines[0]!.price ?? Infinity;
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
      || before.lines[0]!.count !== undefined
    );
  });
}

/** A part that no other of the same line or value is: what is chosen is known by it. */
function lossy({ part, lossKnown }: StockPart, kind: Slot["kind"], law: CoilLaw): BoughtPart {
  return Object.freeze(lossKnown ? { ...part } : { ...part, ...partOf(kind, mainValue(part), law) });
}

/** The same as a line, whose losses then count as known. */
function withLoss(line: StockPart, kind: Slot["kind"], law: CoilLaw): StockPart {
  return line.lossKnown ? line : { ...line, part: lossy(line, kind, law), lossKnown: true };
}

/** Goods, with others in between where they lie further apart than a ratio. */
function filled(kept: readonly Good[], others: readonly Good[], ratio: number): readonly Good[] {
  const own = [...kept];
  for (const one of others)
    if (own.every(({ value }) => Math.max(value / one.value, one.value / value) >= ratio * (1 - 1e-9))) own.push(one);
  return own.sort((a, b) => a.value - b.value);
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
