import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import type { Goal, GoalOptions } from "../assessment";
import { distanceOf, goalOf, shapeOf } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import type { Entries } from "../network";
import { hertz } from "../quantity/internal";
import { leastSpread } from "./level-spread";
import { pressuresOn } from "./pressures-on";
import { DB_PER_NEPER } from "./search-problem";

/** What the drivers alone leave of a goal, whatever stands before them. */
export interface DriverFloor {
  /** dB: no network, of however many parts, has a loss below this. */
  readonly lossDb: number;
  /** dB: the loss of the best voltages that were found; what lies between the two is not known. */
  readonly reachableDb: number;
  /** Hz, those of the goal. */
  readonly frequencies: Float64Array;
  /** dB at each frequency: its own floor, root mean square over the places. */
  readonly byFrequencyDb: Float64Array;
  /** Hz, where that is largest. */
  readonly worstFrequency: number;
  /** The same in words. */
  readonly says: string;
}

/**
 * Where the drivers themselves limit: a loss below which no network comes, of however many parts. At each frequency every driver's part is given any voltage at all, of any size and phase; then what
 * is left is how unlike the places are: the least weighted variance of the level over them, $\min_h \mathrm{Var}_k\, 20 \lg |\sum_b P_{kb} h_b / T_k|$. The level is free at each frequency by that alone. The least is
 * bounded from below by halving boxes of $h$, as far as 6,000 boxes a frequency reach, so that the floor may lie below what is reachable but never above it. With one place, or as many drivers as places, it is mostly 0. What a
 * network can't do (voltages that hang together by its parts, limits of the goal) is left out; so is the coupling of frequencies by real parts.
 *
 * @param loudspeaker drivers and what was measured of them, Pa/V; its network only says which drivers share a part
 * @param options `goal` with its `frequencies` (Hz): of third-octave powers no such bound is known
 * @returns the floor in dB, over all and at each frequency
 * @throws DividingNetworkError `invalid-argument`, `nothing-heard`, `not-measured`, `outside-band`
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { driverFloor } from "dividing-network/design";
 *
 * const grid = logGrid(500, 8000, 9);
 * const heard = (azimuth: number, level: number) => pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => level), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, azimuth, timeZero: "common" });
 * const box = loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", pressures: [heard(0, 0.2), heard(30, 0.1)] }] });
 * // 6.02 dB apart whatever the network does: 3.01 dB to either side of the middle.
 * driverFloor(box, { goal: { frequencies: grid, places: [{}, { azimuth: 30 }] } }).lossDb; // 3.01
 * ```
 */
export function driverFloor<T extends Entries>(loudspeaker: Loudspeaker<T>, options: { readonly goal: Goal | GoalOptions }): DriverFloor {
  const caller = "driverFloor";
  const box = checkLoudspeaker(caller, loudspeaker) as unknown as Loudspeaker;
  const { goal: aim } = checkOptions(caller, options, ["goal"]);
  const goal = goalOf(aim);
  const { frequencies } = goal;
  if (frequencies === undefined || !(frequencies[0]! > 0))
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "goal" must state its frequencies, above 0 Hz: of a loss of third-octave powers no floor is known`,
      "goal({ frequencies: logGrid(…) })",
    );
  if (box.drivers.every(({ pressures }) => pressures.every(({ response: { re, im } }) => !re.some(Boolean) && !im.some(Boolean))))
    throw new DividingNetworkError(
      "nothing-heard",
      `${caller}: every driver's pressures are 0 Pa: there is nothing to be heard behind any network`,
      "Look whether the right files were read",
    );
  return floorAt(caller, box, goal, frequencies);
}

