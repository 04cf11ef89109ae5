import type { Goal } from "../assessment";
import { withPartner } from "../assessment/internal";
import type { Loudspeaker } from "../loudspeaker";
import { pressuresAt } from "../loudspeaker/internal";
import { DRIVE_VOLTAGE } from "../physics";
import { frequencyResponse } from "../response";
import type { BranchTable } from "./branch-table";

/** What drivers give on a grid at the goal's places, over the target there: [place] by frequency. */
export interface PressuresOn {
  /** What one channel gives per volt at its terminals at a place: re and im in turn over the frequencies. */
  readonly perVoltOf: (part: string, place: number, turned: ReadonlySet<string>) => Float64Array;
  /** What is heard beside the network: [frequency][place], re and im in turn. */
  readonly beside: Float64Array | undefined;
  /** Per volt at a channel's terminals, with the channel's sign: [frequency][place][channel]; and what branches without choices give: [frequency][place]. */
  readonly laid: (
    varied: readonly string[],
    constant: readonly { readonly channels: readonly string[]; readonly table: Float64Array }[],
    turned: ReadonlySet<string>,
  ) => { readonly perVolt: Float64Array; readonly constant: Float64Array };
}

/**
 * @param divisor of every pressure in Pa, by place and frequency
 * @param known of each place the frequencies measured there, where they aren't all: nothing is heard at the others
 */
export function pressuresOn(
  caller: string,
  box: Loudspeaker,
  goal: Goal,
  distance: number,
  frequencies: Float64Array,
  divisor: readonly Float64Array[],
  known?: readonly { readonly first: number; readonly end: number }[],
): PressuresOn {
  const { drivers } = box;
  const [n, K] = [frequencies.length, goal.places.length];
  const grids = goal.places.map((_, k) => {
    const { first, end } = known?.[k] ?? { first: 0, end: n };
    return { first, end, grid: frequencies.subarray(first, end) };
  });
  const pressures = goal.places.map(({ azimuth, elevation }, k) =>
    pressuresAt(caller, box, { distance, azimuth, elevation }, grids[k]!.grid),
  );
  const perVoltOf = (part: string, k: number, turned: ReadonlySet<string>): Float64Array => {
    const sum = new Float64Array(2 * n);
    drivers.forEach((driver, d) => {
      if (driver.part !== part) return;
      const { re, im } = pressures[k]![d]!;
      const { first, end } = grids[k]!;
      for (let f = first; f < end; f++) {
        const scale = DRIVE_VOLTAGE * divisor[k]![f]! * (turned.has(part) ? -1 : 1);
        sum[2 * f]! += scale * re[f - first]!;
        sum[2 * f + 1]! += scale * im[f - first]!;
      }
    });
    return sum;
  };
  const silence = (grid: Float64Array) => frequencyResponse(grid, new Float64Array(grid.length), new Float64Array(grid.length));
  const partner =
    goal.partner !== undefined && "pressures" in goal.partner
      ? goal.places.map((place, k) => withPartner(goal, place, silence(grids[k]!.grid)))
      : undefined;
  const beside = partner === undefined ? undefined : new Float64Array(2 * n * K);
  partner?.forEach(({ re, im }, k) => {
    const { first, end } = grids[k]!;
    for (let f = first; f < end; f++) {
      beside![2 * (f * K + k)] = re[f - first]! * divisor[k]![f]!;
      beside![2 * (f * K + k) + 1] = im[f - first]! * divisor[k]![f]!;
    }
  });
  const laid: PressuresOn["laid"] = (varied, constant, turned) => {
    const perVolt = new Float64Array(2 * n * K * varied.length);
    const fixedSum = new Float64Array(2 * n * K);
    for (let k = 0; k < K; k++) {
      varied.forEach((part, c) => {
        const one = perVoltOf(part, k, turned);
        for (let f = 0; f < n; f++) {
          perVolt[2 * ((f * K + k) * varied.length + c)] = one[2 * f]!;
          perVolt[2 * ((f * K + k) * varied.length + c) + 1] = one[2 * f + 1]!;
        }
      });
      for (const { channels: own, table } of constant) {
        own.forEach((part, c) => {
          const one = perVoltOf(part, k, turned);
          for (let f = 0; f < n; f++) {
            const [pr, pi, hr, hi] = [one[2 * f]!, one[2 * f + 1]!, table[2 * (c * n + f)]!, table[2 * (c * n + f) + 1]!];
            fixedSum[2 * (f * K + k)]! += pr * hr - pi * hi;
            fixedSum[2 * (f * K + k) + 1]! += pr * hi + pi * hr;
          }
        });
      }
    }
    return { perVolt, constant: fixedSum };
  };
  return { perVoltOf, beside, laid };
}

/** S of the branches without choices, summed: of each, the numbers that follow those of its channels. */
export function admittanceOf(
  constant: readonly Pick<BranchTable, "channels">[],
  tableOf: (index: number) => Float64Array,
  points: number,
  count: number,
): Float64Array {
  const sum = new Float64Array(2 * count);
  constant.forEach(({ channels }, index) => {
    const table = tableOf(index);
    for (let i = 0; i < sum.length; i++) sum[i]! += table[2 * channels.length * points + i]!;
  });
  return sum;
}
