import { DividingNetworkError } from "../errors";
import { writeCodes } from "./branch-table";
import { boundOfGoods } from "./goods";
import { FirstSearch } from "./first-search";
import { breathe, pauseFor, slices } from "./pause";
import { PairSearch, type Incumbent } from "./pair-search";
import { infeasible } from "./infeasible";
import { askedTooMuch, keeps, type Found, type Question, type SearchOptions } from "./question";
import { DB_PER_NEPER, searchProblem } from "./search-problem";

/** Pairs of nodes looked at between two looks at the clock. */
const PAIRS = 256;
/** Starts of the first search by single changes. */
const STARTS = 24;

/** A search is left early that would take more than so many times the pairs it may. */
const HOPE = 4;

/** What a search that may end early came to. */
export interface Searched {
  readonly found: Found | undefined;
  readonly complete: boolean;
  readonly looked: number;
  /** dB: no network that keeps the limits is below, also where none was good enough; Infinity where none keeps them. */
  readonly lowerBoundDb: number;
  /** Of what was found, where it isn't chosen by the search's own sum: smaller is better. */
  readonly rank?: number;
}

/** The best by trees over branch states, at stated frequencies. */
export async function searched(question: Question, frequencies: Float64Array, levelSlackDb: number): Promise<Found> {
  const { found, complete, looked } = await searchedBelow(question, frequencies, levelSlackDb, {}).catch((error: unknown) => {
    // Of a branch without candidates, too, it is said which limit it breaks.
    throw error instanceof DividingNetworkError && error.code === "no-feasible-network" ? infeasible(question) : error;
  });
  if (found !== undefined) return found;
  const { caller, networks } = question;
  throw complete
    ? infeasible(question)
    : new DividingNetworkError(
        "aborted",
        `${caller}: stopped by its signal before a network was found, after ${looked} pairs of branch states, of ${networks} networks`,
      );
}

/** The same, which may end early, and finds nothing where nothing is good enough. */
export async function searchedBelow(
  question: Question,
  frequencies: Float64Array,
  levelSlackDb: number,
  { below = Infinity, mostPairs = Infinity, triedPairs = Infinity, shared, thirds }: SearchOptions,
): Promise<Searched> {
  const { caller, box, goal, choices, turns, limits, signal, onProgress } = question;
  const problem = await searchProblem(
    caller,
    box,
    goal,
    choices,
    limits,
    frequencies,
    levelSlackDb,
    pauseFor(caller, signal),
    question.shard,
    shared,
    thirds,
  );
  const { tables, trees, boundFor } = problem;
  const bounds = turns.sets.map((turned) =>
    question.goods === undefined ? boundFor(turned) : boundOfGoods(boundFor(turned), question.goods, choices, tables, trees),
  );
  const codes = new Int32Array(choices.length);
  let best: { readonly codes: Int32Array; readonly turned: ReadonlySet<string> } | undefined;
  let now = turns.sets[0]!;
  const incumbent: Incumbent = {
    loss: (below / DB_PER_NEPER) ** 2,
    offer(states) {
      tables.forEach((table, index) => writeCodes(table, choices, states[index]!, codes));
      const tooMuch = askedTooMuch(question, codes, now);
      if (tooMuch.length > 0) {
        tables.forEach((table, index) => {
          if (tooMuch.some((part) => table.parts.includes(part))) table.beyond[states[index]!] = 1;
        });
        return false;
      }
      if (!keeps(question, codes, now)) return false;
      best = { codes: codes.slice(), turned: now };
      return true;
    },
  };
  let evaluated = 0;
  const starts = thirds?.starts ?? STARTS;
  if (starts > 0 && tables.every(({ states }) => states > 0)) {
    turns.sets.forEach((turned, index) => {
      now = turned;
      evaluated += new FirstSearch(tables, choices, bounds[index]!, incumbent).from(starts);
    });
  }
  const searches: (PairSearch | undefined)[] = turns.sets.map(() => undefined);
  const states = tables.reduce((product, table) => product * table.states, 1) * turns.sets.length;
  const pairs = () => searches.reduce((sum, search) => sum + (search?.evaluated ?? 0), 0);
  const share = () => (states === 0 ? 1 : Math.min(1, searches.reduce((sum, search) => sum + (search?.settled ?? 0), 0) / states));
  /** Whether it is left: after so many pairs, or sooner where after some it has hardly begun. */
  const tooLong = () => pairs() >= mostPairs || (pairs() >= triedPairs && share() * HOPE * mostPairs < pairs());
  const open = () => Math.min(incumbent.loss, ...searches.map((search) => search?.openBound() ?? 0));
  const tell = () =>
    onProgress?.(
      Object.freeze({
        lossDb: Math.sqrt(incumbent.loss) * DB_PER_NEPER,
        lowerBoundDb: Math.sqrt(open()) * DB_PER_NEPER,
        share: share(),
      }),
    );
  let complete = true;
  const slice = slices();
  for (const [index, turned] of states > 0 ? turns.sets.entries() : []) {
    if (!complete) break;
    now = turned;
    const search = new PairSearch(tables, trees, bounds[index]!, incumbent);
    searches[index] = search;
    while (!search.run(PAIRS)) {
      if (tooLong()) {
        complete = false;
        break;
      }
      if (!slice.over()) continue;
      tell();
      await breathe();
      slice.rested();
      if (signal?.aborted === true) {
        complete = false;
        break;
      }
    }
  }
  tell();
  const looked = evaluated + pairs();
  const lowest = complete ? incumbent.loss : open();
  const lowerBoundDb = Math.sqrt(lowest) * DB_PER_NEPER;
  if (best === undefined) return { found: undefined, complete, looked, lowerBoundDb };
  return {
    found: {
      ...best,
      lossDb: Math.sqrt(incumbent.loss) * DB_PER_NEPER,
      lowerBoundDb,
      complete,
      evaluated: looked,
    },
    complete,
    looked,
    lowerBoundDb,
  };
}
