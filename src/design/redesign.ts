import type { Loudspeaker } from "../loudspeaker";
import { carriedOut } from "./redesign-course";
import type { Redesign } from "./redesign-data";
import type { RedesignOptions } from "./redesign-options";
import { redesignPlan } from "./redesign-plan";

/**
 * Networks for the drivers of a loudspeaker, designed from nothing: of all topologies (low-passes and high-passes of one to three elements, with and without a Zobel
 * network, a series resistor or a divider; a midrange with one or two elements on each side; drivers of one role in parallel; both polarities; a two-way's drivers connected in series, too) the values are
 * searched that come nearest to the goal and keep its limits. What it gives is a front: for each number of parts the best network found, as long as more parts
 * buy less loss. The best are then varied, twice: fourth orders, traps, capacitors that bridge a coil or a resistor, resistors before the filter, two woofers in series or one rolled off lower. Branches are solved once and shared by all drawings that hold them; a drawing that can't come near the best with as few parts is cut by its bound. Where a
 * branch has too many combinations, its values are thinned to a coarser series first, and refined afterwards; a drawing that takes too long is left with the best so far. Each
 * member of the front says of how many networks with as many parts or fewer none is better, or how far below one may still lie (docs/design.md).
 *
 * Parts are never ideal: coils follow `coilResistance`, capacitors have a dissipation factor of 0.002 (a choice, no source). Handovers are looked for between 0.8
 * and 6 kHz in a two-way, between 150 Hz and 1.2 kHz and 1.5 and 8 kHz in a three-way (common practice, no source). The level may fall against the loudspeaker as given by
 * the goal's `largestLevelLossDb`. Where neither `ratedImpedance` nor the goal states what the amplifier bears, |Z| may not fall below 80 % of the
 * least of any group of drivers by itself (choice, no source), unless only stated limits hold. Outside the goal's band the level may lie no further above the target than `largestHumpDb`. Where the goal states the amplifier's level, parts of a stock are held to their ratings.
 *
 * With a `stock` every part is one of its lines, with its own losses, and no line is taken more often than it is there (times `units`); `largestPrice` is a limit like the others. Losses that
 * the stock doesn't state are assumed as without one. With `mostPieces: 2` two lines may stand in the place of one part (docs/stock.md). The front then also holds networks that are cheaper than all that are nearer with as few parts.
 *
 * With `robust` networks are chosen by what tolerances of parts and drivers do to them: the loss to be expected, or the share of good loudspeakers, of a few that are drawn, the same for every network.
 * From each topology's best as drawn single changes of values lead on; of what is chosen so there is no proof.
 *
 * @param loudspeaker drivers with roles, what was measured of them (Pa/V), and the network as found
 * @param options `goal`; `robust` (dB, dimensionless); `prove`; `series`, or `stock` with `largestPrice`, `units` and `mostPieces`; `maxParts` (all dimensionless); `levelStepDb`; `topologies`; `coilResistance` (Ω by H); `ratedImpedance` in Ω; `signal`; `onProgress`
 * @returns the front with losses and levels in dB, counts dimensionless
 * @throws DividingNetworkError `not-in-stock` where the stock holds no parts of a kind that is needed, `no-feasible-network` naming the limits that the simplest topology breaks, `aborted` before any network was found, `invalid-argument`, and what
 *   `chooseValues` and `lossOf` throw
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { redesign } from "dividing-network/design";
 *
 * const grid = logGrid(500, 8000, 17);
 * const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({
 *   network: { cone: [resistor(8), "in", "gnd"], dome: [resistor(8), "in", "gnd"] },
 *   drivers: [{ name: "cone", role: "woofer", pressures: [flat] }, { name: "dome", role: "tweeter", pressures: [flat] }],
 * });
 * const { front } = await redesign(box, { goal: { frequencies: grid, limits: "stated" }, maxParts: 2 });
 * Object.keys(front[0]!.network); // ["L1", "dome", "C1", "cone"]: in series
 * front[0]!.lossDb; // < 0.2
 * ```
 */
export async function redesign(loudspeaker: Loudspeaker, options: RedesignOptions = {}): Promise<Redesign> {
  const plan = redesignPlan("redesign", loudspeaker, options);
  return carriedOut(plan, { hands: 1, look: plan.look });
}
