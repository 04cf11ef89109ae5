import type { Loudspeaker } from "../loudspeaker";
import type { Entries } from "../network";
import type { ChooseValuesOptions, ChosenValues } from "./choose-values-data";
import { approximated, enumerated } from "./enumerate";
import { provenByThirds } from "./prove-thirds";
import { searched } from "./search";
import { valuesPlan } from "./values-plan";

/**
 * The best network that given parts can make: of all combinations of candidates, the one whose loss against the goal is least and that keeps the
 * goal's limits. The answer is proven: branches between `in` and `gnd` are solved once for each of
 * their own states, and pairs of sets of states are ruled out together by a bound that none of them undercuts (docs/design.md). Where the goal states no `frequencies`
 * (third-octave powers) up to 2000 networks are judged one by one; a larger space is searched on twelfths of an octave,
 * improved by the true loss, and proven by bounds of it, unless that takes more than a million pairs (then with the bound reached) or too much memory (then with a bound of 0).
 *
 * The limits are those of the goal; |Z| and peak dissipation hold over the audio band as far as impedances are known, on 48 points per octave; the mean
 * level over the goal's places and band, and that on the axis, is held to `leastLevelDb` and to the given loudspeaker's less `largestLevelLossDb`; a spared
 * driver's voltage at its resonance lies below that of its passband, as `assess` has it. Combinations that make no network (a shorted source) are left out.
 * Candidates that are lines of a stock, or combinations of such, are taken no more often than they are there; `largestPrice` is a limit on all of them together. Where the goal states the amplifier's level, no part is chosen beyond the share of its rating that may be used (of stated limits alone, beyond the rating).
 * With `robust` the network is chosen by loudspeakers drawn within the tolerances of parts and drivers: of up to 20,000 networks (2000 without `frequencies`) each is drawn from, until it is seen that it is no better; in a larger space single changes lead on from the best as drawn, without proof.
 * A branch may have 4 million states, and all tables together take at most about 1 GB.
 *
 * @param loudspeaker network, drivers and source; its network says what is connected to what
 * @param options `goal`; `values` (candidates by designator, SI or text with units); `polarity`; `ratedImpedance` in Ω; `largestPrice` (dimensionless); `robust` (dB, dimensionless); `signal`; `onProgress`; `shard` (dimensionless)
 * @returns the best network, its loss and the proven bound in dB, the count of networks and of what was looked at (dimensionless)
 * @throws DividingNetworkError `no-feasible-network` naming the limits and by how much they are missed, `too-many-states`, `unknown-part`, `wrong-part`,
 *   `no-resonance`, `aborted` before any network was found, `invalid-argument`, and what `lossOf` throws
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { chooseValues } from "dividing-network/design";
 *
 * const grid = logGrid(500, 8000, 9);
 * const loud = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { R1: [resistor(1), "in", "a"], cone: [resistor(8), "a", "gnd"] }, drivers: [{ name: "cone", pressures: [loud] }] });
 * const best = await chooseValues(box, { goal: { frequencies: grid, levelDb: 79, limits: "stated" }, values: { R1: [1, "2.2 Ω", "4R7", "short"] } });
 * best.network["R1"]?.[0]; // { kind: "resistor", resistance: 4.7 }
 * best.lossDb; // < 0.01
 * best.proven; // true
 * ```
 */
export async function chooseValues<T extends Entries>(loudspeaker: Loudspeaker<T>, options: ChooseValuesOptions<T>): Promise<ChosenValues> {
  const { question, way, answer } = valuesPlan("chooseValues", loudspeaker, options);
  if (way === "searched") return answer(await searched(question, question.goal.frequencies!, 0));
  if (way === "enumerated") return answer(await enumerated(question));
  const found = await approximated(question);
  return answer(question.robust === undefined ? await provenByThirds(question, found) : found);
}
