import type { Loudspeaker } from "../loudspeaker";
import type { Entries } from "../network";
import { logGrid } from "../numeric";
import { isDriver } from "../parts/internal";
import { magnitude } from "../response";
import type { Band } from "./band";
import type { Goal } from "./goal-types";
import { knownBand } from "./load";
import { QUIETEST_DB } from "./third-octaves";

/** A driver that is to be spared at its resonance. */
export interface Spare {
  readonly driver: string;
  readonly part: string;
  /** dB by which its voltage is to lie below its passband's. */
  readonly limitDb: number;
  /** Whether the goal names it. */
  readonly stated: boolean;
  /** Hz; absent where its impedance shows none, or where the network can't be solved for want of another driver's. */
  readonly resonance?: number;
}

/** dB below its passband at its resonance: second order an octave above it (common practice, no source). */
const SPARED_DB = 12;

/** Who is to be spared: whom the goal names and, unless only stated limits hold, every tweeter. */
export function sparesOf({ network, drivers }: Loudspeaker, goal: Goal): readonly Spare[] {
  const { from, to } = knownBand(network);
  return drivers.flatMap(({ name, part, role }) => {
    const own = Object.hasOwn(goal.drivers, name) ? goal.drivers[name] : undefined;
    if (own === "not spared" || (own === undefined && (role !== "tweeter" || goal.limits === "stated"))) return [];
    const resonance = resonanceOf(network, part);
    const known = resonance !== undefined && resonance >= from && resonance <= to;
    return [{ driver: name, part, limitDb: own ?? SPARED_DB, stated: own !== undefined, ...(known ? { resonance } : {}) }];
  });
}

const PER_OCTAVE = 12;

/** Hz at which a passband's voltage is looked for: at least twelve points an octave of the judged band, both ends included. */
export function passbandGrid({ from, to }: Band): Float64Array {
  const octaves = Math.log2(to / from);
  return octaves > 1e-6 ? logGrid(from, to, Math.ceil(PER_OCTAVE * octaves) + 1) : Float64Array.of(to);
}

/**
 * dB by which the voltage at the resonance lies below that of the passband, from magnitudes (V/V) on `passbandGrid`. The passband is the octave in which the mean square
 * is highest: it hangs on this driver's branch alone, and a narrow peak doesn't raise it much. A band below an octave is a passband as a whole.
 */
export function spareDb(frequencies: Float64Array, volts: ArrayLike<number>, atResonance: number): number {
  const steps = volts.length === 1 ? 0 : Math.min(volts.length - 1, Math.round(Math.LN2 / Math.log(frequencies[1]! / frequencies[0]!)));
  let highest = 0;
  for (let first = 0; first + steps < volts.length; first++) {
    let [sum, weights] = [0, 0];
    for (let i = 0; i <= steps; i++) {
      const weight = i === 0 || i === steps ? 0.5 : 1;
      sum += weight * volts[first + i]! ** 2;
      weights += weight;
    }
    highest = Math.max(highest, sum / weights);
  }
  // A driver that gets nothing anywhere is spared of everything.
  return Math.min(-QUIETEST_DB, highest > 0 ? -20 * Math.log10(atResonance / Math.sqrt(highest)) : Infinity);
}

/** dB by which a driver's voltage at and beside its resonance lies below its passband's, by what gives its magnitude (V/V) at frequencies (Hz): one definition for the verdict and the search. */
export function sparedDb(
  volts: (frequencies: Float64Array) => Float64Array,
  passband: Float64Array,
  resonance: number,
  known: Band,
): number {
  const at = volts(Float64Array.of(resonance))[0]!;
  return spareDb(passband, volts(passband), notchFilled(at, volts(aroundResonance(resonance, known))));
}

/** Hz: a third of an octave around a resonance, as far as impedances are known. */
export function aroundResonance(resonance: number, { from, to }: Band): Float64Array {
  const [low, high] = [Math.max(from, resonance * 2 ** (-1 / 6)), Math.min(to, resonance * 2 ** (1 / 6))];
  return low < high ? logGrid(low, high, 33) : Float64Array.of(resonance);
}

/** dB by which the mean square over a third of an octave may lie above the value in its middle: for a slope of 48 dB an octave it lies 2.3 dB above, 10 lg(sinh a/a). */
const NOTCH_DB = 3;

/** V/V at a resonance, and the root mean square around it where that is much more: a narrow notch at the resonance itself spares nothing beside it. */
export function notchFilled(at: number, beside: ArrayLike<number>): number {
  const mean = Math.sqrt(Array.from(beside).reduce((sum, volts) => sum + volts * volts, 0) / beside.length);
  return mean > at * 10 ** (NOTCH_DB / 20) ? mean : at;
}

/** Hz: where a driver's impedance has its peak, at least a tenth above what follows; undefined when it shows none. */
export function resonanceOf(network: Entries, part: string): number | undefined {
  const [device] = network[part]!;
  if (!isDriver(device)) return undefined;
  if ("model" in device) return device.model.fs > 0 ? device.model.fs : undefined;
  const { frequencies } = device.response;
  const size = magnitude(device.response);
  let best: number | undefined;
  for (let i = 1; i < size.length - 1; i++) {
    if (!(size[i]! >= size[i - 1]! && size[i]! > size[i + 1]!) || frequencies[i]! > 5000) continue;
    // What follows within two octaves is lower by a tenth, and so is what comes before.
    const after = size
      .subarray(i)
      .reduce((least, value, k) => (frequencies[i + k]! <= 4 * frequencies[i]! ? Math.min(least, value) : least), Infinity);
    const before = size.subarray(0, i).reduce((least, value) => Math.min(least, value), Infinity);
    if (size[i]! > 1.1 * Math.max(after, before) && (best === undefined || size[i]! > size[frequencies.indexOf(best)]!))
      best = frequencies[i]!;
  }
  return best;
}
