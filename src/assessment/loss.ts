import { DividingNetworkError } from "../errors";
import type { Entries } from "../network";
import { predict, type Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { interpolateLog } from "../numeric";
import { DRIVE_VOLTAGE, REFERENCE_PRESSURE } from "../physics";
import { addResponses, frequencyResponse, levelDb, resample, responseOf, type FrequencyResponse } from "../response";
import type { Band } from "./band";
import { againstCorridor } from "./corridor";
import { goalOf } from "./goal";
import type { Goal, GoalOptions, GoalPlace } from "./goal-types";
import { integralBetween, QUIETEST_DB, thirdOctaves } from "./third-octaves";

/** How far a loudspeaker is from its goal. */
export interface GoalLoss {
  /** dB: root of the weighted mean of the squared deviations. */
  readonly lossDb: number;
  /** dB re 20 µPa at 1 kHz: the target's level, stated or the one that makes the loss least. */
  readonly levelDb: number;
  /** Hz: what was judged. */
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
  /** Octaves of the band that lie outside the corridor. */
  readonly octavesOutside: number;
}

/**
 * How far a loudspeaker is from a goal: $\sqrt{\sum_k w_k \overline{d_k^2} / \sum_k w_k}$ in dB, with $d = 20 \lg(|p|/\mathrm{target})$ at 2.83 V.
 * The mean runs over ln f in the band, of third-octave power levels, exactly; or, where the goal states frequencies, over these with plain
 * levels. A free level is the one that makes the loss least. One function for the verdict, for fitting and for search.
 *
 * @param loudspeaker network, drivers and source
 * @param aim a goal, or its options: Hz, m, dB, degrees
 * @returns the loss in dB, the target's level in dB re 20 µPa, and each place's share in dB
 * @throws DividingNetworkError `outside-band`, `not-measured`, and what `predict` throws
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
  const distance = distanceOf("lossOf", box, goal);
  const places = goal.places.map(({ azimuth, elevation }) => ({ distance, azimuth, elevation }));
  const { places: heard } = predict(box, {
    places,
    ...(goal.frequencies === undefined ? {} : { frequencies: goal.frequencies }),
    voltage: DRIVE_VOLTAGE,
  });
  return lossAt(
    goal,
    distance,
    heard.map(({ sum }, index) => (goal.frequencies === undefined ? heardWithPartner : withPartner)(goal, goal.places[index]!, sum)),
  );
}

/** m: the goal's, or the nearest at which every driver was measured on the axis. */
export function distanceOf(caller: string, { drivers }: Loudspeaker, goal: Goal): number {
  if (goal.distance !== undefined) return goal.distance;
  const axes = drivers.map(({ pressures }) =>
    pressures.filter(({ azimuth, elevation }) => azimuth === 0 && elevation === 0).map(({ distance }) => distance),
  );
  const common = axes[0]!.filter((distance) => axes.every((others) => others.some((other) => Math.abs(other - distance) < 1e-3)));
  if (common.length === 0)
    throw new DividingNetworkError(
      "not-measured",
      `${caller}: no distance has a measurement of every driver on the axis (azimuth 0°, elevation 0°)`,
      "Measure each driver alone on the axis",
    );
  return Math.min(...common);
}

/** The sum with what a partner outside the network adds. */
export function withPartner(
  { partner }: Goal,
  { azimuth, elevation }: Pick<GoalPlace, "azimuth" | "elevation">,
  sum: FrequencyResponse,
): FrequencyResponse {
  if (partner === undefined || !("pressures" in partner)) return sum;
  const found = partner.pressures.find(
    (pressure) => Math.abs(pressure.azimuth - azimuth) < 0.01 && Math.abs(pressure.elevation - elevation) < 0.01,
  );
  if (found === undefined)
    throw new DividingNetworkError(
      "not-measured",
      `goal: the partner's pressure at azimuth ${azimuth}°, elevation ${elevation}° must be known, since the goal names this place`,
      "Give it under partner.pressures",
    );
  return addResponses(sum, resample(found.response, sum.frequencies));
}

/** The same over the part of the sum's frequencies that the partner covers: a subwoofer may be measured over less. */
export function heardWithPartner(goal: Goal, place: Pick<GoalPlace, "azimuth" | "elevation">, sum: FrequencyResponse): FrequencyResponse {
  const { partner } = goal;
  const found =
    partner === undefined || !("pressures" in partner)
      ? undefined
      : partner.pressures.find(
          (pressure) => Math.abs(pressure.azimuth - place.azimuth) < 0.01 && Math.abs(pressure.elevation - place.elevation) < 0.01,
        );
  if (found === undefined) return withPartner(goal, place, sum);
  const { frequencies } = found.response;
  const [low, high] = [frequencies[0]!, frequencies[frequencies.length - 1]!];
  const from = sum.frequencies.findIndex((frequency) => frequency >= low);
  let to = sum.frequencies.length;
  while (to > 0 && sum.frequencies[to - 1]! > high) to--;
  if (from < 0 || to - from < 2)
    throw new DividingNetworkError(
      "outside-band",
      `goal: the partner's pressure at azimuth ${place.azimuth}°, elevation ${place.elevation}° must share the loudspeaker's frequencies, got ${low} Hz to ${high} Hz`,
      "Measure both over the goal's band",
    );
  return withPartner(
    goal,
    place,
    from === 0 && to === sum.frequencies.length
      ? sum
      : frequencyResponse(sum.frequencies.subarray(from, to), sum.re.subarray(from, to), sum.im.subarray(from, to), sum.marks),
  );
}

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

/** What of a response's deviation is needed: means over the band, and where it is largest. */
interface Deviation {
  readonly mean: number;
  /** dB²: the mean square around the mean, so that nothing cancels next to a loss of 0. */
  readonly variance: number;
  readonly at: (level: number) => { readonly worstDb: number; readonly worstFrequency: number; readonly octavesOutside: number };
}

/** The loss of responses at the goal's places. */
export function lossAt(goal: Goal, distance: number, sums: readonly FrequencyResponse[]): GoalLoss {
  const band = bandOf(goal, sums);
  const deviations = sums.map((sum, index) =>
    goal.frequencies === undefined
      ? overBand(sum, band, shapeOf(goal, goal.places[index]!), goal.corridorDb)
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
    return Object.freeze({ azimuth, elevation, weight, lossDb: Math.sqrt(loss), ...at(target) });
  });
  return Object.freeze({ lossDb: Math.sqrt(sum / total), levelDb: level, band, distance, places: Object.freeze(places) });
}

