import { DividingNetworkError } from "../errors";
import type { Goal } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { chosen, type Choice } from "./choices";
import { canBeHad, type Goods } from "./goods";
import { missesOf, type Limits, type Miss } from "./limits";
import { descend, drawnStarts } from "./local-search";
import type { BranchTable } from "./branch-table";
import type { Shard } from "./shard";
import type { StateTree } from "./state-tree";
import type { Turns } from "./turns";

/** Which networks are looked through, for what. */
export interface Question {
  /** The public function's name, for its errors. */
  readonly caller: string;
  readonly box: Loudspeaker;
  readonly goal: Goal;
  readonly choices: readonly Choice[];
  readonly turns: Turns;
  readonly limits: Limits;
  readonly networks: number;
  readonly shard: Shard | undefined;
  /** What can be had of candidates that come from a stock. */
  readonly goods?: Goods | undefined;
  readonly signal: { readonly aborted: boolean } | undefined;
  readonly onProgress: ((progress: ChooseValuesProgress) => void) | undefined;
}

/** How far a search is. */
export interface ChooseValuesProgress {
  /** dB of the best network so far; Infinity before one was found. */
  readonly lossDb: number;
  /** dB: no network is better than this. */
  readonly lowerBoundDb: number;
  /** Part of the networks that are settled, 0 to 1, dimensionless. */
  readonly share: number;
}

/** What one search hands on to the next, and how far it may go. */
export interface SearchOptions {
  /** dB: only what is better counts; none is told where nothing is. */
  readonly below?: number;
  /** Pairs of nodes looked at, after which the search ends incomplete. */
  readonly mostPairs?: number;
  /** Branches solved and put into trees before, by their parts and how many candidates each has: of the same loudspeaker, limits and candidates. */
  readonly shared?: Map<string, { readonly table: BranchTable; readonly tree: StateTree }>;
}

/** The best network of a question, and what was done to find it. */
export interface Found {
  readonly codes: Int32Array;
  readonly turned: ReadonlySet<string>;
  /** dB by the search's own sum, where it has one. */
  readonly lossDb: number | undefined;
  readonly lowerBoundDb: number;
  readonly complete: boolean;
  readonly evaluated: number;
}

/** The loudspeaker with the parts of some codes. */
export function built({ box, choices }: Question, codes: ArrayLike<number>, turned: ReadonlySet<string>): Loudspeaker {
  return { ...box, network: chosen(box.network, choices, codes, turned) };
}

/** Whether a network keeps every limit, by its own solution; one that can't be solved keeps none. */
export function keeps(question: Question, codes: ArrayLike<number>, turned: ReadonlySet<string>): boolean {
  if (question.goods !== undefined && !canBeHad(question.goods, question.choices, codes)) return false;
  return attempt(() => missesOf(built(question, codes, turned), question.goal, question.limits).length === 0, false);
}

/** What a combination gives, or another value where it makes no network. */
export function attempt<V>(run: () => V, otherwise: V): V {
  try {
    return run();
  } catch (error) {
    if (error instanceof DividingNetworkError && (error.code === "invalid-network" || error.code === "no-solution")) return otherwise;
    throw error;
  }
}

/** What of a combination can't be had, as a limit that it misses. */
function missing({ goods, choices }: Question, codes: Int32Array): readonly Miss[] {
  return goods === undefined || canBeHad(goods, choices, codes) ? [] : [{ limit: "stock", by: 1, says: `parts are taken more often than they are there${goods.largestPrice === Infinity ? "" : `, or all together cost more than ${goods.largestPrice}`}` }];
}

/** The error of a space without a network that keeps the limits: which ones the nearest breaks, and by how much. */
export function infeasible(question: Question): DividingNetworkError {
  const { caller, choices, turns, goal, limits, shard } = question;
  if (shard !== undefined) return new DividingNetworkError("no-feasible-network", `${caller}: no network of shard ${shard.index} of ${shard.of} keeps the goal's limits`, "Give mergeShards undefined in its place");
  const counts = choices.map(({ options }) => options.length);
  let nearest: { readonly by: number; readonly says: readonly string[] } | undefined;
  const misses = (codes: Int32Array, turned: ReadonlySet<string>) => attempt(() => [...missesOf(built(question, codes, turned), goal, limits), ...missing(question, codes)], undefined);
  for (const turned of turns.sets) {
    const value = (codes: Int32Array) => misses(codes, turned)?.reduce((sum, { by }) => sum + by, 0) ?? Infinity;
    descend(counts, value, drawnStarts(counts, 2), (codes, by) => {
      if (by < (nearest?.by ?? Infinity)) nearest = { by, says: misses(codes, turned)!.map(({ limit, says }) => `${limit}: ${says}`) };
    });
  }
  const why = nearest === undefined ? "no combination of candidates makes a network" : nearest.says.length === 0 ? "those that keep them are silent at some place or frequency" : `of the nearest found, ${nearest.says.join("; ")}`;
  return new DividingNetworkError("no-feasible-network", `${caller}: none of the ${question.networks} networks keeps the goal's limits; ${why}`, "Give other candidates, or state what may be missed: goal({ limits: \"stated\", … })");
}
