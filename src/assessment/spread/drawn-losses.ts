import type { Distribution } from "../../network";
import { deviations } from "../../network/internal";
import { seededRandom } from "../../numeric/internal";
import type { Loudspeaker } from "../../loudspeaker";
import type { Goal } from "../goal-types";
import { groundOn, sharedGround, spreadGround, type HeldTo, type SpreadGround } from "./spread-ground";
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

/** How far it is drawn. */
export interface DrawingGoesOn {
  /** dB: what as drawn is worse isn't drawn from. */
  readonly mostDb: number;
  /** Whether it goes on, by the sum of squared losses (dB²) and the count of those that don't keep every limit, so far: neither ever becomes less. */
  readonly on: (squares: number, bad: number) => boolean;
}

/**
 * The loss to be expected of a drawing, and the share of good loudspeakers, by draws that are the same for every network of the same drivers: of each sample first what drivers do, then
 * what parts do in the order of the network. Every second sample is the mirror image of the one before, which takes what is odd in the deviations out of the mean.
 */
export function drawnLosses(caller: string, box: Loudspeaker, goal: Goal, options: DrawnOptions, heldTo: HeldTo): DrawnLosses {
  return drawnOn(spreadGround(caller, box, goal, options, heldTo), options, { mostDb: Infinity, on: () => true })!;
}

/** By how much a limit of the loss is widened where the loss is told but for rounding. */
const ROUNDING = 1e-9;

/**
 * The same of one network after another, and no further than it goes on: undefined where it was left off. What all networks share is looked at once, on the loudspeaker as found. At stated frequencies
 * it is the same but for rounding, for which nobody is called bad.
 */
export function drawnLossesFrom(
  caller: string,
  found: Loudspeaker,
  goal: Goal,
  heldTo: HeldTo & { readonly largestLossDb: number },
): (box: Loudspeaker, options: DrawnOptions, goesOn: DrawingGoesOn) => DrawnLosses | undefined {
  const shared = sharedGround(caller, found, goal, heldTo);
  if (goal.frequencies === undefined) {
    const { leastLevelDb } = shared.limits;
    return (box, options, goesOn) =>
      drawnOn(spreadGround(caller, box, goal, options, { ...heldTo, found: { leastLevelDb } }), options, goesOn);
  }
  const largestLossDb = Math.min(200, heldTo.largestLossDb * (1 + ROUNDING));
  return (box, options, goesOn) =>
    drawnOn(groundOn(caller, box, goal, options, largestLossDb, shared, "another network's"), options, goesOn);
}

function drawnOn(
  { model, criteria, nominal }: SpreadGround,
  { samples, seed, distribution }: DrawnOptions,
  { mostDb, on }: DrawingGoesOn,
): DrawnLosses | undefined {
  if (nominal[0]! > mostDb) return undefined;
  const { groups } = model;
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
    if (!on(squares, sample + 1 - passed)) return undefined;
  }
  return { expectedLossDb: Math.sqrt(squares / samples), good: passed / samples };
}
