import { DividingNetworkError } from "../../errors";
import { mainValue, type StockPart } from "./stock-part";

/** How two or three pieces make a value: where it is the sum of theirs, and where its reciprocal is. */
export type Shape = "one" | "sum" | "harmonic" | "sum of harmonic" | "harmonic of sum";

/** Pieces, first the one that stands alone in a mixed shape. */
export interface Found {
  readonly pieces: readonly StockPart[];
  readonly shape: Shape;
}

/** Lines of one value, and their cheapest pieces, at most three. */
export interface Value {
  readonly value: number;
  readonly pieces: readonly StockPart[];
}

/** Different values of one kind. */
const MOST_VALUES = 2000;
/** Combinations looked at beyond their deviation. */
const MOST_LOOKED = 1_000_000;
/** Combinations held against ratings. */
const MOST_HELD = 200_000;

/** The pieces of each value, values ascending; where ratings count, of each value and rating. */
export function piecesBy(caller: string, parts: readonly StockPart[], rated: boolean): readonly Value[] {
  const groups = new Map<string, StockPart[]>();
  for (const one of parts) {
    if (one.count === 0) continue;
    const key = `${mainValue(one.part)}${rated ? ` ${one.power} ${one.voltage} ${one.current}` : ""}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  if (groups.size > MOST_VALUES)
    throw new DividingNetworkError(
      "too-many-parts",
      `${caller}: "drawer" must hold at most ${MOST_VALUES} different values of one kind, got ${groups.size}`,
      "Leave out those that lie far from what is wanted",
    );
  const price = ({ price: own = Infinity }: StockPart) => own;
  return [...groups.values()]
    .map((group) => ({
      value: mainValue(group[0]!.part),
      pieces: [...group]
        .sort((a, b) => (price(a) === price(b) ? 0 : price(a) - price(b)))
        .flatMap((one) => Array.from({ length: Math.min(3, one.count ?? 3) }, () => one))
        .slice(0, 3),
    }))
    .sort((a, b) => a.value - b.value);
}

/**
 * The nearest of all combinations of at most `most` pieces that is allowed. For one or two pieces the value that is left over is found by bisection; deviation grows to both sides of
 * it, so that few neighbours are looked at.
 */
export function eachCombination(
  caller: string,
  values: readonly Value[],
  target: number,
  most: number,
  closeEnough: number,
  allows: ((found: Found) => boolean) | undefined,
): Found | undefined {
  const n = values.length;
  const v = Float64Array.from(values, ({ value }) => value / target);
  let best: { readonly found: Found; readonly key: number; readonly price: number } | undefined;
  let [bestKey, held, looked] = [Infinity, 0, 0];
  const keyOf = (ratio: number) => Math.max(0, Math.round((Math.abs(ratio - 1) - closeEnough) * 1e9));

  /** Looks at a combination that is at least as near as the best. */
  const look = (shape: Shape, indices: readonly number[], key: number): void => {
    if (++looked > MOST_LOOKED)
      throw new DividingNetworkError(
        "too-many-parts",
        `${caller}: "drawer" must leave at most ${MOST_LOOKED} combinations that are equally near, got more`,
        "Leave out all but one of values that are the same but for rounding",
      );
    const pieces = indices.map((index, place) => values[index]!.pieces[indices.slice(0, place).filter((other) => other === index).length]);
    if (pieces.includes(undefined)) return;
    const found: Found = { pieces: pieces as readonly StockPart[], shape };
    const price = found.pieces.reduce((sum, { price: own = Infinity }) => sum + own, 0);
    if (
      best !== undefined
      && key === best.key
      && (pieces.length > best.found.pieces.length || (pieces.length === best.found.pieces.length && !(price < best.price)))
    )
      return;
    if (allows !== undefined) {
      if (++held > MOST_HELD)
        throw new DividingNetworkError(
          "too-many-parts",
          `${caller}: "drawer" must leave at most ${MOST_HELD} combinations to be held against what they must bear, got more`,
          "Leave out parts that bear too little, or ask for fewer pieces",
        );
      if (!allows(found)) return;
    }
    best = { found, key, price };
    bestKey = key;
  };
  /** The last piece: from the one that would be exact, or the first above it, to both sides, as far as nothing nearer is known. */
  const last = (shape: Shape, before: readonly number[], wanted: number, from: number, whole: (value: number) => number): void => {
    let [low, high] = [from, n];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (v[middle]! < wanted) low = middle + 1;
      else high = middle;
    }
    for (let up = low; up < n; up++) {
      const key = keyOf(whole(v[up]!));
      if (key > bestKey) break;
      look(shape, [...before, up], key);
    }
    for (let down = low - 1; down >= from; down--) {
      const key = keyOf(whole(v[down]!));
      if (key > bestKey) break;
      look(shape, [...before, down], key);
    }
  };
  /** What is left of a reciprocal; without a positive rest no value is large enough. */
  const rest = (reciprocal: number) => (reciprocal > 0 ? 1 / reciprocal : Infinity);

  last("one", [], 1, 0, (c) => c);
  // What is close enough with fewer pieces isn't beaten by more.
  const firstOfTwo = most < 2 || bestKey === 0 ? 0 : n;
  for (let a = 0; a < firstOfTwo; a++) {
    last("sum", [a], 1 - v[a]!, a, (c) => v[a]! + c);
    last("harmonic", [a], rest(1 - 1 / v[a]!), a, (c) => 1 / (1 / v[a]! + 1 / c));
  }
  const firstOfThree = most < 3 || bestKey === 0 ? 0 : n;
  for (let a = 0; a < firstOfThree; a++) {
    for (let b = 0; b < n; b++) {
      const [x, y] = [v[a]!, v[b]!];
      if (b >= a) {
        last("sum", [a, b], 1 - x - y, b, (c) => x + y + c);
        last("harmonic", [a, b], rest(1 - 1 / x - 1 / y), b, (c) => 1 / (1 / x + 1 / y + 1 / c));
      }
      // The two that are not alone in either order are the same.
      last("sum of harmonic", [a, b], x < 1 ? rest(1 / (1 - x) - 1 / y) : 0, b, (c) => x + 1 / (1 / y + 1 / c));
      last("harmonic of sum", [a, b], x > 1 ? 1 / (1 - 1 / x) - y : Infinity, b, (c) => 1 / (1 / x + 1 / (y + c)));
    }
  }
  return best?.found;
}
