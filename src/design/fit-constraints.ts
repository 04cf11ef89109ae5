import { spareDb } from "../assessment/internal";
import { equivalentPeakDissipationResistance } from "../parts";
import type { ComplexArrays } from "../numeric";
import type { Solved } from "./fit-solver";
import type { Limits } from "./limits";
import { DB_PER_NEPER } from "./search-problem";

/** The limits as numbers that must not be above 0: logarithms of ratios, so that 0.01 is about 1 %. */
export interface FitConstraints {
  readonly count: number;
  readonly values: (solved: Solved, meanLevelDb: () => number, out: Float64Array) => void;
  readonly slopes: (solved: Solved, moved: Solved, meanLevelSlope: number, out: Float64Array) => void;
}

/** The limits on a common grid: where the load, the drivers' passbands and their resonances lie in it; `channels` are the drivers' parts in the order of the voltages. */
export function fitConstraints(
  { smallestImpedance, smallestPeakDissipationResistance: peak, leastLevelDb, spared, drive: driveGrid }: Limits,
  load: Int32Array,
  drive: Int32Array,
  resonances: Int32Array,
  channels: readonly string[],
): FitConstraints {
  const [byZ, byPeak, byLevel] = [smallestImpedance > 0 ? load.length : 0, peak > 0 ? load.length : 0, leastLevelDb > -Infinity ? 1 : 0];
  const channelOf = spared.map(({ part }) => channels.indexOf(part));
  /** The equivalent peak dissipation resistance of each impedance. */
  const peaks = ({ re, im }: ComplexArrays) =>
    Float64Array.from(load, (at) => equivalentPeakDissipationResistance({ re: Math.max(0, re[at]!), im: im[at]! }));
  return {
    count: byZ + byPeak + byLevel + spared.length,
    values({ voltages, impedance: { re, im } }, meanLevelDb, out) {
      for (let i = 0; i < byZ; i++) out[i] = Math.log(smallestImpedance / Math.hypot(re[load[i]!]!, im[load[i]!]!));
      if (byPeak > 0) peaks({ re, im }).forEach((value, i) => (out[byZ + i] = Math.log(peak / value)));
      if (byLevel > 0) out[byZ + byPeak] = (leastLevelDb - meanLevelDb()) / DB_PER_NEPER;
      spared.forEach(({ leastDb }, s) => {
        const own = voltages[channelOf[s]!]!;
        const size = (at: number) => Math.hypot(own.re[at]!, own.im[at]!);
        out[byZ + byPeak + byLevel + s] = (leastDb - spareDb(driveGrid, Array.from(drive, size), size(resonances[s]!))) / DB_PER_NEPER;
      });
    },
    slopes({ voltages, impedance: { re, im } }, { voltages: movedVoltages, impedance: moved }, meanLevelSlope, out) {
      for (let i = 0; i < byZ; i++) {
        const [a, b] = [re[load[i]!]!, im[load[i]!]!];
        out[i] = -(a * moved.re[load[i]!]! + b * moved.im[load[i]!]!) / (a * a + b * b);
      }
      if (byPeak > 0) {
        // By differences along the way the impedance moves: the formula has corners.
        const step = 1e-6;
        const shifted = (by: number) =>
          peaks({ re: re.map((value, i) => value + by * moved.re[i]!), im: im.map((value, i) => value + by * moved.im[i]!) });
        const [ahead, behind] = [shifted(step), shifted(-step)];
        for (let i = 0; i < byPeak; i++) out[byZ + i] = -Math.log(ahead[i]! / behind[i]!) / (2 * step);
      }
      if (byLevel > 0) out[byZ + byPeak] = -meanLevelSlope / DB_PER_NEPER;
      spared.forEach((_, s) => {
        const [own, slope] = [voltages[channelOf[s]!]!, movedVoltages[channelOf[s]!]!];
        const size = (at: number, by: number) => Math.hypot(own.re[at]! + by * slope.re[at]!, own.im[at]! + by * slope.im[at]!);
        const step = 1e-6;
        const spare = (by: number) =>
          spareDb(
            driveGrid,
            Array.from(drive, (at) => size(at, by)),
            size(resonances[s]!, by),
          );
        out[byZ + byPeak + byLevel + s] = -(spare(step) - spare(-step)) / (2 * step * DB_PER_NEPER);
      });
    },
  };
}
