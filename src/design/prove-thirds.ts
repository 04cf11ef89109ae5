import { DividingNetworkError } from "../errors";
import { lossOf } from "../assessment";
import { placeBands } from "./place-bands";
import { attempt, built, type Found, type Question } from "./question";
import { searchedBelow } from "./search";

/** Pairs of sets of states looked at for a proof, after which it is left with its bound. */
const MOST_PAIRS = 1_000_000;
/** Relative: what isn't better by more is no better. */
const ROUNDING = 1e-9;

/** Looks for anything better than what was found, where the loss is of third-octave powers: bounds of them rule out the rest, or give a better one. Where the tables would be too large nothing is known. */
export async function provenByThirds(question: Question, found: Found): Promise<Found> {
  const { box, goal } = question;
  const lossDb = (codes: Int32Array, turned: ReadonlySet<string>) =>
    attempt(() => lossOf(built(question, codes, turned), goal).lossDb, Infinity);
  const now = lossDb(found.codes, found.turned);
  const { frequencies, bands } = placeBands(box, goal);
  try {
    const {
      found: better,
      complete,
      looked,
      lowerBoundDb,
    } = await searchedBelow(question, frequencies, 0, {
      below: now * (1 - ROUNDING),
      mostPairs: MOST_PAIRS,
      thirds: { starts: 0, bands, lossDb },
    });
    return {
      ...(better ?? found),
      lossDb: undefined,
      lowerBoundDb: Math.min(now, lowerBoundDb),
      complete,
      evaluated: found.evaluated + looked,
    };
  } catch (error) {
    if (error instanceof DividingNetworkError && (error.code === "too-many-states" || error.code === "aborted")) return found;
    throw error;
  }
}
