import { interpolateLog } from "../numeric";
import { levelDb, responseOf } from "../response";
import type { Goal, GoalPlace } from "./goal-types";
import { QUIETEST_DB } from "./third-octaves";

/** dB of a place's target without its level. */
export function shapeOf(goal: Goal, place: Pick<GoalPlace, "slopeDbPerOctave">): (frequency: number) => number {
  const { curve, partner } = goal;
  const slope = place.slopeDbPerOctave ?? goal.slopeDbPerOctave;
  const highPass = partner !== undefined && "highPass" in partner ? partner.highPass : undefined;
  return (frequency) =>
    slope * Math.log2(frequency / 1000)
    + (curve === undefined ? 0 : curveAt(curve, frequency))
    + (highPass === undefined ? 0 : Math.max(QUIETEST_DB, levelDb(responseOf(highPass, [frequency]))[0]!));
}

function curveAt({ frequencies, levelDb: levels }: NonNullable<Goal["curve"]>, frequency: number): number {
  const last = frequencies.length - 1;
  if (frequency <= frequencies[0]!) return levels[0]!;
  if (frequency >= frequencies[last]!) return levels[last]!;
  return interpolateLog(frequencies, levels, [frequency])[0]!;
}
