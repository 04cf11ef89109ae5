import { DividingNetworkError } from "../errors";
import { saidBy } from "../errors/internal";
import { goal as goalFrom, lossOf, type Goal, type GoalOptions } from "../assessment";
import { checkPlaces } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";

/** The goal at places that a design doesn't look at, judged as it judges its own; undefined where none are held back. All of them must have been measured. */
export function heldBackGoal(caller: string, box: Loudspeaker, goal: Goal, heldBack: GoalOptions["places"] | undefined): Goal | undefined {
  if (heldBack === undefined) return undefined;
  const places = checkPlaces(caller, "heldBack", heldBack, "Leave it out where no place is held back");
  const { band, bandStated, frequencies, distance, slopeDbPerOctave, curve, partner } = goal;
  const own = goalFrom({
    ...(bandStated ? { band } : {}),
    frequencies,
    distance,
    slopeDbPerOctave,
    curve,
    partner,
    limits: "stated",
    places,
  });
  try {
    lossOf(box, own);
  } catch (error) {
    const { message, hint } = saidBy(error);
    const { code } = error as DividingNetworkError;
    throw new DividingNetworkError(code, `${caller}: "heldBack" must be places that can be judged: ${message}`, hint);
  }
  return own;
}
