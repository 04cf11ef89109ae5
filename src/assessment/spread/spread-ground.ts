import { DividingNetworkError } from "../../errors";
import { checkNumber, show } from "../../errors/internal";
import { predict, type Loudspeaker } from "../../loudspeaker";
import { DRIVE_VOLTAGE } from "../../physics";
import type { FrequencyResponse } from "../../response";
import type { Band } from "../band";
import type { Goal } from "../goal-types";
import { distanceOf, heardWithPartner, withPartner } from "../heard-places";
import { RATED_SHARE } from "../load";
import { lossAt, lossEvenIfSilent, type GoalLoss } from "../loss";
import { checkSound } from "../silence";
import { criteriaOf, freeLevel, lossIn, type CriteriaLimits, type Criterion } from "./criteria";
import { spreadGrid, type SpreadGrid } from "./spread-grid";
import { spreadModel, type SpreadModel } from "./spread-model";
import { driverTolerances, type VariableOptions } from "./variables";

/** dB that a good loudspeaker may lie further from the goal than the one drawn. */
const FURTHER_DB = 0.5;

/** What samples are held to. */
export interface HeldTo {
  /** dB of loss; default 0.5 dB more than as drawn. */
  readonly largestLossDb: number | undefined;
  /** The loudspeaker as found, whose level may not be lost; absent: no such limit. Or what that comes to, in dB. */
  readonly found: Loudspeaker | { readonly leastLevelDb: number | undefined } | undefined;
  /** Ω by which it is sold. */
  readonly rated: number | undefined;
}

/** A loudspeaker as drawn, ready to be heard with other parts and drivers; the last evaluation is the one as drawn. */
export interface SpreadGround {
  readonly distance: number;
  readonly exact: GoalLoss;
  readonly grid: SpreadGrid;
  readonly model: SpreadModel;
  readonly criteria: readonly Criterion[];
  /** Of each criterion, as drawn. */
  readonly nominal: readonly number[];
}

/** What is the same for all networks of the same drivers: how they are heard, and what is asked of them. */
export interface SharedGround {
  readonly distance: number;
  readonly exact: GoalLoss;
  readonly covered: readonly Band[];
  readonly limits: Omit<CriteriaLimits, "largestLossDb" | "lossOffsetDb" | "corridor">;
}

/** Hears the loudspeaker as drawn, exactly and by the model of its spread, and says what samples are held to. */
export function spreadGround(caller: string, box: Loudspeaker, goal: Goal, given: VariableOptions, held: HeldTo): SpreadGround {
  return groundOn(caller, box, goal, given, held.largestLossDb, sharedGround(caller, box, goal, held), "exact");
}

/** Hears a loudspeaker as drawn, exactly, by the one function of loss. */
export function sharedGround(caller: string, box: Loudspeaker, goal: Goal, { found, rated }: Omit<HeldTo, "largestLossDb">): SharedGround {
  const distance = distanceOf(caller, box, goal);
  const places = goal.places.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation }));
  const { places: heard } = predict(box, {
    places,
    ...(goal.frequencies === undefined ? {} : { frequencies: goal.frequencies }),
    voltage: DRIVE_VOLTAGE,
  });
  const sums = heard.map(({ sum }, index) =>
    (goal.frequencies === undefined ? heardWithPartner : withPartner)(goal, goal.places[index]!, sum),
  );
  const exact = lossAt(goal, distance, sums);
  checkSound(caller, distance, exact.places, sums);
  const limits = {
    smallestImpedance:
      goal.amplifier.smallestImpedance ?? (goal.limits === "default" && rated !== undefined ? RATED_SHARE * rated : undefined),
    smallestPeakDissipationResistance: goal.amplifier.smallestPeakDissipationResistance,
    leastLevelDb:
      found !== null && typeof found === "object" && "leastLevelDb" in found ? found.leastLevelDb : leastLevel(caller, goal, found),
  };
  return { distance, exact, covered: sums.map(coverOf), limits };
}

/**
 * The ground of a loudspeaker on what it shares with others. Of the same loudspeaker it is exact; of another network of the same drivers it is, at stated frequencies, but for
 * rounding: the loss there is the model's own.
 */
export function groundOn(
  caller: string,
  box: Loudspeaker,
  goal: Goal,
  given: VariableOptions,
  asked: number | undefined,
  { distance, exact, covered, limits }: SharedGround,
  whose: "exact" | "another network's",
): SpreadGround {
  const loaded = limits.smallestImpedance !== undefined || limits.smallestPeakDissipationResistance !== undefined;
  const tolerances = driverTolerances(caller, box, given);
  const moves = (part: string) =>
    box.drivers.reduce((most, driver, index) => (driver.part === part ? Math.max(most, tolerances[index]!.resonance.size) : most), 0);
  const grid = spreadGrid(box, goal, exact, covered, loaded, moves);
  const model = spreadModel(caller, box, goal, exact, covered, grid, given);
  model.evaluate(new Float64Array(model.groups.length));
  const lossOffsetDb = whose === "exact" ? exact.lossDb - lossIn(model, goal) : 0;
  const largestLossDb =
    asked === undefined ? exact.lossDb + FURTHER_DB : checkNumber(caller, "largestLossDb", asked, { min: 0, max: 200, unit: "dB" });
  const criteria = criteriaOf(model, goal, { ...limits, largestLossDb, lossOffsetDb, corridor: keepingCorridor(model, goal) });
  return { distance, exact, grid, model, criteria, nominal: criteria.map(({ value }) => value()) };
}

/** Hz: what a response covers above 0 Hz. */
function coverOf({ frequencies }: FrequencyResponse): Band {
  return { from: frequencies[0]! > 0 ? frequencies[0]! : frequencies[1]!, to: frequencies[frequencies.length - 1]! };
}

/** dB: what the goal states, or the found loudspeaker's level less what may be lost. */
function leastLevel(caller: string, goal: Goal, found: Loudspeaker | undefined): number | undefined {
  if (found === undefined) return goal.leastLevelDb;
  if (typeof found !== "object" || found === null)
    throw new DividingNetworkError("invalid-argument", `${caller}: "found" must be a loudspeaker, got ${show(found)}`);
  if (goal.limits === "stated" && !goal.stated.includes("largestLevelLossDb")) return goal.leastLevelDb;
  const { levelDb: _, ...rest } = goal;
  const free: Goal = Object.freeze({
    ...rest,
    places: Object.freeze(goal.places.map(({ levelDb: _own, ...place }) => Object.freeze(place))),
  });
  return Math.max(goal.leastLevelDb ?? -Infinity, lossEvenIfSilent(found, free).levelDb - goal.largestLevelLossDb);
}

/** The numbers of the places that keep the corridor at the last evaluation. */
function keepingCorridor(model: SpreadModel, goal: Goal): readonly number[] {
  const { levels, weights, means, grid } = model;
  const n = grid.heard.length;
  const level = goal.levelDb ?? freeLevel(means, goal.places);
  return goal.places.flatMap((place, k) =>
    weights
      .subarray(k * n, (k + 1) * n)
      .every((weight, j) => weight === 0 || Math.abs(levels[k * n + j]! - (place.levelDb ?? level)) <= goal.corridorDb)
      ? [k]
      : [],
  );
}
