import { normalCdf } from "../../numeric/internal";
import type { Distribution } from "../../network";
import type { Goal } from "../goal-types";
import type { Criterion } from "./criteria";
import type { SpreadModel } from "./spread-model";

/** Standard deviation of a deviation in −1 … 1: of an even spread, a triangle, and a bell of a third that is cut off at ±1. */
export const DEVIATION: Readonly<Record<Distribution, number>> = {
  uniform: 0.5773502691896258,
  triangular: 0.408248290463863,
  normal: 0.328864,
};

/** What every group does to first order. */
export interface FirstOrder {
  /** dB of each group: standard deviation of the levels that it makes, root mean square over places and band; what a free level takes up left out. */
  readonly effects: Float64Array;
  /** The same without anything left out: what left and right differ by, level included. */
  readonly wholeEffects: Float64Array;
  /** By criterion and group: slope per whole tolerance. */
  readonly slopes: readonly Float64Array[];
}

/** Half a step of the central differences, as a share of the tolerance: their error is some 1e-8 of the slope. */
const STEP = 1e-4;

/** Slopes of all levels and criteria by all groups, at the loudspeaker as drawn. */
export function firstOrder(model: SpreadModel, goal: Goal, criteria: readonly Criterion[], distribution: Distribution): FirstOrder {
  const { groups, levels, weights, grid } = model;
  const [n, G] = [grid.heard.length, groups.length];
  const at = new Float64Array(G);
  const [up, slope] = [new Float64Array(levels.length), new Float64Array(levels.length)];
  const [effects, wholeEffects] = [new Float64Array(G), new Float64Array(G)];
  const slopes = criteria.map(() => new Float64Array(G));
  const total = goal.places.reduce((sum, { weight }) => sum + weight, 0);
  for (let g = 0; g < G; g++) {
    at[g] = STEP;
    model.evaluate(at);
    up.set(levels);
    const above = criteria.map(({ value }) => value());
    at[g] = -STEP;
    model.evaluate(at);
    criteria.forEach(({ value }, c) => (slopes[c]![g] = (above[c]! - value()) / (2 * STEP)));
    for (let i = 0; i < levels.length; i++) slope[i] = (up[i]! - levels[i]!) / (2 * STEP);
    at[g] = 0;
    // A free level follows the mean of the places that have none of their own.
    let [followed, free] = [0, 0];
    goal.places.forEach(({ weight, levelDb }, k) => {
      if (levelDb !== undefined) return;
      free += weight;
      for (let j = 0; j < n; j++) followed += weight * weights[k * n + j]! * slope[k * n + j]!;
    });
    const shift = goal.levelDb !== undefined || free === 0 ? 0 : followed / free;
    let [square, whole] = [0, 0];
    goal.places.forEach(({ weight, levelDb }, k) => {
      for (let j = 0; j < n; j++) {
        square += weight * weights[k * n + j]! * (slope[k * n + j]! - (levelDb === undefined ? shift : 0)) ** 2;
        whole += weight * weights[k * n + j]! * slope[k * n + j]! ** 2;
      }
    });
    effects[g] = DEVIATION[distribution] * Math.sqrt(square / total);
    wholeEffects[g] = DEVIATION[distribution] * Math.sqrt(whole / total);
  }
  model.evaluate(at);
  return { effects, wholeEffects, slopes };
}

/** The share that keeps a limit when its number is the nominal one plus slopes times deviations, taken for normal. */
export function normalShare({ limit, side }: Criterion, nominal: number, slopes: Float64Array, distribution: Distribution): number {
  const deviation = DEVIATION[distribution] * Math.hypot(...slopes);
  const room = side * (limit - nominal);
  return deviation > 0 ? normalCdf(room / deviation) : room >= 0 ? 1 : 0;
}
