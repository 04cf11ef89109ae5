import { DividingNetworkError } from "../errors";
import type { CompiledNetwork, Entries } from "../network";
import { logGrid } from "../numeric";
import { magnitude, type FrequencyResponse } from "../response";

/** Part of |Y| by which the susceptance may fall from point to point: a resistance with a coil, the steepest that is no trap, falls by 0.8 % in a 48th of an octave. */
const SMOOTH = 0.02;
/** Points by which an interval is looked at, and how often the narrowest is looked at again. */
const [POINTS, ROUNDS] = [62, 4];

/** Hz: a grid with points added where |Z| dips between two of its points. */
export function withNarrowDips(compiled: CompiledNetwork<Entries>, grid: Float64Array): Float64Array {
  const added = narrowDips(compiled, compiled.sweep(grid).impedance);
  return added.length === 0 ? grid : Float64Array.from(new Set([...grid, ...added])).sort();
}

/**
 * Hz, low to high: where |Z| dips between two of the frequencies at which it is given (Ω). A trap across the input with little loss is narrower than any grid; but the susceptance of what has no
 * loss only rises with frequency, so that one which falls by much from one point to the next has jumped: there the trap lies.
 */
export function narrowDips(compiled: CompiledNetwork<Entries>, { frequencies: grid, re, im }: FrequencyResponse): readonly number[] {
  const admittance = re.map((r, i) => -im[i]! / (r * r + im[i]! * im[i]!));
  const added: number[] = [];
  for (let i = 1; i < grid.length; i++) {
    const size = Math.max(1 / Math.hypot(re[i]!, im[i]!), 1 / Math.hypot(re[i - 1]!, im[i - 1]!));
    if (!(admittance[i - 1]! - admittance[i]! > SMOOTH * size) || !(grid[i - 1]! > 0)) continue;
    const dip = dipBetween(compiled, grid[i - 1]!, grid[i]!);
    if (dip !== undefined) added.push(dip);
  }
  return added;
}

/** Hz: where |Z| is least strictly between two frequencies. A trap without any loss has no solution at its very resonance: what was found just beside it stands. */
function dipBetween(compiled: CompiledNetwork<Entries>, low: number, high: number): number | undefined {
  let [from, to, dip] = [low, high, low];
  for (let round = 0; round < ROUNDS; round++) {
    const fine = logGrid(from, to, POINTS);
    let sizes: Float64Array;
    try {
      sizes = magnitude(compiled.sweep(fine).impedance);
    } catch (error) {
      if (error instanceof DividingNetworkError) break;
      throw error;
    }
    let least = 0;
    for (let k = 1; k < POINTS; k++) if (sizes[k]! < sizes[least]!) least = k;
    dip = fine[least]!;
    [from, to] = [fine[Math.max(0, least - 1)]!, fine[Math.min(POINTS - 1, least + 1)]!];
  }
  return dip > low && dip < high ? dip : undefined;
}
