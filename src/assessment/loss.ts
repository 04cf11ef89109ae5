import type { Entries } from "../network";
import { predict, type Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { DRIVE_VOLTAGE, REFERENCE_PRESSURE } from "../physics";
import { levelDb, type FrequencyResponse } from "../response";
import type { Band } from "./band";
import { againstCorridor } from "./corridor";
import { goalOf } from "./goal";
import type { Goal, GoalOptions } from "./goal-types";
import { distanceOf, heardWithPartner, withPartner } from "./heard-places";
import { judgedBands } from "./judged-bands";
import { checkSound } from "./silence";
import { shapeOf } from "./target-shape";
import { momentsBetween, QUIETEST_DB, thirdOctaves } from "./third-octaves";

/** How far a loudspeaker is from its goal. */
export interface GoalLoss {
  /** dB: root of the weighted mean of the squared deviations. */
  readonly lossDb: number;
  /** dB re 20 µPa at 1 kHz: the target's level, stated or the one that makes the loss least. */
  readonly levelDb: number;
  /** Hz: what was judged; each place over the part of it that was measured there. */
  readonly band: Band;
  /** m. */
  readonly distance: number;
  /** Each of the goal's places. */
  readonly places: readonly PlaceLoss[];
}

/** The same for one place. */
export interface PlaceLoss {
  /** Degrees. */
  readonly azimuth: number;
  /** Degrees. */
  readonly elevation: number;
  /** Dimensionless. */
  readonly weight: number;
  /** dB, root mean square from the target. */
  readonly lossDb: number;
  /** dB: the largest deviation from the target, with its sign. */
  readonly worstDb: number;
  /** Hz, where it is. */
  readonly worstFrequency: number;
  /** dB: how far the highest level lies above the target; below 0 where all of it lies below. */
  readonly highestDb: number;
  /** Octaves of the band that lie outside the corridor. */
  readonly octavesOutside: number;
  /** Hz: what was judged here; narrower than the whole band where less was measured. */
  readonly band: Band;
}

/**
 * How far a loudspeaker is from a goal: $\sqrt{\sum_k w_k \overline{d_k^2} / \sum_k w_k}$ in dB, with $d = 20 \lg(|p|/\mathrm{target})$ at 2.83 V.
 * The mean runs over ln f in the band, of third-octave power levels, exactly; or, where the goal states frequencies, over these with plain
 * levels. A free level is the one that makes the loss least. One function for the verdict, for fitting and for search. A place that was measured over less
 * than the band (of the axis, where the goal names it) is judged over what it has, from a third of an octave on; stated frequencies must be known at every place.
 *
 * @param loudspeaker network, drivers and source
 * @param aim a goal, or its options: Hz, m, dB, degrees
 * @returns the loss in dB, the target's level in dB re 20 µPa, and each place's share in dB
 * @throws DividingNetworkError `nothing-heard` where all places are silent, `outside-band`, `not-measured`, and what `predict` throws
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { goal, lossOf } from "dividing-network/assessment";
 *
 * const grid = logGrid(100, 20_000, 200);
 * const tilted = frequencyResponse(grid, grid.map((f) => 10 ** (-Math.log2(f / 1000) / 20)), grid.map(() => 0));
 * const cone = pressurePerVolt({ response: tilted, drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures: [cone] }] });
 * const flat = goal({ band: { from: 500, to: 8000 } });
 * lossOf(box, flat).lossDb; // 1.15
 * lossOf(box, goal({ band: { from: 500, to: 8000 }, slopeDbPerOctave: -1 })).lossDb; // < 1e-3
 * ```
 */
export function lossOf<T extends Entries>(loudspeaker: Loudspeaker<T>, aim: Goal | GoalOptions): GoalLoss {
  const box = checkLoudspeaker("lossOf", loudspeaker) as unknown as Loudspeaker;
  const goal = goalOf(aim);
  const { loss, sums } = lossWithSums(box, goal);
  checkSound("lossOf", loss.distance, loss.places, sums);
  return loss;
}

/** The same of a loudspeaker that may be silent: its level then is that of silence. For what is only to be compared with it. */
export function lossEvenIfSilent(box: Loudspeaker, goal: Goal): GoalLoss {
  return lossWithSums(box, goal).loss;
}

function lossWithSums(box: Loudspeaker, goal: Goal): { readonly loss: GoalLoss; readonly sums: readonly FrequencyResponse[] } {
  const distance = distanceOf("lossOf", box, goal);
  const places = goal.places.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation }));
  const { places: heard } = predict(box, {
    places,
    ...(goal.frequencies === undefined ? {} : { frequencies: goal.frequencies }),
    voltage: DRIVE_VOLTAGE,
  });
  const sums = heard.map(({ sum }, index) =>
    (goal.frequencies === undefined ? heardWithPartner : withPartner)(goal, goal.places[index]!, sum),
  );
  return { loss: lossAt(goal, distance, sums), sums };
}