/** The same for a goal that was looked at. */
export function floorAt(caller: string, box: Loudspeaker, goal: Goal, frequencies: Float64Array): DriverFloor {
  const [n, K] = [frequencies.length, goal.places.length];
  const divisor = goal.places.map((place) => {
    const shape = shapeOf(goal, place);
    return frequencies.map((frequency) => 10 ** (-(shape(frequency) + (place.levelDb ?? goal.levelDb ?? 0)) / 20));
  });
  const heard = pressuresOn(caller, box, goal, distanceOf(caller, box, goal), frequencies, divisor);
  const parts = [...new Set(box.drivers.map(({ part }) => part))];
  const drawn = new Set<string>();
  const each = parts.map((part) => goal.places.map((_, k) => heard.perVoltOf(part, k, drawn)));
  const total = goal.places.reduce((sum, { weight }) => sum + weight, 0);
  // Places whose level is stated and those whose level is free stand to one another as the free level pleases: each kind has a floor of its own.
  const kinds = [true, false]
    .map((stated) => goal.places.flatMap(({ levelDb }, k) => (((levelDb ?? goal.levelDb) !== undefined) === stated ? [k] : [])))
    .filter((own) => own.length > 0);
  // A partner outside the network is counted as one more driver: it can do less than that.
  const columns = parts.length + (heard.beside === undefined ? 0 : 1);
  const at = (k: number, b: number, f: number, part: number) =>
    b < parts.length ? each[b]![k]![2 * f + part]! : heard.beside![2 * (f * K + k) + part]!;
  const spreads = Array.from({ length: n }, (_, f) => {
    let [lower, upper] = [0, 0];
    for (const own of kinds) {
      const numbers = Float64Array.from({ length: 2 * own.length * columns }, (_, i) =>
        at(own[Math.floor((i >> 1) / columns)]!, (i >> 1) % columns, f, i & 1),
      );
      const share = own.reduce((sum, k) => sum + goal.places[k]!.weight, 0);
      const weights = Float64Array.from(own, (k) => goal.places[k]!.weight / share);
      const spread = leastSpread({ rows: own.length, columns, numbers, weights });
      [lower, upper] = [lower + (spread.lower * share) / total, upper + (spread.upper * share) / total];
    }
    return { lower, upper };
  });
  const mean = (pick: (of: (typeof spreads)[number]) => number) =>
    DB_PER_NEPER * Math.sqrt(spreads.reduce((sum, spread) => sum + pick(spread), 0) / n);
  const byFrequencyDb = Float64Array.from(spreads, ({ lower }) => DB_PER_NEPER * Math.sqrt(lower));
  const worst = byFrequencyDb.reduce((most, value, f) => (value > byFrequencyDb[most]! ? f : most), 0);
  const lossDb = mean(({ lower }) => lower);
  const says =
    lossDb < 5e-4
      ? "by their sound at the goal's places the drivers set no limit that is known"
      : `by their sound at the goal's places the drivers let no network come below ${lossDb.toFixed(3)} dB, most of all at ${hertz(frequencies[worst]!)} (${byFrequencyDb[worst]!.toFixed(2)} dB)`;
  return Object.freeze({
    lossDb,
    reachableDb: mean(({ upper }) => upper),
    frequencies,
    byFrequencyDb,
    worstFrequency: frequencies[worst]!,
    says,
  });
}

/** Of a goal whose loss is of third-octave powers: what is known by plain levels at some frequencies (Hz), which is no bound of that loss. */
export function plainFloorAt(caller: string, box: Loudspeaker, goal: Goal, frequencies: Float64Array): DriverFloor {
  const plain = floorAt(caller, box, goal, frequencies);
  const { lossDb, byFrequencyDb, worstFrequency } = plain;
  const says =
    lossDb < 5e-4
      ? plain.says
      : `by plain levels at ${frequencies.length} frequencies the drivers let no network come below ${lossDb.toFixed(3)} dB, most of all at ${hertz(worstFrequency)} (${Math.max(...byFrequencyDb).toFixed(2)} dB); third-octave powers are smoother, and of them no such limit is known`;
  return Object.freeze({ ...plain, lossDb: 0, says });
}
