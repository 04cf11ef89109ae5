import { spareDb } from "../assessment/internal";
import type { BranchTable } from "./branch-table";
import type { Spared } from "./limits";

/** Rounding that the limit is widened by, dB; the best is held to it by its own solution. */
const SLACK = 1e-6;

/** Hz: where drivers' voltages count for whether they are spared, ascending. */
export function sparingGrid(spared: readonly Spared[], drive: Float64Array): Float64Array {
  return Float64Array.from(new Set([...drive, ...spared.map(({ resonance }) => resonance)])).sort();
}

/**
 * Whether some driver isn't spared behind a source's impedance, by which branches hang together there: of single states, each of which is solved when it is first asked for.
 *
 * @param source Ω, re and im, on `sparingGrid`
 */
export function sparingCheck(
  spared: readonly Spared[],
  drive: Float64Array,
  source: { readonly re: Float64Array; readonly im: Float64Array },
  tables: readonly BranchTable[],
  constant: readonly BranchTable[],
): (nodes: Int32Array, at: number) => boolean {
  const grid = sparingGrid(spared, drive);
  const n = grid.length;
  const all = [...tables, ...constant];
  const behind = new Float64Array(n);
  const volts = new Float64Array(n);
  const places = Int32Array.from(drive, (frequency) => grid.indexOf(frequency));
  return (nodes, at) => {
    const own = all.map(({ drivenOf }, g) => drivenOf!(g < tables.length ? -1 - nodes[at + g]! : 0));
    for (let f = 0; f < n; f++) {
      let [re, im] = [0, 0];
      for (const { admittance } of own) {
        re += admittance[2 * f]!;
        im += admittance[2 * f + 1]!;
      }
      behind[f] = Math.hypot(1 + source.re[f]! * re - source.im[f]! * im, source.re[f]! * im + source.im[f]! * re);
    }
    return spared.some(({ part, resonance, leastDb }) => {
      const g = all.findIndex(({ channels }) => channels.includes(part));
      const [{ voltages }, first] = [own[g]!, all[g]!.channels.indexOf(part) * n];
      for (let f = 0; f < n; f++) volts[f] = Math.hypot(voltages[2 * (first + f)]!, voltages[2 * (first + f) + 1]!) / behind[f]!;
      const passband = Float64Array.from(places, (place) => volts[place]!);
      return spareDb(drive, passband, volts[grid.indexOf(resonance)]!) < leastDb - SLACK;
    });
  };
}
