import { DividingNetworkError } from "../errors";
import type { Loudspeaker } from "../loudspeaker";
import { combinationsOf, type Combination } from "./combinations";
import type { Group } from "./driver-groups";
import type { TopologyChoice } from "./topology-choice-data";

/** The usual topologies that are asked for, from few parts to many: at least one. */
export function askedCombinations(
  caller: string,
  box: Loudspeaker,
  groups: readonly Group[],
  maxParts: number,
  topologies: TopologyChoice | undefined,
): readonly Combination[] {
  const combinations = combinationsOf(box, groups, maxParts, topologies);
  if (combinations.length > 0) return combinations;
  throw topologies !== undefined && combinationsOf(box, groups, maxParts).length > 0
    ? new DividingNetworkError(
        "invalid-argument",
        `${caller}: "topologies" must leave at least one drawing of at most ${maxParts} parts, got none`,
        "Ask for more orders (a midrange has 1 or 2), leave less out, or allow more parts",
      )
    : new DividingNetworkError(
        "invalid-argument",
        `${caller}: "maxParts" must allow at least one part on each side of every handover, got ${maxParts}`,
        `Allow ${2 * (groups.length - 1)} or more`,
      );
}
