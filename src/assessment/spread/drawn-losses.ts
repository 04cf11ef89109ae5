import type { Distribution } from "../../network";
import { deviations } from "../../network/internal";
import { seededRandom } from "../../numeric/internal";
import type { Loudspeaker } from "../../loudspeaker";
import type { Goal } from "../goal-types";
import { spreadGround, type HeldTo } from "./spread-ground";
import type { VariableOptions } from "./variables";

/** Which loudspeakers are drawn. */
export interface DrawnOptions extends VariableOptions {
  readonly distribution: Distribution;
  /** How many, at least 2. */
  readonly samples: number;
  readonly seed: number;
}

/** What a few drawn loudspeakers come to. */
export interface DrawnLosses {
  /** dB: root of the mean squared loss of all that were drawn. */
  readonly expectedLossDb: number;
  /** Part of them that keep every limit, dimensionless. */
  readonly good: number;
}

/**
 * The loss to be expected of a drawing, and the share of good loudspeakers, by draws that are the same for every network of the same drivers: of each sample first what drivers do, then
 * what parts do in the order of the network. Every second sample is the mirror image of the one before, which takes what is odd in the deviations out of the mean.
 */
export function drawnLosses(caller: string, box: Loudspeaker, goal: Goal, options: DrawnOptions, heldTo: HeldTo): DrawnLosses {
  const { model, criteria } = spreadGround(caller, box, goal, options, heldTo);
  const { groups } = model;
  const { samples, seed, distribution } = options;
  const order = [...groups.keys()].sort(
    (a, b) => Number(groups[a]!.drivers.length === 0) - Number(groups[b]!.drivers.length === 0) || a - b,
  );
  const x = new Float64Array(groups.length);
  let [squares, passed] = [0, 0];
  for (let sample = 0; sample < samples; sample++) {
    if (sample % 2 === 1) for (let g = 0; g < x.length; g++) x[g] = -x[g]!;
    else {
      const draw = deviations(seededRandom(seed + Math.imul(sample >> 1, 0x27d4eb2f)), distribution);
      for (const g of order) x[g] = draw();
    }
    model.evaluate(x);
    squares += criteria[0]!.value() ** 2;
    if (criteria.every(({ limit, side, value }) => side * value() <= side * limit)) passed++;
  }
  return { expectedLossDb: Math.sqrt(squares / samples), good: passed / samples };
}
