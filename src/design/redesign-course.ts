import { DividingNetworkError } from "../errors";
import { shown } from "../errors/internal";
import type { Combination, Sketch, Tried } from "./combinations";
import { frontOf, louderOnes, type Placed } from "./louder";
import { breathe } from "./pause";
import { proofOf } from "./proof";
import type { Redesign } from "./redesign-data";
import type { Looked, RedesignPlan } from "./redesign-plan";
import { keyOf, partCount } from "./topologies";
import { redesignViews } from "./views";

/** How often the best drawings are varied. */
const ROUNDS = 2;
/** A drawing is looked at further when it may come within this much of the best with no more parts: its values are then refined, and its loss judged by third octaves. */
const NEAR = 1.08;
/** A topology knows the losses of those that lie so many before it, or more: the last of them may still be looked at elsewhere. At the beginning, where they are cheap and little is known, fewer. */
const lagOf = (index: number): number => Math.min(8, 2 + (index >> 2));

/** Who looks at topologies. */
export interface Hands {
  /** How many can be looked at at once, dimensionless. */
  readonly hands: number;
  /** `hand`: which of them, from 0. */
  readonly look: (sketch: Sketch, below: number, hand: number) => Promise<Looked>;
}

/**
 * Looks at all topologies of a plan, several at once where there are hands for it. What a topology is told of the others depends on its place alone, never on who was faster: the
 * result is the same for any number of hands.
 */
export async function carriedOut(plan: RedesignPlan, { hands, look }: Hands): Promise<Redesign> {
  const { caller, exact, chosenBy, stopped, onProgress } = plan;
  const combinations: Combination[] = [...plan.combinations];
  const looked: (Looked | undefined)[] = [];
  const running = new Set<Promise<void>>();
  /** Least loss with no more parts of all topologies that a place is told of. */
  const leastFor = (index: number): number => {
    let least = Infinity;
    for (let before = 0; before <= index - lagOf(index); before++)
      if (combinations[before]!.parts <= combinations[index]!.parts) least = Math.min(least, looked[before]!.best?.nearDb ?? Infinity);
    return least;
  };
  let [settled, done, unfinished, rounds, nearest] = [0, 0, 0, 0, Infinity];
  const begun = new Set<number>();
  const idle = Array.from({ length: hands }, (_, hand) => hand);
  const known = idle.map(() => new Set<string>());
  const settle = () => {
    while (looked[settled] !== undefined) settled++;
    // Variations of the best follow the usual drawings.
    if (settled === combinations.length && rounds++ < ROUNDS) {
      const tried = combinations.flatMap((combination, index): Tried[] => {
        const best = looked[index]!.best;
        return best === undefined ? [] : [{ ...combination, lossDb: best.nearDb }];
      });
      combinations.push(...plan.variations(tried, combinations));
    }
  };
  /** What a hand needn't solve once more for a topology, by how many states a branch may have. */
  const saved = (hand: number, index: number) =>
    hands === 1 ? 0 : combinations[index]!.ways.reduce((sum, way) => sum + (known[hand]!.has(keyOf(way)) ? 6 ** partCount(way) : 0), 0);
  /** The topology for a hand, of those that are told no more of what isn't settled; undefined where there is none. Which one changes nothing but the time. */
  const nextFor = (hand: number): number | undefined => {
    let best: number | undefined;
    for (let index = settled; index < combinations.length && index < settled + lagOf(index); index++)
      if (!begun.has(index) && (best === undefined || saved(hand, index) > saved(hand, best))) best = index;
    return best;
  };
  const begin = (index: number, hand: number) => {
    begun.add(index);
    combinations[index]!.ways.forEach((way) => known[hand]!.add(keyOf(way)));
    const one = look(combinations[index]!, NEAR * leastFor(index), hand).then((found) => {
      running.delete(one);
      idle.push(hand);
      looked[index] = found;
      if (stopped()) return;
      done++;
      if (!found.complete) unfinished++;
      nearest = Math.min(nearest, found.best?.lossDb ?? Infinity);
      settle();
      onProgress?.(Object.freeze({ done, of: combinations.length, lossDb: nearest }));
    });
    running.add(one);
  };
  while (!stopped()) {
    for (const hand of idle.splice(0).sort((a, b) => a - b)) {
      const index = nextFor(hand);
      if (index === undefined) idle.push(hand);
      else begin(index, hand);
    }
    if (running.size === 0) break;
    await Promise.race(running);
    await breathe();
  }
  await Promise.all(running);
  const members = combinations.flatMap((combination, index): Placed[] => {
    const found = looked[index];
    const member = found === undefined ? undefined : plan.member(combination, found);
    return member === undefined ? [] : [{ combination, member }];
  });
  const complete = done === combinations.length;
  if (members.length === 0)
    throw complete
      ? plan.nothing()
      : new DividingNetworkError(
          "aborted",
          `${caller}: stopped by its signal before a network was found, after ${done} of ${combinations.length} topologies`,
        );
  const settledAs = combinations.flatMap(({ parts }, index) => (looked[index] === undefined ? [] : [{ parts, ...looked[index] }]));
  const nearer = frontOf(members);
  const louder = await louderOnes(plan, nearer, hands, look);
  const front = frontOf([...members, ...louder], plan.levelStepDb).map((one) => {
    const { whole, parts, lossDb } = one.member;
    const { proof, ...proven } = proofOf(parts, lossDb, settledAs, exact, chosenBy);
    return Object.freeze({ ...whole(), ...proven, proof: nearer.includes(one) ? proof : `${proof}; it stands here for its level` });
  });
  const floor = plan.floor();
  return Object.freeze(
    shown<Redesign>(
      { front: Object.freeze(front), ...(floor === undefined ? {} : { floor }), topologies: done, unfinished, complete },
      redesignViews,
    ),
  );
}
