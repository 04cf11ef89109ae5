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
  const places = Int32Array.from(drive, (frequency) => grid.indexOf(frequency));
  const passband = new Float64Array(drive.length);
  const held = spared.map(({ part, resonance, leastDb }) => {
    const g = all.findIndex(({ channels }) => channels.includes(part));
    return { g, first: all[g]!.channels.indexOf(part) * n, resonance: grid.indexOf(resonance), leastDb };
  });
  const [re, im] = [new Float64Array(n), new Float64Array(n)];
  return (nodes, at) => {
    re.fill(0);
    im.fill(0);
    for (let g = 0; g < all.length; g++) {
      const { admittance } = all[g]!.drivenOf!(g < tables.length ? -1 - nodes[at + g]! : 0);
      for (let f = 0; f < n; f++) {
        re[f]! += admittance[2 * f]!;
        im[f]! += admittance[2 * f + 1]!;
      }
    }
    for (let f = 0; f < n; f++) {
      const x = 1 + source.re[f]! * re[f]! - source.im[f]! * im[f]!;
      const y = source.re[f]! * im[f]! + source.im[f]! * re[f]!;
      behind[f] = Math.sqrt(x * x + y * y);
    }
    for (const { g, first, resonance, leastDb } of held) {
      const { voltages } = all[g]!.drivenOf!(g < tables.length ? -1 - nodes[at + g]! : 0);
      const voltAt = (f: number) => {
        const x = voltages[2 * (first + f)]!;
        const y = voltages[2 * (first + f) + 1]!;
        return Math.sqrt(x * x + y * y) / behind[f]!;
      };
      for (let i = 0; i < places.length; i++) passband[i] = voltAt(places[i]!);
      if (spareDb(drive, passband, voltAt(resonance)) < leastDb - SLACK) return true;
    }
    return false;
  };
}