/** The judged band: as stated, or the part of the default that all responses cover. */
export function bandOf(goal: Goal, sums: readonly FrequencyResponse[]): Band {
  const { frequencies } = goal;
  if (frequencies !== undefined) return Object.freeze({ from: frequencies[0]!, to: frequencies[frequencies.length - 1]! });
  const lowest = Math.max(...sums.map((sum) => (sum.frequencies[0]! > 0 ? sum.frequencies[0]! : (sum.frequencies[1] ?? Infinity))));
  const highest = Math.min(...sums.map((sum) => sum.frequencies[sum.frequencies.length - 1]!));
  if (goal.bandStated) {
    // A band that ends at a measured frequency as printed ends there.
    if (goal.band.from * (1 + 1e-3) < lowest || goal.band.to > highest * (1 + 1e-3)) {
      throw new DividingNetworkError(
        "outside-band",
        `goal: the band, ${goal.band.from} Hz to ${goal.band.to} Hz, must lie within what was measured, ${lowest.toPrecision(4)} Hz to ${highest.toPrecision(4)} Hz`,
        "Narrow the goal's band, or measure a wider one",
      );
    }
    return Object.freeze({ from: Math.max(goal.band.from, lowest), to: Math.min(goal.band.to, highest) });
  }
  const cut = { from: Math.max(goal.band.from, lowest), to: Math.min(goal.band.to, highest) };
  if (!(cut.to / cut.from >= 2 ** (1 / 3)))
    throw new DividingNetworkError(
      "band-too-narrow",
      `goal: the measurements cover too little of ${goal.band.from} Hz to ${goal.band.to} Hz`,
      "State the goal's band",
    );
  return Object.freeze(cut);
}

/** dB re 20 µPa of a response's power in Pa². */
const levelRe = (db: number): number => db - 20 * Math.log10(REFERENCE_PRESSURE);

function overBand(sum: FrequencyResponse, band: Band, shape: (frequency: number) => number, corridor: number): Deviation {
  const thirds = thirdOctaves(sum);
  const [from, to] = [Math.max(thirds.from, Math.log(band.from)), Math.min(thirds.to, Math.log(band.to))];
  const value = (lnf: number) => levelRe(thirds.levelDb(lnf)) - shape(Math.exp(lnf));
  const width = to - from;
  const mean = integralBetween(from, to, thirds.bends, value) / width;
  return {
    mean,
    variance: integralBetween(from, to, thirds.bends, (lnf) => (value(lnf) - mean) ** 2) / width,
    at: (target) => {
      const { worstDb, worstFrequency, octavesOutside } = againstCorridor((lnf) => value(lnf) - target, from, to, corridor);
      return { worstDb, worstFrequency: Math.min(Math.max(worstFrequency, band.from), band.to), octavesOutside };
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
      return { worstDb: levels[worst]! - target, worstFrequency: sum.frequencies[worst]!, octavesOutside: (octaves * outside) / n };
    },
  };
}
