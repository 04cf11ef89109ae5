import { checkList } from "../errors/internal";
import { goal as goalFrom, type Goal, type GoalOptions } from "../assessment";

/** The goal at places that a design doesn't look at, judged as it judges its own; undefined where none are held back. */
export function heldBackGoal(caller: string, goal: Goal, heldBack: GoalOptions["places"] | undefined): Goal | undefined {
  if (heldBack === undefined) return undefined;
  const places = checkList(caller, "heldBack", heldBack, "{ azimuth, elevation }");
  const { band, bandStated, frequencies, distance, slopeDbPerOctave, curve, partner } = goal;
  return goalFrom({ ...(bandStated ? { band } : {}), frequencies, distance, slopeDbPerOctave, curve, partner, limits: "stated", places });
}
