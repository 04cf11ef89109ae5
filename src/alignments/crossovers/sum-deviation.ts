import { logGrid } from "../../numeric";
import { sumOf, type SummedWay } from "./sum-of";

/** How far the level of a sum strays. */
export interface SumDeviation {
  /** dB, lowest level of the sum. */
  readonly lowestDb: number;
  /** Hz, where that is. */
  readonly lowestFrequency: number;
  /** dB, highest level of the sum. */
  readonly highestDb: number;
  /** Hz, where that is. */
  readonly highestFrequency: number;
}

/**
 * Extremes of a sum's level (or power) from a fiftieth of the lowest corner to fifty times the highest, each refined
 * between its neighbours.
 */
export function sumDeviation(
  ways: readonly SummedWay[],
  corners: readonly number[],
  kind: "levelDb" | "powerDb" = "levelDb",
): SumDeviation {
  const grid = logGrid(corners[0]! / 50, corners[corners.length - 1]! * 50, 1001);
  const levels = sumOf(ways, grid)[kind];
  const extreme = (sign: 1 | -1): { readonly at: number; readonly level: number } => {
    const best = levels.reduce((index, level, k) => (sign * level > sign * levels[index]! ? k : index), 0);
    let [low, high] = [grid[Math.max(best - 1, 0)]!, grid[Math.min(best + 1, grid.length - 1)]!];
    let found = { at: grid[best]!, level: levels[best]! };
    for (let round = 0; round < 8; round++) {
      const fine = logGrid(low, high, 9);
      const values = sumOf(ways, fine)[kind];
      const k = values.reduce((index, level, i) => (sign * level > sign * values[index]! ? i : index), 0);
      if (sign * values[k]! >= sign * found.level) found = { at: fine[k]!, level: values[k]! };
      [low, high] = [fine[Math.max(k - 1, 0)]!, fine[Math.min(k + 1, 8)]!];
    }
    return found;
  };
  const [lowest, highest] = [extreme(-1), extreme(1)];
  return Object.freeze({ lowestDb: lowest.level, lowestFrequency: lowest.at, highestDb: highest.level, highestFrequency: highest.at });
}
