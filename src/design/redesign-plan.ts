import { DividingNetworkError } from "../errors";
import { lossOf, type Goal } from "../assessment";
import { anchoredGrid, goalOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { hertz } from "../quantity/internal";
import type { Choice } from "./choices";
import { combinationFor, combinationsOf, variations, type Combination, type Sketch, type Tried } from "./combinations";
import { priceOf, type Goods } from "./goods";
import { floorAt, type DriverFloor } from "./driver-floor";
import { heldBackGoal } from "./held-back";
import { infeasible } from "./infeasible";
import { lackingKinds } from "./lacking-kinds";
import { limitsOf } from "./limits";
import { attempt, built, type Question, type SearchOptions } from "./question";
import { placeBands } from "./place-bands";
import { reached, withLoad } from "./redesign-goal";
import type { RedesignOptions, RedesignProgress } from "./redesign-options";
import { redesignRequest, type PlainOptions } from "./redesign-request";
import { redesigned, type Designed } from "./redesigned";
import { followed, hardened, polished, refined, type Best } from "./refine";
import { renamed } from "./renamed";
import { robustOf } from "./robust";
import type { Robustness } from "./robust-data";
import { searchedBelow } from "./search";
import type { CoilLaw } from "./series-parts";
import type { Drawing } from "./drawing-data";
import { namesFor } from "./drawing-names";
import { groupsOf, type Group } from "./driver-groups";
import type { Turns } from "./turns";

/** What looking at one topology gave: plain data, which may come from elsewhere. */
export interface Looked {
  /** Whether its search went to its end. */
  readonly complete: boolean;
  /** dB: no network that was looked through is below; Infinity where none keeps the limits. */
  readonly boundDb: number;
  /** How many networks were looked through, 0 where a stock holds nothing of some kind. */
  readonly networks: number;
  /** Whether candidates within the ranges were left out. */
  readonly thinned: boolean;
  /** The best network of it, where there is one below what was asked for. */
  readonly best?: {
    /** Indices of candidates: of all, then near the ones chosen, as often as it moved on. */
    readonly path: readonly (readonly number[])[];
    readonly turned: readonly string[];
    /** By what topologies are held against each other while they are looked at: dB by the search's own sum, or the rank of the drawn loudspeakers. */
    readonly nearDb: number;
    /** dB as `lossOf` gives it; Infinity where the true loss finds none that keeps the limits. */
    readonly lossDb: number;
    /** What drawn loudspeakers came to, where they decide. */
    readonly robust?: Robustness;
  };
}

/** A network that was found, before it is looked at closely. */
export interface Member {
  readonly parts: number;
  readonly lossDb: number;
  /** By what the front is made: the loss, or the rank of the drawn loudspeakers. */
  readonly rank: number;
  /** Infinity where the price of a part isn't known, or there is no stock. */
  readonly price: number;
  /** As it is handed over. */
  readonly whole: () => Designed;
}

/** All that a redesign needs to know before it begins. */
export interface RedesignPlan {
  readonly caller: string;
  /** What was asked for, checked: data alone, but for the law of coils. */
  readonly order: {
    readonly loudspeaker: Loudspeaker;
    readonly options: PlainOptions;
    readonly law: CoilLaw | undefined;
  };
  /** Whether the goal states frequencies, so that what is searched is the loss itself. */
  readonly exact: boolean;
  /** By what else than the loss as drawn networks are chosen. */
  readonly chosenBy: "loss" | "yield" | undefined;
  /** The usual topologies, from few parts to many. */
  readonly combinations: readonly Combination[];
  /** Topologies near the best of those tried. */
  readonly variations: (tried: readonly Tried[], before: readonly Combination[]) => readonly Combination[];
  /** Searches one topology for what is better than so many dB. */
  readonly look: (sketch: Sketch, below: number) => Promise<Looked>;
  readonly member: (combination: Combination, looked: Looked) => Member | undefined;
  /** What is said where no topology has a network that keeps the limits. */
  readonly nothing: () => DividingNetworkError;
  /** Where the drivers limit, as far as that is known. */
  readonly floor: () => DriverFloor | undefined;
  readonly stopped: () => boolean;
  readonly onProgress: ((progress: RedesignProgress) => void) | undefined;
}

/** Points per octave on which networks are searched where the goal states no frequencies. */
const PER_OCTAVE = 6;
/** What as drawn is worse than so many times the best loss to be expected isn't drawn from: the second order may be worth as much. */
const NEAR = 1.08;
/** Starts of single changes where the loss of a network takes long. */
const FEW_STARTS = 6;
/** Pairs of sets of states that one drawing is worth. */
const MOST_PAIRS = 100_000;
/** Pairs after which a drawing is left that would take several times as many. */
const TRIED_PAIRS = 25_000;

/** Checks what was asked for, and gets everything ready that all topologies share. */
export function redesignPlan(caller: string, loudspeaker: Loudspeaker, options: RedesignOptions): RedesignPlan {
  const box = checkLoudspeaker(caller, loudspeaker);
  const {
    goal,
    supply,
    maxParts,
    ratedImpedance,
    robust: sought,
    prove,
    topologies,
    heldBack: others,
    signal,
    onProgress,
    plain,
    law,
  } = redesignRequest(caller, options);
  const groups = groupsOf(caller, box);
  const loaded = withLoad(groups, goal, ratedImpedance);
  const search = goal.frequencies !== undefined || prove ? loaded : goalOf({ ...loaded, frequencies: searchedAt(caller, box, goal) });
  const [limits, trueLimits] = [limitsOf(caller, box, search, ratedImpedance), limitsOf(caller, box, loaded, ratedImpedance)];
  const combinations = combinationsOf(box, groups, maxParts, topologies);
  if (combinations.length === 0 && topologies !== undefined && combinationsOf(box, groups, maxParts).length > 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "topologies" must leave at least one drawing of at most ${maxParts} parts, got none`,
      "Ask for more orders (a midrange has 1 or 2), leave less out, or allow more parts",
    );
  if (combinations.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "maxParts" must allow at least one part on each side of every handover, got ${maxParts}`,
      `Allow ${2 * (groups.length - 1)} or more`,
    );
  const robust = robustOf(caller, box, loaded, sought, ratedImpedance, "other parts");
  // Whether it was measured there is known before anything is searched.
  const heldBack = heldBackGoal(caller, box, goal, others);
  const turns = turnsFor(groups);
  const ask = (drawing: Drawing, choices: readonly Choice[]): Question => ({
    caller,
    box: { ...box, network: drawing.network },
    goal: search,
    choices,
    turns,
    limits,
    signal,
    onProgress: undefined,
    shard: undefined,
    goods: supply.goods,
    robust,
    networks: choices.reduce((product, { options: own }) => product * own.length, 1) * turns.sets.length,
  });
  const heard = prove ? placeBands(box, loaded) : undefined;
  const thirdsFor = (question: Question): SearchOptions["thirds"] =>
    heard === undefined
      ? undefined
      : {
          starts: FEW_STARTS,
          bands: heard.bands,
          lossDb: (codes, turned) => attempt(() => lossOf(built(question, codes, turned), loaded).lossDb, Infinity),
        };
  const searchFor = async (question: Question, options: SearchOptions) =>
    searchedBelow(question, heard?.frequencies ?? search.frequencies!, 0, { ...options, thirds: thirdsFor(question) }).catch(
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

  const shared: SearchOptions["shared"] = new Map();
  const groundsOf = (sketch: Sketch) => {
    const drawing = combinationFor(box, groups, sketch).draw();
    // Of some kind a stock may hold nothing.
    return { drawing, choices: supply.choicesFor(drawing.slots) };
  };

  return Object.freeze({
    caller,
    order: { loudspeaker: box, options: plain, law },
    exact: goal.frequencies !== undefined || prove,
    chosenBy: robust?.by,
    combinations,
    variations: (tried: readonly Tried[], before: readonly Combination[]) => variations(box, groups, tried, before, maxParts, topologies),
    async look(sketch: Sketch, least: number): Promise<Looked> {
      // To first order a loss to be expected is no less than the loss as drawn; of what as drawn is beyond the largest loss few are good.
      const below = robust?.by === "yield" ? robust.largestLossDb! : least;
      const { drawing, choices } = groundsOf(sketch);
      if (choices === undefined) return { complete: true, boundDb: Infinity, networks: 0, thinned: false };
      const question = ask(drawing, choices);
      const { found, complete, lowerBoundDb } = await searchFor(question, {
        below,
        mostPairs: MOST_PAIRS,
        triedPairs: TRIED_PAIRS,
        shared,
      });
      const looked = { complete, boundDb: lowerBoundDb, networks: question.networks, thinned: supply.isThinned(drawing.slots, choices) };
      if (found === undefined) return looked;
      const near = await refined(drawing, question, found, supply, async (around, nearer) =>
        searchFor(ask(drawing, around), { below: nearer, mostPairs: MOST_PAIRS }),
      );
      const judged: Question = { ...question, goal: loaded, limits: trueLimits };
      const best =
        robust !== undefined
          ? hardened(judged, drawing, near, supply, (rank) => (robust.by === "yield" ? robust.largestLossDb! : rank) * NEAR)
          : goal.frequencies === undefined && !prove
            ? polished(judged, drawing, near, supply)
            : near;
      const own = { path: best.path.map((codes) => [...codes]), turned: [...best.turned] };
      if (best.lossDb === Infinity) return { ...looked, best: { ...own, nearDb: near.lossDb, lossDb: Infinity } };
      const made = built({ ...question, choices: best.choices }, best.codes, best.turned);
      const { lossDb } = lossOf(made, goal);
      return {
        ...looked,
        best:
          robust === undefined
            ? { ...own, nearDb: near.lossDb, lossDb }
            : { ...own, nearDb: best.lossDb, lossDb, robust: robust.of(made, loaded) },
      };
    },
    member(combination: Combination, { best }: Looked): Member | undefined {
      if (best === undefined || best.lossDb === Infinity) return undefined;
      const { drawing, choices } = groundsOf(combination);
      const chosen = followed(drawing, choices!, best, supply);
      return {
        parts: combination.parts,
        lossDb: best.lossDb,
        rank: robust === undefined ? best.lossDb : robust.rank(best.robust!),
        price: supply.goods === undefined ? Infinity : pricedAt(chosen, supply.goods),
        whole: () =>
          redesigned(box, goal, drawing, chosen, groups, combination.parts, combination.says, supply.goods, best.robust, heldBack),
      };
    },
    nothing(): DividingNetworkError {
      for (const combination of combinations) {
        const { drawing, choices } = groundsOf(combination);
        if (choices === undefined) continue;
        const names = namesFor(drawing);
        const own = { ...drawing, network: renamed(drawing.network, names) };
        const ownChoices = choices.map(({ name, options: candidates }) => ({ name: names.get(name)!, options: candidates }));
        return infeasible(ask(own, ownChoices), " of the simplest topology (nor of any other)");
      }
      return lackingKinds(
        caller,
        combinations.map((combination) => supply.lacks(combination.draw().slots)),
        supply.goods?.units ?? 1,
      );
    },
    floor: () => (goal.frequencies === undefined ? undefined : floorAt(caller, box, goal, goal.frequencies)),
    stopped: () => signal?.aborted === true,
    onProgress,
  });
}

/** Hz: where networks are compared first, where the goal states no frequencies. */
function searchedAt(caller: string, box: Loudspeaker, goal: Goal): Float64Array {
  const { from, to } = reached(box, goal);
  const grid = anchoredGrid({ from, to }, PER_OCTAVE);
  if (grid.length > 2) return grid;
  throw new DividingNetworkError(
    "outside-band",
    `${caller}: "goal.band", ${hertz(goal.band.from)} to ${hertz(goal.band.to)}, must share half an octave with what every driver was measured over`,
    "State a band within the measurements, or measure a wider one",
  );
}

/** What the chosen candidates cost together. */
function pricedAt({ choices, codes }: Best, { pieces }: Goods): number {
  return choices.reduce((sum, { options }, index) => sum + priceOf(pieces.get(options[codes[index]!]!)), 0);
}

/** Each group above the lowest as drawn or turned round, all its drivers at once: what sounds the same upside down is looked at once. */
function turnsFor(groups: readonly Group[]): Turns {
  const moving = groups.slice(1);
  const sets = Array.from(
    { length: 2 ** moving.length },
    (_, bits) => new Set(moving.flatMap(({ parts }, index) => ((bits >> index) & 1 ? parts : []))),
  );
  return { named: moving.flatMap(({ parts }) => parts), either: moving.length, sets };
}
