import type { Combination, StockPart } from "../parts";
import { combined, lossAtOneKilohertz, mainValue } from "../parts/internal";
import type { Slot } from "./drawing-data";

/** Two lines of a stock that stand in the place of one part: coils one after the other, capacitors side by side, resistors either way. */
export interface StockPair {
  /** The lines as the stock holds them. */
  readonly lines: readonly [StockPart, StockPart];
  readonly whole: Combination;
}

/** Relative: what lies nearer to a single part than this isn't made of two, and of pairs nearer to one another one is taken. */
const STEP = 0.02;
/** Hz at which losses are added, as `combination` does. */
const FREQUENCY = 1000;

/**
 * Pairs that make values which no single line has, by value: of those within 2 % of one another the cheapest, and of these that with the least loss. No line is taken more often than it is there.
 *
 * @param lines of one kind, of which there is enough for one place
 * @param withLoss a line with its losses, assumed where the stock doesn't state them
 */
export function stockPairs(
  lines: readonly StockPart[],
  kind: Slot["kind"],
  units: number,
  withLoss: (line: StockPart) => StockPart,
): readonly StockPair[] {
  const known = new Map(lines.map((line) => [line, withLoss(line)]));
  const lossy = (line: StockPart) => known.get(line)!;
  const own = lines.map((line) => ({ line, value: mainValue(line.part) })).sort((a, b) => a.value - b.value);
  const place = (value: number) => Math.round(Math.log(value) / Math.log1p(STEP));
  const single = (value: number): boolean => {
    let [low, high] = [0, own.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (own[middle]!.value < value) low = middle + 1;
      else high = middle;
    }
    return [low - 1, low].some((at) => at >= 0 && at < own.length && Math.abs(own[at]!.value / value - 1) < STEP);
  };
  interface Candidate {
    readonly lines: readonly [StockPart, StockPart];
    readonly adds: boolean;
    readonly value: number;
    readonly price: number;
    readonly loss: number;
  }
  const best = new Map<number, Candidate>();
  const offer = (a: StockPart, b: StockPart, value: number, adds: boolean): void => {
    const at = place(value);
    const before = best.get(at);
    const price = (a.price ?? Infinity) + (b.price ?? Infinity);
    if (before !== undefined && price > before.price) return;
    const loss = kind === "resistor" ? 0 : lossAtOneKilohertz(lossy(a).part) + lossAtOneKilohertz(lossy(b).part);
    if (before !== undefined && price === before.price && loss >= before.loss) return;
    if (!single(value)) best.set(at, { lines: [a, b], adds, value, price, loss });
  };
  own.forEach(({ line: a, value: x }, i) => {
    for (let j = i; j < own.length; j++) {
      const { line: b, value: y } = own[j]!;
      if (i === j && (a.count ?? Infinity) < 2 * units) continue;
      offer(a, b, x + y, true);
      if (kind === "resistor") offer(a, b, 1 / (1 / x + 1 / y), false);
    }
  });
  return [...best.values()]
    .sort((a, b) => a.value - b.value)
    .map(({ lines: pair, adds }) => {
      const whole = (both: readonly StockPart[]) => {
        const of = Object.freeze([...both]);
        return combined(Object.freeze(adds === (kind !== "capacitor") ? { series: of } : { parallel: of }), kind, both, FREQUENCY);
      };
      // The lines as the stock holds them, with the losses that the search reckons with.
      return { lines: pair, whole: Object.freeze({ ...whole(pair), part: whole(pair.map(lossy)).part }) };
    });
}
