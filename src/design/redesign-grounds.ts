import type { Goal } from "../assessment";
import { goalOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import type { Resistance } from "../quantity";
import { askedCombinations } from "./asked-combinations";
import type { Choice } from "./choices";
import { combinationFor, type Combination, type Sketch } from "./combinations";
import type { Drawing } from "./drawing-data";
import { groupsOf, type Group } from "./driver-groups";
import { heldBackGoal } from "./held-back";
import { limitsOf, type Limits } from "./limits";
import type { Question } from "./question";
import { ratedFor, searchedAt, withLoad } from "./redesign-goal";
import type { RedesignRequest } from "./redesign-request";
import { robustOf, type Robust } from "./robust";
import type { Supply } from "./supply";
import { turnsOfGroups } from "./turns";

/** What all topologies of a redesign share. */
export interface RedesignGrounds {
  readonly box: Loudspeaker;
  readonly groups: readonly Group[];
  /** The usual topologies, from few parts to many. */
  readonly combinations: readonly Combination[];
  /** As it was asked for. */
  readonly goal: Goal;
  /** With a load to keep: what networks are judged by. */
  readonly judged: Goal;
  /** At the frequencies that are searched. */
  readonly searched: Goal;
  /** Of what is judged. */
  readonly limits: Limits;
  readonly supply: Supply;
  /** By what else than the loss as drawn networks are chosen. */
  readonly robust: Robust | undefined;
  /** Ω by which networks are assessed. */
  readonly ratedImpedance: Resistance;
  /** The goal at the places that are held back. */
  readonly heldBack: Goal | undefined;
  /** Which networks of a drawing are looked through. */
  readonly ask: (drawing: Drawing, choices: readonly Choice[]) => Question;
  /** The drawing of a topology and the candidates of all its slots; none where a stock holds nothing of some kind. */
  readonly drawn: (sketch: Sketch) => { readonly drawing: Drawing; readonly choices: readonly Choice[] | undefined };
}

/** Gets ready what all topologies share, before anything is searched. */
export function redesignGrounds(caller: string, box: Loudspeaker, request: RedesignRequest): RedesignGrounds {
  const { goal, supply, maxParts, ratedImpedance, robust: sought, prove, topologies, heldBack: others, signal } = request;
  const groups = groupsOf(caller, box);
  const judged = withLoad(groups, goal, ratedImpedance);
  const searched = goal.frequencies !== undefined || prove ? judged : goalOf({ ...judged, frequencies: searchedAt(caller, box, goal) });
  const [whileSearched, limits] = [limitsOf(caller, box, searched, ratedImpedance), limitsOf(caller, box, judged, ratedImpedance)];
  const combinations = askedCombinations(caller, box, groups, maxParts, topologies);
  const robust = robustOf(caller, box, judged, sought, ratedImpedance, "other parts");
  // Whether it was measured there is known before anything is searched.
  const heldBack = heldBackGoal(caller, box, goal, others);
  const turns = turnsOfGroups(groups);
  return {
    box,
    groups,
    combinations,
    goal,
    judged,
    searched,
    limits,
    supply,
    robust,
    ratedImpedance: ratedFor(groups, judged, ratedImpedance),
    heldBack,
    ask: (drawing, choices) => ({
      caller,
      box: { ...box, network: drawing.network },
      goal: searched,
      choices,
      turns,
      limits: whileSearched,
      signal,
      onProgress: undefined,
      shard: undefined,
      goods: supply.goods,
      robust,
      networks: choices.reduce((product, { options: own }) => product * own.length, 1) * turns.sets.length,
    }),
    drawn(sketch) {
      const drawing = combinationFor(box, groups, sketch).draw();
      return { drawing, choices: supply.choicesFor(drawing.slots) };
    },
  };
}
