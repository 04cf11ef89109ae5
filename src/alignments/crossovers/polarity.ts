import { logGrid } from "../../numeric";
import type { WorkingBuilder } from "../../quantity";
import type { TransferFunction } from "../../response";
import { sumOf } from "./sum-of";
import type { Polarity } from "./crossover-data";

/** The polarity of the high-pass way: reversed where n · 90° is nearer to 180° than to 0°, or where that delays less. */
export function polarityOf(order: number): Polarity {
  return order % 4 === 2 || order % 4 === 3 ? "reversed" : "same";
}

/**
 * The polarity of two ways whose sum strays less from 0 dB within a factor of 30 of the corner; where both stray alike,
 * that of the order.
 */
export function flatterPolarity(low: TransferFunction, high: TransferFunction, frequency: number, order: number): Polarity {
  const grid = logGrid(frequency / 30, frequency * 30, 121);
  const strays = (polarity: Polarity): number =>
    sumOf([{ transfer: low }, { transfer: high, polarity }], grid).levelDb.reduce((worst, level) => Math.max(worst, Math.abs(level)), 0);
  const [same, reversed] = [strays("same"), strays("reversed")];
  return Math.abs(same - reversed) < 1e-9 ? polarityOf(order) : same < reversed ? "same" : "reversed";
}

/** A step of a working: the angle between two neighbouring ways at their corner in Hz, and why the upper one is connected as it is. */
export function polarityStep(
  steps: WorkingBuilder,
  symbol: string,
  lower: TransferFunction,
  upper: TransferFunction,
  frequency: number,
  note: string,
): void {
  const apart = { φlow: [phaseDegreesAt(lower, frequency), "°"], φhigh: [phaseDegreesAt(upper, frequency), "°"] } as const;
  steps.step(
    symbol,
    "°",
    {
      formula: "φhigh − φlow",
      tex: "\\varphi = \\varphi_\\mathrm{high} - \\varphi_\\mathrm{low}",
      source: "derived here: phases of the two ways at their corner, from poles and zeros",
      note,
    },
    apart,
    (v) => v.φhigh - v.φlow,
  );
}

/** The phase (degrees, unwrapped over the factors) of a transfer function at a frequency in Hz. */
export function phaseDegreesAt({ zeros, poles, gain }: TransferFunction, frequency: number): number {
  const w = 2 * Math.PI * frequency;
  const turn = (list: TransferFunction["poles"]): number => list.reduce((sum, { re, im }) => sum + Math.atan2(w - im, -re), 0);
  return ((turn(zeros) - turn(poles) + (gain < 0 ? Math.PI : 0)) * 180) / Math.PI;
}
