import { checkOptions } from "../errors/internal";
import { compile, type Entries } from "../network";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import { bandMeanLevelDb } from "../response";
import { checkBand } from "./band";
import { logGrid } from "../numeric";
import type { FrequencyBand } from "../quantity";

/**
 * The mean level (dB re 1 V per V of the source, each octave weighing the same) of the voltage across one part
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
export function driveLevelDb<T extends Entries>(
  loudspeaker: Loudspeaker<T>,
  options: { readonly part: string; readonly band: FrequencyBand },
): number {
  const { part, band } = checkOptions("driveLevelDb", options, ["part", "band"]);
  const { from, to } = checkBand("driveLevelDb", "band", band);
  const grid = logGrid(from, to, Math.max(3, Math.ceil(48 * Math.log2(to / from)) + 1));
  const { network, sourceImpedance } = checkLoudspeaker("driveLevelDb", loudspeaker);
  return bandMeanLevelDb(
    compile<Entries>(network)
      .sweep(grid, sourceImpedance === undefined ? {} : { sourceImpedance })
      .voltage(part),
    { from: grid[0]!, to: grid[grid.length - 1]! },
  );
}
