import { DividingNetworkError } from "../errors";
import { lossOf } from "../assessment";
import { anchoredGrid, lossEvenIfSilent } from "../assessment/internal";
import { descend } from "./local-search";
import { breathe, slices } from "./pause";
import { infeasible } from "./infeasible";
import { attempt, built, keeps, type Found, type Question } from "./question";
import type { Shard } from "./shard";
import { searched, type Searched } from "./search";

/** Points per octave on which a loss of third-octave powers is searched. */
const SEARCH_PER_OCTAVE = 12;

/**
 * The true loss of a combination that keeps the limits, or by what it is chosen instead; Infinity for any other. What as drawn is worse than `most` dB is
 * no longer looked at.
 */
export function trueLoss(question: Question, codes: ArrayLike<number>, turned: ReadonlySet<string>, most = Infinity): number {
  if (!keeps(question, codes, turned)) return Infinity;
  const { goal, robust } = question;
  const own = built(question, codes, turned);
  const lossDb = attempt(() => lossOf(own, goal).lossDb, Infinity);
  if (!Number.isFinite(lossDb) || lossDb > most) return Infinity;
  return robust === undefined ? lossDb : robust.rank(robust.of(own, goal));
}

/** The same where no more is asked than whether it is below `enough` dB: else any number that isn't. The limits cost more to look at than the loss, and drawing from it costs most. */
export function trueLossBelow(
  question: Question,
  codes: ArrayLike<number>,
  turned: ReadonlySet<string>,
  enough: number,
  most = Infinity,
): number {
  const { goal, robust } = question;
  if (robust !== undefined)
    return attempt(() => robust.canBeBelow(built(question, codes, turned), goal, enough, most), false)
      ? trueLoss(question, codes, turned, most)
      : Infinity;
  const lossDb = attempt(() => lossOf(built(question, codes, turned), goal).lossDb, Infinity);
  if (!Number.isFinite(lossDb)) return Infinity;
  return lossDb < enough && !keeps(question, codes, turned) ? Infinity : lossDb;
}

/** Every network by itself; it is said where none keeps the limits. */
export async function enumerated(question: Question): Promise<Found> {
  const { caller, networks } = question;
  const { found, complete, looked } = await enumeratedPart(question, { index: 0, of: 1 });
  if (found !== undefined) return found;
  throw complete
    ? infeasible(question)
    : new DividingNetworkError(
        "aborted",
        `${caller}: stopped by its signal before a network was found, after ${looked} of ${networks} networks`,
      );
}

/** The best of one of several parts of all networks, in their order, where one is below so much: each by itself. */
export async function enumeratedPart(question: Question, { index: part, of }: Shard, below = Infinity): Promise<Searched> {
  const { choices, turns, networks, signal, onProgress } = question;
  const each = networks / 2 ** turns.either;
  const [from, to] = [Math.floor((part * networks) / of), Math.floor(((part + 1) * networks) / of)];
  const codes = new Int32Array(choices.length);
  const slice = slices();
  let [best, evaluated] = [{ codes: codes.slice(), turned: turns.sets[0]!, loss: below }, 0];
  let complete = true;
  walk: for (const [turn, turned] of turns.sets.entries()) {
    for (let number = Math.max(0, from - turn * each); number < Math.min(each, to - turn * each); number++) {
      let rest = number;
      choices.forEach(({ options }, index) => {
        codes[index] = rest % options.length;
        rest = Math.floor(rest / options.length);
      });
      const loss = trueLossBelow(question, codes, turned, best.loss);
      evaluated++;
      if (loss < best.loss) best = { codes: codes.slice(), turned, loss };
      if (!slice.over()) continue;
      onProgress?.(Object.freeze({ lossDb: best.loss, lowerBoundDb: 0, share: evaluated / (to - from) }));
      await breathe();
      slice.rested();
      if (signal?.aborted === true) {
        complete = false;
        break walk;
      }
    }
  }
  if (!(best.loss < below)) return { found: undefined, complete, looked: evaluated, lowerBoundDb: complete ? Infinity : 0 };
  const found = { codes: best.codes, turned: best.turned, lossDb: undefined, lowerBoundDb: 0, complete, evaluated };
  return { found, complete, looked: evaluated, lowerBoundDb: 0, rank: best.loss };
}

/** A search by plain levels, on a fixed grid unless frequencies are stated, then single changes by the true loss or by what networks are chosen instead. No proof. */
export async function approximated(question: Question): Promise<Found> {
  const { frequencies, levelSlackDb } = approximation(question);
  return improved(question, await searched(question, frequencies, levelSlackDb));
}

/** Hz and dB: by which plain levels a space is searched that is too large for its true loss. */
export function approximation(question: Question): { readonly frequencies: Float64Array; readonly levelSlackDb: number } {
  const { frequencies } = question.goal;
  return frequencies === undefined ? { frequencies: searchGrid(question), levelSlackDb: 1 } : { frequencies, levelSlackDb: 0 };
}

/** From what was found by plain levels on, the best that single changes lead to. */
export async function improved(question: Question, found: Found): Promise<Found> {
  const { choices, turns } = question;
  let best = { codes: found.codes, turned: found.turned, loss: Infinity };
  let looked = 0;
  for (const turned of turns.sets) {
    const memo = new Map<string, number>();
    let least = Infinity;
    const value = (codes: Int32Array): number => {
      if (question.signal?.aborted === true && best.loss < Infinity) return Infinity;
      const key = codes.join(",");
      const known = memo.get(key);
      if (known !== undefined) return known;
      looked++;
      const loss = trueLossBelow(question, codes, turned, least);
      least = Math.min(least, loss);
      memo.set(key, loss);
      return loss;
    };
    descend(
      choices.map(({ options }) => options.length),
      value,
      [[...found.codes]],
      (codes, loss) => {
        if (loss < best.loss) best = { codes: codes.slice(), turned, loss };
      },
    );
    await breathe();
  }
  return {
    codes: best.codes,
    turned: best.turned,
    lossDb: undefined,
    lowerBoundDb: 0,
    complete: false,
    evaluated: found.evaluated + looked,
  };
}

/** Hz: plain levels need one grid for all places: what every one of them has. */
function searchGrid({ caller, box, goal }: Question): Float64Array {
  const bands = lossEvenIfSilent(box, goal).places.map(({ band }) => band);
  const grid = anchoredGrid(
    { from: Math.max(...bands.map(({ from }) => from)), to: Math.min(...bands.map(({ to }) => to)) },
    SEARCH_PER_OCTAVE,
  );
  if (grid.length < 3)
    throw new DividingNetworkError(
      "band-too-narrow",
      `${caller}: the goal's places share too little of its band to be searched together`,
      "Leave out the places that were measured over the least, or offer at most 2000 networks",
    );
  return grid;
}
