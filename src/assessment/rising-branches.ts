import { compile, type Entries } from "../network";
import type { Loudspeaker } from "../loudspeaker";
import { describe } from "../parts/internal";
import { magnitude } from "../response";
import { anchoredGrid } from "./band";
import { knownBand } from "./load";

/** A branch whose driver gets more than the source gives: a resonance that nothing damps enough. */
export interface RisingBranch {
  /** The driver's part. */
  readonly part: string;
  /** Hz, where the voltage is highest. */
  readonly frequency: number;
  /** dB above the source there. */
  readonly gainDb: number;
  /** The coil and the capacitor with the highest voltage there: what resonates. */
  readonly resonating: readonly string[];
  /** Quality factor, dimensionless: peak frequency over the width at −3 dB from the peak; absent where the width can't be seen. */
  readonly q?: number;
}

/** dB above the source from which a rise is named: a gentle damped network stays below (choice, no source). */
const RISE_DB = 1;

/** The branches of a network that rise above the source, each at its highest peak, from 20 Hz to 20 kHz as far as known. */
export function risingBranches({ network, drivers, sourceImpedance }: Loudspeaker): readonly RisingBranch[] {
  const grid = anchoredGrid(knownBand(network), 48);
  if (grid.length < 3) return Object.freeze([]);
  const sweep = compile<Entries>(network).sweep(grid, sourceImpedance === undefined ? {} : { sourceImpedance });
  const parts = [...new Set(drivers.map(({ part }) => part))];
  return Object.freeze(
    parts.flatMap((part) => {
      const gain = magnitude(sweep.voltage(part)).map((size) => 20 * Math.log10(size));
      let peak = 0;
      for (let i = 1; i < gain.length; i++) if (gain[i]! > gain[peak]!) peak = i;
      if (gain[peak]! < RISE_DB) return [];
      const highest = (stores: "magnetic" | "electric") => {
        const of = Object.entries(network)
          .filter(([, [device]]) => describe(device).stores === stores)
          .map(([name]) => ({ name, size: magnitude(sweep.voltage(name))[peak]! }));
        return of
          .sort((a, b) => b.size - a.size)
          .slice(0, 1)
          .filter(({ size }) => size > 0.5)
          .map(({ name }) => name);
      };
      let [low, high] = [peak, peak];
      while (low > 0 && gain[low]! > gain[peak]! - 3.0103) low--;
      while (high < gain.length - 1 && gain[high]! > gain[peak]! - 3.0103) high++;
      const seen = gain[low]! <= gain[peak]! - 3.0103 && gain[high]! <= gain[peak]! - 3.0103;
      return [
        Object.freeze({
          part,
          frequency: grid[peak]!,
          gainDb: gain[peak]!,
          resonating: Object.freeze([...highest("magnetic"), ...highest("electric")]),
          ...(seen ? { q: grid[peak]! / (grid[high]! - grid[low]!) } : {}),
        }),
      ];
    }),
  );
}
