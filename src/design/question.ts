import { DividingNetworkError } from "../errors";
import type { Goal } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import { chosen, type Choice } from "./choices";
import { canBeHad, type Goods } from "./goods";
import type { Limits } from "./limits";
import { missesOf, ratingMisses } from "./misses";
import type { Robust } from "./robust";
import type { PlaceBand } from "./band-bound";
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
  /** By what networks are chosen instead of their loss as drawn. */
  readonly robust?: Robust | undefined;
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
  /** Pairs after which it also ends where, by what it has settled, it would take several times as many as it may. */
  readonly triedPairs?: number;
  /** Branches solved and put into trees before, by their parts and how many candidates each has: of the same loudspeaker, limits and candidates. */
  readonly shared?: Map<string, { readonly table: BranchTable; readonly tree: StateTree }>;
  /** Where the loss is of third-octave powers: each place's band, the loss of one network (dB), and from how many starts single changes are to find a good one first. */
  readonly thirds?:
    | undefined
    | {
        readonly starts: number;
        readonly bands: readonly PlaceBand[];
        readonly lossDb: (codes: Int32Array, turned: ReadonlySet<string>) => number;
      };
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
  return attempt(() => missesOf(built(question, codes, turned), question.goal, question.limits, 1).length === 0, false);
}

/** The parts that a network asks too much of, where each branch settles that by itself: without a source's impedance. */
export function askedTooMuch(question: Question, codes: ArrayLike<number>, turned: ReadonlySet<string>): readonly string[] {
  const { box, goal, limits } = question;
  if (limits.rated === undefined || box.sourceImpedance !== undefined) return [];
  return attempt(() => ratingMisses(built(question, codes, turned), goal, limits).map(({ part }) => part), []);
}

/** Errors of a combination, not of what is asked: it makes no network, can't be solved, or is silent. */
const OF_ONE: readonly string[] = ["invalid-network", "no-solution", "nothing-heard"];

/** What a combination gives, or another value where it makes no network that is heard. */
export function attempt<V>(run: () => V, otherwise: V): V {
  try {
    return run();
  } catch (error) {
    if (error instanceof DividingNetworkError && OF_ONE.includes(error.code)) return otherwise;
    throw error;
  }
}
