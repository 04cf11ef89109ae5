import type { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { variations } from "./combinations";
import { chosen as chosenOf } from "./choices";
import { floorAt, plainFloorAt } from "./driver-floor";
import { namesFor } from "./drawing-names";
import { priceOf, type Goods } from "./goods";
import { relaxation } from "./infeasible";
import { lackingKinds } from "./lacking-kinds";
import { meanLevelDb } from "./limits";
import { searchedAt } from "./redesign-goal";
import { redesignGrounds, type RedesignGrounds } from "./redesign-grounds";
import type { RedesignOptions } from "./redesign-options";
import type { RedesignPlan } from "./redesign-plan-data";
import { redesignRequest } from "./redesign-request";
import { redesigned } from "./redesigned";
import { followed, type Best } from "./refine";
import { renamed } from "./renamed";
import { topologyLook } from "./topology-look";

export type { Looked, Member, RedesignPlan } from "./redesign-plan-data";

/** Checks what was asked for, and gets everything ready that all topologies share. */
export function redesignPlan(caller: string, loudspeaker: Loudspeaker, options: RedesignOptions): RedesignPlan {
  const box = checkLoudspeaker(caller, loudspeaker);
  const request = redesignRequest(caller, options);
  const { goal, supply, maxParts, prove, topologies, levelStepDb, signal, onProgress, plain, law } = request;
  const grounds = redesignGrounds(caller, box, request);
  const { groups, combinations, robust } = grounds;
  return Object.freeze({
    caller,
    order: { loudspeaker: box, options: plain, law },
    exact: goal.frequencies !== undefined || prove,
    chosenBy: robust?.by,
    combinations,
    variations: (tried, before) => variations(box, groups, tried, before, maxParts, topologies),
    look: topologyLook(grounds, prove),
    member(combination, { best }) {
      if (best === undefined || best.lossDb === Infinity) return undefined;
      const { drawing, choices } = grounds.drawn(combination);
      const chosen = followed(drawing, choices!, best, supply);
      return {
        parts: combination.parts,
        lossDb: best.lossDb,
        rank: robust === undefined ? best.lossDb : robust.rank(best.robust!),
        price: supply.goods === undefined ? Infinity : pricedAt(chosen, supply.goods),
        levelDb: once(() => meanLevelDb({ ...box, network: chosenOf(drawing.network, chosen.choices, chosen.codes, chosen.turned) }, goal)),
        whole: () => redesigned(grounds, combination, drawing, chosen, best.robust),
      };
    },
    levelStepDb,
    nothing: () => nothingFound(caller, grounds),
    floor: () =>
      goal.frequencies === undefined
        ? plainFloorAt(caller, box, goal, searchedAt(caller, box, goal))
        : floorAt(caller, box, goal, goal.frequencies),
    stopped: () => signal?.aborted === true,
    onProgress,
  } satisfies RedesignPlan);
}

/** A number that is reckoned when it is first asked for. */
function once(reckon: () => number): () => number {
  let known: number | undefined;
  return () => (known ??= reckon());
}

/** What the chosen candidates cost together. */
function pricedAt({ choices, codes }: Best, { pieces }: Goods): number {
  return choices.reduce((sum, { options }, index) => sum + priceOf(pieces.get(options[codes[index]!]!)), 0);
}

/** How many topologies are looked at for one of which a single limit would have to give way. */
const LOOKED = 4;

/** Where no topology has a network that keeps the limits: which limit would have to give way in the simplest of which that alone is enough, else which ones the simplest breaks; or what kinds of parts a stock lacks. */
function nothingFound(caller: string, { combinations, supply, ask, drawn }: RedesignGrounds): DividingNetworkError {
  let simplest: DividingNetworkError | undefined;
  let looked = 0;
  for (const combination of combinations) {
    const { drawing, choices } = drawn(combination);
    if (choices === undefined) continue;
    const names = namesFor(drawing);
    const own = { ...drawing, network: renamed(drawing.network, names) };
    const ownChoices = choices.map(({ name, options: candidates }) => ({ name: names.get(name)!, options: candidates }));
    const of =
      simplest === undefined ? " of the simplest topology (nor of any other)" : ` of ${combination.says} (nor of any other topology)`;
    const { error, byOne } = relaxation(ask(own, ownChoices), of);
    if (byOne) return error;
    simplest ??= error;
    if (++looked >= LOOKED) break;
  }
  return (
    simplest
    ?? lackingKinds(
      caller,
      combinations.map((combination) => supply.lacks(combination.draw().slots)),
      supply.goods?.units ?? 1,
    )
  );
}
