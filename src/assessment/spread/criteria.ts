import { equivalentPeakDissipationResistance } from "../../parts";
import type { Goal } from "../goal-types";
import { spareDb } from "../spared";
import type { SpreadModel } from "./spread-model";

/** Something that a loudspeaker keeps or doesn't: a number against a limit. */
export interface Criterion {
  /** Stable, as in the goal. */
  readonly name: string;
  readonly unit: "dB" | "Ω";
  readonly limit: number;
  /** 1: the number must not exceed the limit; −1: not fall below. */
  readonly side: 1 | -1;
  /** The number of the last evaluation. */
  readonly value: () => number;
}

/** Limits in numbers; what is absent isn't judged. */
export interface CriteriaLimits {
  readonly largestLossDb: number;
  /** dB to be added to the model's loss, so that it is `lossOf`'s for the loudspeaker as drawn. */
  readonly lossOffsetDb: number;
  /** Places that keep the corridor as drawn. */
  readonly corridor: readonly number[];
  readonly smallestImpedance?: number | undefined;
  readonly smallestPeakDissipationResistance?: number | undefined;
  readonly leastLevelDb?: number | undefined;
}

/** dB: the loss of the last evaluation. The goal's level, or the one that makes the loss least. */
export function lossIn({ means, variances }: Pick<SpreadModel, "means" | "variances">, { places, levelDb }: Goal): number {
  const level = levelDb ?? freeLevel(means, places);
  let [sum, total] = [0, 0];
  for (let k = 0; k < places.length; k++) {
    const { weight, levelDb: own } = places[k]!;
    sum += weight * (variances[k]! + (means[k]! - (own ?? level)) ** 2);
    total += weight;
  }
  return Math.sqrt(sum / total);
}

/** dB: the level that makes the loss of the places without a level of their own least. */
export function freeLevel(means: Float64Array, places: Goal["places"]): number {
  let [sum, weights] = [0, 0];
  for (let k = 0; k < places.length; k++) {
    const { weight, levelDb } = places[k]!;
    if (levelDb !== undefined) continue;
    sum += weight * means[k]!;
    weights += weight;
  }
  return weights > 0 ? sum / weights : places[0]!.levelDb!;
}

/** What each loudspeaker is held to. */
export function criteriaOf(model: SpreadModel, goal: Goal, limits: CriteriaLimits): readonly Criterion[] {
  const { grid, levels, means, weights, network, channel } = model;
  const n = grid.heard.length;
  const { places } = goal;
  const criteria: Criterion[] = [
    { name: "loss", unit: "dB", limit: limits.largestLossDb, side: 1, value: () => lossIn(model, goal) + limits.lossOffsetDb },
  ];
  if (limits.corridor.length > 0) {
    criteria.push({
      name: "corridor",
      unit: "dB",
      limit: goal.corridorDb,
      side: 1,
      value: () => {
        const level = goal.levelDb ?? freeLevel(means, places);
        let worst = 0;
        for (const k of limits.corridor) {
          const target = places[k]!.levelDb ?? level;
          for (let j = 0; j < n; j++) if (weights[k * n + j]! > 0) worst = Math.max(worst, Math.abs(levels[k * n + j]! - target));
        }
        return worst;
      },
    });
  }
  const { smallestImpedance, smallestPeakDissipationResistance: peak, leastLevelDb } = limits;
  const { re, im } = network.admittance;
  if (smallestImpedance !== undefined) {
    criteria.push({
      name: "smallestImpedance",
      unit: "Ω",
      limit: smallestImpedance,
      side: -1,
      value: () => {
        let most = 0;
        for (const i of grid.loadAt) most = Math.max(most, re[i]! * re[i]! + im[i]! * im[i]!);
        return most > 0 ? 1 / Math.sqrt(most) : Number.MAX_VALUE;
      },
    });
  }
  if (peak !== undefined) {
    const z = { re: 0, im: 0 };
    criteria.push({
      name: "smallestPeakDissipationResistance",
      unit: "Ω",
      limit: peak,
      side: -1,
      value: () => {
        let least = Number.MAX_VALUE;
        for (const i of grid.loadAt) {
          const size = re[i]! * re[i]! + im[i]! * im[i]!;
          if (!(size > 0)) continue;
          z.re = re[i]! / size;
          z.im = -im[i]! / size;
          least = Math.min(least, equivalentPeakDissipationResistance(z));
        }
        return least;
      },
    });
  }
  if (leastLevelDb !== undefined) {
    criteria.push({
      name: "leastLevelDb",
      unit: "dB",
      limit: leastLevelDb,
      side: -1,
      value: () => {
        let [sum, total] = [0, 0];
        for (let k = 0; k < places.length; k++) {
          sum += places[k]!.weight * means[k]!;
          total += places[k]!.weight;
        }
        return sum / total;
      },
    });
  }
  for (const { driver, part, limitDb, resonance, around, aroundAt } of grid.spares) {
    const { re: vr, im: vi } = network.volts[channel.get(part)!]!;
    const volts = new Float64Array(grid.passband.length);
    const size = (i: number) => Math.hypot(vr[i]!, vi[i]!);
    criteria.push({
      name: `drivers.${driver}`,
      unit: "dB",
      limit: limitDb,
      side: -1,
      value: () => {
        for (let i = 0; i < volts.length; i++) volts[i] = size(grid.passbandAt[i]!);
        // Between the resonance and its ends, a straight line over log frequency.
        const at = resonance * model.resonanceFactor(part);
        let cell = 0;
        while (cell < around.length - 2 && around[cell + 1]! <= at) cell++;
        const t =
          around.length < 2 ? 0 : Math.min(1, Math.max(0, Math.log(at / around[cell]!) / Math.log(around[cell + 1]! / around[cell]!)));
        const [a, b] = [size(aroundAt[cell]!), size(aroundAt[Math.min(cell + 1, around.length - 1)]!)];
        return spareDb(grid.passband, volts, a > 0 && b > 0 ? a * (b / a) ** t : a + t * (b - a));
      },
    });
  }
  return criteria;
}
