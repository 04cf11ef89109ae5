import { DividingNetworkError } from "../errors";
import { lossOf } from "../assessment";
import type { Sketch } from "./combinations";
import type { Choice } from "./choices";
import type { Limits } from "./limits";
import { placeBands } from "./place-bands";
import { attempt, built, type Question, type SearchOptions } from "./question";
import type { RedesignGrounds } from "./redesign-grounds";
import type { Looked } from "./redesign-plan-data";
import { hardened, polished, refined, type Best } from "./refine";
import { searchedBelow, type Searched } from "./search";

/** What as drawn is worse than so many times the best loss to be expected isn't drawn from: the second order may be worth as much. */
const NEAR = 1.08;
/** Starts of single changes where the loss of a network takes long. */
const FEW_STARTS = 6;
/** Pairs of sets of states that one drawing is worth. */
const MOST_PAIRS = 100_000;
/** Pairs after which a drawing is left that would take several times as many. */
const TRIED_PAIRS = 25_000;

/** Searches one topology after another for what is better than so many dB; `prove`: by the loss of third-octave powers itself. */
export function topologyLook(grounds: RedesignGrounds, prove: boolean): (sketch: Sketch, below: number) => Promise<Looked> {
  const { goal, judged, supply, robust, ask, drawn } = grounds;
  const search = topologySearch(grounds, prove);
  // Branches that were solved before.
  const shared: SearchOptions["shared"] = new Map();
  return async (sketch, least) => {
    // To first order a loss to be expected is no less than the loss as drawn; of what as drawn is beyond the largest loss few are good.
    const below = robust?.by === "yield" ? robust.largestLossDb! : least;
    const { drawing, choices } = drawn(sketch);
    if (choices === undefined) return { complete: true, boundDb: Infinity, networks: 0, thinned: false };
    const { leastLevelDb = -Infinity } = sketch;
    const raised = (limits: Limits): Limits => ({ ...limits, leastLevelDb: Math.max(limits.leastLevelDb, leastLevelDb) });
    const asked = (own: readonly Choice[]): Question => {
      const plain = ask(drawing, own);
      return { ...plain, limits: raised(plain.limits) };
    };
    const question = asked(choices);
    const { found, complete, lowerBoundDb } = await search(question, { below, mostPairs: MOST_PAIRS, triedPairs: TRIED_PAIRS, shared });
    const looked = { complete, boundDb: lowerBoundDb, networks: question.networks, thinned: supply.isThinned(drawing.slots, choices) };
    if (found === undefined) return looked;
    const near = await refined(drawing, question, found, supply, async (around, nearer) =>
      search(asked(around), { below: nearer, mostPairs: MOST_PAIRS }),
    );
    const closer: Question = { ...question, goal: judged, limits: raised(grounds.limits) };
    const best =
      robust !== undefined
        ? hardened(closer, drawing, near, supply, (rank) => (robust.by === "yield" ? robust.largestLossDb! : rank) * NEAR)
        : goal.frequencies === undefined && !prove
          ? polished(closer, drawing, near, supply)
          : near;
    return { ...looked, best: told(grounds, question, best, near.lossDb) };
  };
}

/** The best network of a topology as plain data, with its loss as it was asked for. */
function told({ goal, judged, robust }: RedesignGrounds, question: Question, best: Best, nearDb: number): NonNullable<Looked["best"]> {
  const own = { path: best.path.map((codes) => [...codes]), turned: [...best.turned] };
  if (best.lossDb === Infinity) return { ...own, nearDb, lossDb: Infinity };
  const made = built({ ...question, choices: best.choices }, best.codes, best.turned);
  const { lossDb } = lossOf(made, goal);
  return robust === undefined ? { ...own, nearDb, lossDb } : { ...own, nearDb: best.lossDb, lossDb, robust: robust.of(made, judged) };
}

/** The search of one question, which finds nothing where no network keeps the limits, or where its signal ends it. */
function topologySearch({ box, judged, searched }: RedesignGrounds, prove: boolean) {
  const heard = prove ? placeBands(box, judged) : undefined;
  const thirdsFor = (question: Question): SearchOptions["thirds"] =>
    heard === undefined
      ? undefined
      : {
          starts: FEW_STARTS,
          bands: heard.bands,
          lossDb: (codes, turned) => attempt(() => lossOf(built(question, codes, turned), judged).lossDb, Infinity),
        };
  return (question: Question, options: SearchOptions): Promise<Searched> =>
    searchedBelow(question, heard?.frequencies ?? searched.frequencies!, 0, { ...options, thirds: thirdsFor(question) }).catch(
      (error: unknown) => {
        // Its signal ends a search while it solves its branches, too.
        if (error instanceof DividingNetworkError && error.code === "aborted")
          return { found: undefined, complete: false, looked: 0, lowerBoundDb: 0 };
        // A branch without any state that keeps the limits makes no network.
        if (error instanceof DividingNetworkError && error.code === "no-feasible-network")
          return { found: undefined, complete: true, looked: 0, lowerBoundDb: Infinity };
        throw error;
      },
    );
}
