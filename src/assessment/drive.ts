import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import { compile, type Entries } from "../network";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { levelDb } from "../response";
import { anchoredGrid, checkBand, POINTS_PER_OCTAVE, type BandText } from "./band";

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
export function driveLevelDb<T extends Entries>(loudspeaker: Loudspeaker<T>, options: { readonly part: string; readonly band: BandText }): number {
  const { part, band } = checkOptions("driveLevelDb", options, ["part", "band"]);
  const grid = anchoredGrid(checkBand("driveLevelDb", "band", band), POINTS_PER_OCTAVE);
  if (grid.length === 0) throw new DividingNetworkError("band-too-narrow", "driveLevelDb: no 24th of an octave lies in \"band\"", "Give a wider band");
  const { network, sourceImpedance } = checkLoudspeaker("driveLevelDb", loudspeaker);
  const level = levelDb(compile<Entries>(network).sweep(grid, sourceImpedance === undefined ? {} : { sourceImpedance }).voltage(part));
  return level.reduce((sum, value) => sum + value, 0) / level.length;
}
