import { spareDb } from "../assessment/internal";
import { equivalentPeakDissipationResistance } from "../parts";
import type { ComplexArrays } from "../numeric";
import type { FitSolver } from "./fit-solver";
import type { Limits } from "./limits";
import { DB_PER_NEPER } from "./search-problem";

/** Limits of one kind as numbers that must not be above 0: logarithms of ratios, so that 0.01 is about 1 %. */
export interface FitConstraint {
  readonly count: number;
  /** Of what was solved and heard last. */
  readonly values: (out: Float64Array) => void;
  /** Their slopes by one unknown. */
  readonly slopes: (unknown: number, out: Float64Array) => void;
}

/** Of the derivatives that are taken along the way on which a solution moves: the formulas have corners. */
const STEP = 1e-6;

/** |Z| and peak dissipation at some points of the solver's grid. */
export function loadConstraint(
  { smallestImpedance, smallestPeakDissipationResistance: peak }: Limits,
  load: Int32Array,
  { solved, moved }: FitSolver,
): FitConstraint {
  const [byZ, byPeak] = [smallestImpedance > 0 ? load.length : 0, peak > 0 ? load.length : 0];
  const { re, im } = solved.impedance;
  /** The equivalent peak dissipation resistance of each impedance. */
  const peaks = (z: ComplexArrays) =>
    Float64Array.from(load, (at) => equivalentPeakDissipationResistance({ re: Math.max(0, z.re[at]!), im: z.im[at]! }));
  return {
    count: byZ + byPeak,
    values(out) {
      for (let i = 0; i < byZ; i++) out[i] = Math.log(smallestImpedance / Math.hypot(re[load[i]!]!, im[load[i]!]!));
      if (byPeak > 0) peaks({ re, im }).forEach((value, i) => (out[byZ + i] = Math.log(peak / value)));
    },
    slopes(unknown, out) {
      const by = moved[unknown]!.impedance;
      for (let i = 0; i < byZ; i++) {
        const [a, b] = [re[load[i]!]!, im[load[i]!]!];
        out[i] = -(a * by.re[load[i]!]! + b * by.im[load[i]!]!) / (a * a + b * b);
      }
      if (byPeak === 0) return;
      const shifted = (step: number) =>
        peaks({ re: re.map((value, i) => value + step * by.re[i]!), im: im.map((value, i) => value + step * by.im[i]!) });
      const [ahead, behind] = [shifted(STEP), shifted(-STEP)];
      for (let i = 0; i < byPeak; i++) out[byZ + i] = -Math.log(ahead[i]! / behind[i]!) / (2 * STEP);
    },
  };
}

/** A mean level, dB, by a function that is linear in the levels but for a constant. */
export function levelConstraint(
  leastDb: number,
  mean: (levels: Float64Array) => number,
  levels: Float64Array,
  levelSlopes: Float64Array,
): FitConstraint {
  return {
    count: leastDb > -Infinity ? 1 : 0,
    values(out) {
      if (leastDb > -Infinity) out[0] = (leastDb - mean(levels)) / DB_PER_NEPER;
    },
    slopes(_, out) {
      if (leastDb > -Infinity) out[0] = -mean(levelSlopes) / DB_PER_NEPER;
    },
  };
}

/** Drivers that are to be spared: where their passbands and resonances lie in the solver's grid; `channels` are the drivers' parts in the order of the voltages. */
export function sparingConstraint(
  { spared, drive: driveGrid }: Limits,
  drive: Int32Array,
  resonances: Int32Array,
  channels: readonly string[],
  { solved, moved }: FitSolver,
): FitConstraint {
  const channelOf = spared.map(({ part }) => channels.indexOf(part));
  const spare = (s: number, size: (at: number) => number) => spareDb(driveGrid, Array.from(drive, size), size(resonances[s]!));
  return {
    count: spared.length,
    values(out) {
      spared.forEach(({ leastDb }, s) => {
        const own = solved.voltages[channelOf[s]!]!;
        out[s] = (leastDb - spare(s, (at) => Math.hypot(own.re[at]!, own.im[at]!))) / DB_PER_NEPER;
      });
    },
    slopes(unknown, out) {
      spared.forEach((_, s) => {
        const [own, by] = [solved.voltages[channelOf[s]!]!, moved[unknown]!.voltages[channelOf[s]!]!];
        const at = (step: number) => spare(s, (f) => Math.hypot(own.re[f]! + step * by.re[f]!, own.im[f]! + step * by.im[f]!));
        out[s] = -(at(STEP) - at(-STEP)) / (2 * STEP * DB_PER_NEPER);
      });
    },
  };
}
