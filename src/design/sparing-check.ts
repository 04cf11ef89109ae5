import { spareDb } from "../assessment/internal";
import type { BranchTable } from "./branch-table";
import type { Spared } from "./limits";

/** Rounding that the limit is widened by, dB; the best is held to it by its own solution. */
const SLACK = 1e-6;

/** Hz: where drivers' voltages count for whether they are spared, ascending. */
export function sparingGrid(spared: readonly Spared[], drive: Float64Array): Float64Array {
  return Float64Array.from(new Set([...drive, ...spared.map(({ resonance }) => resonance)])).sort();
}

/** Whether some driver isn't spared behind a source's impedance, by which branches hang together there: of single states, each of which is solved when it is first asked for. */
export class SparingCheck {
  private readonly drive: Float64Array;
  private readonly source: { readonly re: Float64Array; readonly im: Float64Array };
  private readonly all: readonly BranchTable[];
  /** How many of them have states, one of which is asked for. */
  private readonly varied: number;
  private readonly held: readonly { readonly g: number; readonly first: number; readonly resonance: number; readonly leastDb: number }[];
  private readonly places: Int32Array;
  private readonly passband: Float64Array;
  private readonly re: Float64Array;
  private readonly im: Float64Array;

  /** @param source Ω, re and im, on `sparingGrid` */
  constructor(
    spared: readonly Spared[],
    drive: Float64Array,
    source: { readonly re: Float64Array; readonly im: Float64Array },
    tables: readonly BranchTable[],
    constant: readonly BranchTable[],
  ) {
    const grid = sparingGrid(spared, drive);
    const all = [...tables, ...constant];
    [this.drive, this.source, this.all, this.varied] = [drive, source, all, tables.length];
    this.held = spared.map(({ part, resonance, leastDb }) => {
      const g = all.findIndex(({ channels }) => channels.includes(part));
      return { g, first: all[g]!.channels.indexOf(part) * grid.length, resonance: grid.indexOf(resonance), leastDb };
    });
    this.places = Int32Array.from(drive, (frequency) => grid.indexOf(frequency));
    this.passband = new Float64Array(drive.length);
    [this.re, this.im] = [new Float64Array(grid.length), new Float64Array(grid.length)];
  }

  unspared(nodes: Int32Array, at: number): boolean {
    const { all, varied, held, places, passband, source, re, im } = this;
    const n = re.length;
    re.fill(0);
    im.fill(0);
    for (let g = 0; g < all.length; g++) {
      const { admittance } = all[g]!.drivenOf!(g < varied ? -1 - nodes[at + g]! : 0);
      for (let f = 0; f < n; f++) {
        re[f]! += admittance[2 * f]!;
        im[f]! += admittance[2 * f + 1]!;
      }
    }
    // Now 1 + Z·Y.
    for (let f = 0; f < n; f++) {
      const [yr, yi] = [re[f]!, im[f]!];
      re[f] = 1 + source.re[f]! * yr - source.im[f]! * yi;
      im[f] = source.re[f]! * yi + source.im[f]! * yr;
    }
    for (const { g, first, resonance, leastDb } of held) {
      const { voltages } = all[g]!.drivenOf!(g < varied ? -1 - nodes[at + g]! : 0);
      for (let i = 0; i < places.length; i++) passband[i] = this.voltAt(voltages, first, places[i]!);
      if (spareDb(this.drive, passband, this.voltAt(voltages, first, resonance)) < leastDb - SLACK) return true;
    }
    return false;
  }

  /** V/V at a place of the grid. */
  private voltAt(voltages: Float64Array, first: number, f: number): number {
    const [x, y] = [voltages[2 * (first + f)]!, voltages[2 * (first + f) + 1]!];
    return Math.sqrt((x * x + y * y) / (this.re[f]! * this.re[f]! + this.im[f]! * this.im[f]!));
  }
}
