import type { Combination, Sketch } from "./combinations";
import { breathe } from "./pause";
import type { Member, Looked, RedesignPlan } from "./redesign-plan-data";

/** How often a topology is searched again, each time for what is a step louder. */
const MOST_STEPS = 6;
/** dB that rounding may take from a step. */
const ROUNDING = 1e-9;

/** A network of a topology. */
export interface Placed {
  readonly combination: Combination;
  readonly member: Member;
}

/** What is louder than the networks of a front: each of their topologies searched again for at least a step more than what was found last, until nothing is that loud. In the same order whoever looks. */
export async function louderOnes(
  { levelStepDb, member, stopped }: RedesignPlan,
  front: readonly Placed[],
  hands: number,
  look: (sketch: Sketch, below: number, hand: number) => Promise<Looked>,
): Promise<readonly Placed[]> {
  if (levelStepDb === undefined) return [];
  const found: (readonly Placed[])[] = front.map(() => []);
  let next = 0;
  const work = async (hand: number): Promise<void> => {
    while (next < front.length && !stopped()) {
      const index = next++;
      const { combination, member: nearest } = front[index]!;
      let last: Member | undefined = nearest;
      for (let step = 0; step < MOST_STEPS && last !== undefined && !stopped(); step++) {
        const louder = { ...combination, leastLevelDb: last.levelDb() + levelStepDb };
        last = member(louder, await look(louder, Infinity, hand));
        if (last !== undefined) found[index] = [...found[index]!, { combination: louder, member: last }];
        await breathe();
      }
    }
  };
  await Promise.all(Array.from({ length: hands }, (_, hand) => work(hand)));
  return found.flat();
}

/** From few parts to many; each is nearer than all before it, or cheaper, or louder by a step. */
export function frontOf(all: readonly Placed[], stepDb = Infinity): readonly Placed[] {
  const front: Placed[] = [];
  for (const one of [...all].sort((a, b) => a.member.parts - b.member.parts || a.member.rank - b.member.rank)) {
    const { rank, price, levelDb } = one.member;
    const isLouder = (better: Member) => stepDb < Infinity && levelDb() >= better.levelDb() + stepDb - ROUNDING;
    if (front.every(({ member: better }) => rank < better.rank || price < better.price || isLouder(better))) front.push(one);
  }
  return front;
}
