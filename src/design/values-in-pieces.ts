import { DividingNetworkError } from "../errors";
import type { ChosenValues } from "./choose-values-data";
import { approximation, enumeratedPart, improved } from "./enumerate";
import { infeasible } from "./infeasible";
import { provenByThirds } from "./prove-thirds";
import type { SearchOptions } from "./question";
import { searchedBelow, type Searched } from "./search";
import type { ValuesPlan } from "./values-plan";

/** In how many pieces a search is divided, whoever looks at them. */
const PIECES = 8;
/** A piece is told of the losses of those that lie so many before it, or more. */
const LAG = 4;

/** What looking at one piece gave: plain data, which may come from elsewhere. */
export interface LookedPiece {
  readonly complete: boolean;
  readonly looked: number;
  /** dB. */
  readonly lowerBoundDb: number;
  readonly best?: { readonly codes: readonly number[]; readonly turned: readonly string[]; readonly lossDb: number };
}

/** Looks at one piece of a search after another; branches that all pieces share are solved once, unless a search learns which of their states ask too much of a part. */
export function pieceLooker({ question, way }: ValuesPlan): (index: number, below: number) => Promise<LookedPiece> {
  const shared: NonNullable<SearchOptions["shared"]> = new Map();
  return async (index, below) => {
    const piece = { index, of: PIECES };
    const one = { ...question, onProgress: undefined };
    const found = way === "enumerated" ? await enumeratedPart(one, piece, below) : await byTrees(piece);
    const { complete, looked, lowerBoundDb } = found;
    if (found.found === undefined) return { complete, looked, lowerBoundDb };
    const { codes, turned, lossDb } = found.found;
    return { complete, looked, lowerBoundDb, best: { codes: [...codes], turned: [...turned], lossDb: found.rank ?? lossDb! } };

    async function byTrees(shard: typeof piece): Promise<Searched> {
      const { frequencies, levelSlackDb } = approximation(one);
      return searchedBelow({ ...one, shard }, frequencies, levelSlackDb, {
        below,
        ...(question.limits.rated === undefined ? { shared } : {}),
      }).catch((error: unknown) => {
        if (error instanceof DividingNetworkError && error.code === "aborted")
          return { found: undefined, complete: false, looked: 0, lowerBoundDb: 0 };
        if (error instanceof DividingNetworkError && error.code === "no-feasible-network")
          return { found: undefined, complete: true, looked: 0, lowerBoundDb: Infinity };
        throw error;
      });
    }
  };
}

/**
 * Looks at all pieces of a search, several at once where there are hands for it. What a piece is told depends on its place alone, never on who was faster: the result is the same for
 * any number of hands.
 */
export async function chosenInPieces(
  { question, way, answer }: ValuesPlan,
  { hands, look }: { readonly hands: number; readonly look: (index: number, below: number) => Promise<LookedPiece> },
): Promise<ChosenValues> {
  const { caller, networks, signal, onProgress } = question;
  const done: (LookedPiece | undefined)[] = Array.from({ length: PIECES }, () => undefined);
  const stopped = () => signal?.aborted === true;
  const least = (before: number) =>
    done.slice(0, Math.max(0, before)).reduce((low, piece) => Math.min(low, piece?.best?.lossDb ?? Infinity), Infinity);
  const running = new Set<Promise<void>>();
  let next = 0;
  const settled = () => done.findIndex((piece) => piece === undefined) >>> 0;
  const begin = (index: number) => {
    const one = look(index, least(index - LAG + 1)).then((piece) => {
      running.delete(one);
      done[index] = piece;
      onProgress?.(
        Object.freeze({ lossDb: least(PIECES), lowerBoundDb: 0, share: done.filter((each) => each !== undefined).length / PIECES }),
      );
    });
    running.add(one);
  };
  while (!stopped()) {
    while (running.size < hands && next < PIECES && next < settled() + LAG) begin(next++);
    if (running.size === 0) break;
    await Promise.race(running);
  }
  await Promise.all(running);
  const all = done.flatMap((piece) => (piece === undefined ? [] : [piece]));
  const complete = all.length === PIECES && all.every((piece) => piece.complete);
  const evaluated = all.reduce((sum, { looked }) => sum + looked, 0);
  const best = all.reduce<LookedPiece["best"]>(
    (low, { best: own }) => (own !== undefined && !(own.lossDb >= (low?.lossDb ?? Infinity)) ? own : low),
    undefined,
  );
  if (best === undefined)
    throw complete
      ? infeasible(question)
      : new DividingNetworkError("aborted", `${caller}: stopped by its signal before a network was found, of ${networks} networks`);
  const found = {
    codes: Int32Array.from(best.codes),
    turned: new Set(best.turned),
    lossDb: way === "searched" ? best.lossDb : undefined,
    lowerBoundDb: all.length === PIECES ? all.reduce((low, piece) => Math.min(low, piece.lowerBoundDb), best.lossDb) : 0,
    complete,
    evaluated,
  };
  if (way !== "approximated") return answer(found);
  const better = await improved(question, found);
  return answer(question.robust === undefined && complete ? await provenByThirds(question, better) : better);
}
