import { DividingNetworkError } from "../errors";
import { checkList, checkObject, show } from "../errors/internal";
import { lossOf, spread, type GoalOptions, type Spread, type SpreadOptions } from "../assessment";
import { goalOf } from "../assessment/internal";
import { heldBackGoal } from "./held-back";
import type { Loudspeaker } from "../loudspeaker";
import { checkLoudspeaker } from "../loudspeaker/internal";
import type { Entries } from "../network";

/** Something that holds a network, such as a member of `redesign`'s front. */
export interface NetworkHolder {
  /** The network: `{ ...loudspeaker, network }` is a loudspeaker. */
  readonly network: Entries;
}

/** What `rankByYield` takes: the options of `spread`, which hold for every network alike. */
export interface RankByYieldOptions<T extends NetworkHolder = NetworkHolder> extends Omit<SpreadOptions, "count"> {
  /** Networks to rank, such as members of `redesign`'s front: each holds the loudspeaker's drivers. */
  readonly networks: readonly T[];
  /** Places (degrees) that the design didn't look at: the loss there is reported as a check. */
  readonly heldBack?: GoalOptions["places"] | undefined;
}

/** One network with what tolerances do to it. */
export interface RankedNetwork<T> {
  /** As it was given. */
  readonly member: T;
  /** Its place in the list that was given, dimensionless. */
  readonly index: number;
  /** dB, as drawn. */
  readonly lossDb: number;
  /** Part of the samples that keep every limit, dimensionless. */
  readonly yield: number;
  /** dB at the places that were held back; absent where there are none. */
  readonly heldBackDb?: number;
  /** All that `spread` says. */
  readonly spread: Spread;
}

/** dB that a good loudspeaker may lie further from the goal than the best of all networks as drawn. */
const FURTHER_DB = 0.5;

/**
 * Networks by the share of good loudspeakers that they give: a slightly worse nominal network with a better yield comes first. All are held to the same limits, every one of the
 * goal's and a loss of at most `largestLossDb`, by default 0.5 dB more than the best network as drawn (choice, no source); all are drawn with the same seed. Where two yields
 * are the same, the smaller loss goes first. The level is held against the loudspeaker as given, unless `found` is another.
 *
 * @param loudspeaker drivers and their measured pressures, with the network as found
 * @param options `networks`; `heldBack` in degrees; and what `spread` takes: goal, tolerances, samples, `largestLossDb` in dB
 * @returns the networks, best yield first: losses in dB, yields dimensionless
 * @throws DividingNetworkError `invalid-argument`, and what `spread` throws
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { rankByYield } from "dividing-network/design";
 *
 * const grid = logGrid(500, 8000, 33);
 * const flat = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { R1: [resistor(2), "in", "a"], cone: [resistor(8), "a", "gnd"] }, drivers: [{ name: "cone", pressures: [flat] }] });
 * const networks = [0.1, 0.01].map((tolerance) => ({ network: { R1: [resistor(2, { tolerance }), "in", "a"], cone: [resistor(8), "a", "gnd"] } as const }));
 * const ranked = rankByYield(box, { networks, goal: { frequencies: grid, levelDb: 81.07, limits: "stated" }, unstated: "exact", largestLossDb: 0.1, samples: 200 });
 * ranked.map(({ index }) => index); // [1, 0]
 * ranked[0]!.yield; // 1
 * ```
 */
export function rankByYield<const T extends NetworkHolder>(
  loudspeaker: Loudspeaker,
  options: RankByYieldOptions<T>,
): readonly RankedNetwork<T>[] {
  const caller = "rankByYield";
  const box = checkLoudspeaker(caller, loudspeaker);
  const { networks, heldBack, ...rest } = checkObject(caller, "options", options, "{ networks, … }");
  const members = checkList<T>(caller, "networks", networks, "{ network }");
  if (members.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "networks" must hold at least one { network }, got ${show(networks)}`,
      "Give it redesign(…).front",
    );
  const goal = goalOf(rest.goal);
  const others = heldBackGoal(caller, box, goal, heldBack);
  const boxes = members.map((member, index) => ({
    ...box,
    network: checkObject<NetworkHolder>(caller, `networks[${index}]`, member, "{ network }").network,
  }));
  const losses = boxes.map((one) => lossOf(one, goal).lossDb);
  const largestLossDb = rest.largestLossDb ?? Math.min(...losses) + FURTHER_DB;
  const ranked = members.map((member, index): RankedNetwork<T> => {
    const found = spread(boxes[index]!, { found: box, ...rest, goal, largestLossDb, count: "all" });
    const held = others === undefined ? {} : { heldBackDb: lossOf(boxes[index]!, others).lossDb };
    return Object.freeze({ member, index, lossDb: losses[index]!, yield: found.yield.share, ...held, spread: found });
  });
  return Object.freeze(ranked.sort((a, b) => b.yield - a.yield || a.lossDb - b.lossDb));
}