/** What of a response's deviation is needed: means over the band, and where it is largest. */
interface Deviation {
  readonly mean: number;
  /** dB²: the mean square around the mean, so that nothing cancels next to a loss of 0. */
  readonly variance: number;
  readonly at: (level: number) => Pick<PlaceLoss, "worstDb" | "worstFrequency" | "highestDb" | "octavesOutside">;
}

/** The loss of responses at the goal's places. */
export function lossAt(goal: Goal, distance: number, sums: readonly FrequencyResponse[]): GoalLoss {
  const { band, ofPlace } = judgedBands(goal, sums);
  const deviations = sums.map((sum, index) =>
    goal.frequencies === undefined
      ? overBand(sum, ofPlace[index]!, shapeOf(goal, goal.places[index]!), goal.corridorDb)
      : atFrequencies(sum, shapeOf(goal, goal.places[index]!), goal.corridorDb),
  );
  let [weighted, weights] = [0, 0];
  goal.places.forEach(({ weight, levelDb: own }, index) => {
    if (own !== undefined) return;
    weighted += weight * deviations[index]!.mean;
    weights += weight;
  });
  const free = weights > 0 ? weighted / weights : (goal.places[0]!.levelDb ?? 0);
  const level = goal.levelDb ?? free;
  let [sum, total] = [0, 0];
  const places = goal.places.map(({ azimuth, elevation, weight, levelDb: own }, index) => {
    const { mean, variance, at } = deviations[index]!;
    const target = own ?? level;
    const loss = Math.max(0, variance) + (mean - target) ** 2;
    sum += weight * loss;
    total += weight;
    return Object.freeze({ azimuth, elevation, weight, lossDb: Math.sqrt(loss), ...at(target), band: ofPlace[index]! });
  });
  return Object.freeze({ lossDb: Math.sqrt(sum / total), levelDb: level, band, distance, places: Object.freeze(places) });
}

/** dB re 20 µPa of a response's power in Pa². */
const levelRe = (db: number): number => db - 20 * Math.log10(REFERENCE_PRESSURE);

function overBand(sum: FrequencyResponse, band: Band, shape: (frequency: number) => number, corridor: number): Deviation {
  const thirds = thirdOctaves(sum);
  const [from, to] = [Math.max(thirds.from, Math.log(band.from)), Math.min(thirds.to, Math.log(band.to))];
  const value = (lnf: number) => levelRe(thirds.levelDb(lnf)) - shape(Math.exp(lnf));
  return {
    ...momentsBetween(from, to, thirds.bends, value),
    at: (target) => {
      const { worstDb, worstFrequency, highestDb, octavesOutside } = againstCorridor((lnf) => value(lnf) - target, from, to, corridor);
      return { worstDb, worstFrequency: Math.min(Math.max(worstFrequency, band.from), band.to), highestDb, octavesOutside };
    },
  };
}

function atFrequencies(sum: FrequencyResponse, shape: (frequency: number) => number, corridor: number): Deviation {
  const levels = levelDb(sum, { reference: REFERENCE_PRESSURE }).map(
    (level, i) => Math.max(level, levelRe(QUIETEST_DB)) - shape(sum.frequencies[i]!),
  );
  const n = levels.length;
  const mean = levels.reduce((total, level) => total + level, 0) / n;
  return {
    mean,
    variance: levels.reduce((total, level) => total + (level - mean) ** 2, 0) / n,
    at: (target) => {
      let [worst, outside] = [0, 0];
      for (let i = 0; i < n; i++) {
        if (Math.abs(levels[i]! - target) > Math.abs(levels[worst]! - target)) worst = i;
        if (Math.abs(levels[i]! - target) > corridor) outside++;
      }
      const octaves = Math.log2(sum.frequencies[n - 1]! / sum.frequencies[0]!);
      return {
        worstDb: levels[worst]! - target,
        worstFrequency: sum.frequencies[worst]!,
        highestDb: levels.reduce((most, level) => Math.max(most, level), -Infinity) - target,
        octavesOutside: (octaves * outside) / n,
      };
    },
  };
}
