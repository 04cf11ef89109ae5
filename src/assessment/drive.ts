import { compile, type Entries } from "../network";
import type { Loudspeaker } from "../loudspeaker";
import { levelDb } from "../response";
import { anchoredGrid, type Band } from "./band";

/**
 * The mean level (dB re 1 V per V of the source, each 24th of an octave counting the same) of the voltage across one part
 * of a loudspeaker's network over a band: below the crossover, what a tweeter's excursion follows.
 *
 * @param loudspeaker network, drivers and source
 * @param options `part`: designator; `band` in Hz
 * @returns dB re 1 V/V
 * @throws DividingNetworkError what `solve` throws
 * @example
 * ```ts
 * import { frequencyResponse, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { driveLevelDb } from "dividing-network/assessment";
 *
 * const cone = pressurePerVolt({ response: frequencyResponse([500, 1000], [1, 1], [0, 0]), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { R1: [resistor(4), "in", "a"], cone: [resistor(4), "a", "gnd"] }, drivers: [{ name: "cone", pressures: [cone] }] });
 * driveLevelDb(box, { part: "cone", band: { from: 200, to: 800 } }); // -6.0206
 * ```
 */
export function driveLevelDb<T extends Entries>(loudspeaker: Loudspeaker<T>, { part, band }: { readonly part: string; readonly band: Band }): number {
  const grid = anchoredGrid(band, 24);
  const { sourceImpedance } = loudspeaker;
  const level = levelDb(compile(loudspeaker.network).sweep(grid, sourceImpedance === undefined ? {} : { sourceImpedance }).voltage(part as never));
  return level.reduce((sum, value) => sum + value, 0) / level.length;
}
