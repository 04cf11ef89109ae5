import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";

/** One of several parts of a search, each for a machine or a core of its own. */
export interface Shard {
  /** Which one, from 0; dimensionless. */
  readonly index: number;
  /** How many there are, dimensionless. */
  readonly of: number;
}

/** Of which part of a search an answer is, and of which search. */
export interface AnsweredShard extends Shard {
  /** The same for all shards of one search: a digest of loudspeaker, goal, candidates and polarities. */
  readonly question?: string | undefined;
}

/** Most shards of one search. */
const MOST = 100_000;

/** A shard as it was asked for. */
export function checkShard(caller: string, shard: unknown, frequenciesStated: boolean): Shard | undefined {
  if (shard === undefined) return undefined;
  const { index, of } = checkOptions(`${caller}: shard`, shard as Shard, ["index", "of"]);
  checkNumber(caller, "shard.of", of, { integer: true, min: 1, max: MOST });
  checkNumber(caller, "shard.index", index, { integer: true, min: 0, max: of - 1 });
  if (!frequenciesStated)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "shard" must go with a goal that states its frequencies: without them a large space is searched by single changes, which can't be divided`,
      "goal({ frequencies: … })",
    );
  return Object.freeze({ index, of });
}
