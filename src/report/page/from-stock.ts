import { DividingNetworkError } from "../../errors";
import { bestCombination, stock as stockOf, type BestCombination, type Part, type Stock, type StockPart } from "../../parts";
import { mainValue, stockedKind } from "../../parts/internal";
import type { RequiredRating } from "../parts-list";

/** Values within this much of what is wanted are equally good: parts are bought to 5 % at best (common practice, no source). */
const CLOSE_ENOUGH = 0.02;

/** Pieces of a stock for one line of a shopping list. */
export interface Taken {
  /** What is taken for one place; absent where nothing of the kind is left. */
  readonly found?: BestCombination;
  /** Whether it is known to bear what is asked for. */
  readonly bears: boolean;
  /** For how many places there is enough. */
  readonly places: number;
}

/** Takes from a stock, place by place: what is taken isn't there any more. */
export function taker(drawer: Stock): (part: Part, places: number, required: RequiredRating | undefined) => Taken {
  const left = new Map<StockPart, number>(drawer.parts.map((line) => [line, line.count ?? Infinity]));
  /** What serves so many places, each by the same pieces. */
  const takeFor = (part: Part, places: number, { watts: power, volts: voltage, amperes: current }: RequiredRating): Taken | undefined => {
    const kind = stockedKind(part);
    if (kind === undefined) return undefined;
    // Of a line, as many as are left for one place.
    const lines = [...left]
      .map(([line, count]) => ({ line, count: Math.floor(count / places) }))
      .filter(({ line, count }) => count > 0 && stockedKind(line.part) === kind);
    const offered = stockOf(lines.map(({ line, count }) => ({ ...line, ...(count === Infinity ? {} : { count }) })));
    const look = (ratings: object): BestCombination | undefined => {
      try {
        return bestCombination(offered, kind, { value: mainValue(part as StockPart["part"]), closeEnough: CLOSE_ENOUGH, ...ratings });
      } catch (error) {
        if (error instanceof DividingNetworkError && (error.code === "not-in-stock" || error.code === "too-many-parts")) return undefined;
        throw error;
      }
    };
    const rated = look({ power, voltage, current });
    const found = rated ?? look({});
    if (found === undefined) return undefined;
    for (const piece of found.parts) {
      const { line } = lines[offered.parts.indexOf(piece)]!;
      left.set(line, left.get(line)! - places);
    }
    return { found, bears: rated !== undefined, places };
  };
  return (part, places, required = {}) => {
    for (let enough = places; enough > 0; enough--) {
      const taken = takeFor(part, enough, required);
      if (taken !== undefined) return taken;
    }
    return { bears: false, places: 0 };
  };
}
