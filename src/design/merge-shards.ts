import { DividingNetworkError } from "../errors";
import { checkList, checkNumber, checkObject, owned, show } from "../errors/internal";
import { network as networkOf, type Entries } from "../network";
import type { ChosenValues } from "./choose-values-data";

const CALLER = "mergeShards";

/**
 * The answer of a whole search from those of its shards, by their index: the best network, the lowest bound, proven when all are. Of several networks with the
 * same loss that of the lowest index is given.
 *
 * @param results of `chooseValues` with `shard: { index, of }`, `of` of them in the order of `index`; losses in dB; `undefined` for a shard that was refused with
 *   `no-feasible-network`
 * @returns what the whole search gives: losses in dB, counts dimensionless; where several networks have the least loss it may be another of them
 * @throws DividingNetworkError `invalid-argument` where a shard is missing, stands elsewhere or belongs to another search; `no-feasible-network` where none found one
 * @example
 * ```ts
 * import { frequencyResponse, logGrid, loudspeaker, pressurePerVolt, resistor } from "dividing-network";
 * import { chooseValues, mergeShards } from "dividing-network/design";
 *
 * const grid = logGrid(500, 8000, 9);
 * const loud = pressurePerVolt({ response: frequencyResponse(grid, grid.map(() => 0.1), grid.map(() => 0)), drive: { voltage: 1, at: "terminals" }, distance: 1, timeZero: "common" });
 * const box = loudspeaker({ network: { R1: [resistor(1), "in", "a"], cone: [resistor(8), "a", "gnd"] }, drivers: [{ name: "cone", pressures: [loud] }] });
 * const shard = (index: number) => chooseValues(box, { goal: { frequencies: grid, levelDb: 79, limits: "stated" }, values: { R1: [1, 2.2, 4.7, "short"] }, shard: { index, of: 2 } });
 * const best = mergeShards(await Promise.all([shard(0), shard(1)]));
 * best.network["R1"]?.[0]; // { kind: "resistor", resistance: 4.7 }
 * best.proven; // true
 * ```
 */
export function mergeShards(results: readonly (ChosenValues | undefined)[]): ChosenValues {
  const given = checkList<ChosenValues | undefined>(CALLER, "results", results, "what chooseValues() gives for each shard");
  if (given.length === 0)
    throw new DividingNetworkError("invalid-argument", `${CALLER}: "results" must have an entry for each shard, got none`);
  const found: ChosenValues[] = [];
  // A hole counts as undefined, and is read as such.
  for (let index = 0; index < given.length; index++) {
    const result = given[index];
    if (result === undefined) continue;
    checkObject(CALLER, `results[${index}]`, result, "what chooseValues() gives");
    const { shard, lossDb, lowerBoundDb, networks, evaluated, proven } = result;
    if (shard?.index !== index || shard.of !== given.length) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${CALLER}: "results[${index}]" must be of shard ${index} of ${given.length}, got ${shard === undefined ? "a whole search" : `shard ${show(shard.index)} of ${show(shard.of)}`}`,
        "Give all shards in the order of their index; undefined for one that found no network",
      );
    }
    for (const [name, value] of Object.entries({ lossDb, lowerBoundDb, networks, evaluated }))
      checkNumber(CALLER, `results[${index}].${name}`, value, { min: 0 });
    if (typeof proven !== "boolean")
      throw new DividingNetworkError(
        "invalid-argument",
        `${CALLER}: "results[${index}].proven" must be true or false, got ${show(proven)}`,
      );
    if (found.length > 0 && networks !== found[0]!.networks)
      throw new DividingNetworkError(
        "invalid-argument",
        `${CALLER}: "results" must be shards of one search, got ${found[0]!.networks} and ${networks} networks`,
      );
    const [ours, theirs] = [found[0]?.shard?.question, shard.question];
    if (ours !== undefined && theirs !== undefined && ours !== theirs)
      throw new DividingNetworkError(
        "invalid-argument",
        `${CALLER}: "results" must be shards of one search, got "results[${index}]" of another loudspeaker, goal, candidates or polarities`,
        "Give each shard the very same arguments but for its index",
      );
    found.push(result);
  }
  if (found.length === 0)
    throw new DividingNetworkError(
      "no-feasible-network",
      `${CALLER}: none of the ${given.length} shards found a network that keeps the goal's limits`,
      "The search without shards names the limits that are missed, and by how much",
    );
  const best = found.reduce((one, next) => (next.lossDb < one.lossDb ? next : one));
  const { lossDb, networks } = best;
  return Object.freeze({
    network: networkOf<Entries>(best.network),
    lossDb,
    networks,
    polarity: Object.freeze({ ...best.polarity }),
    ...(best.taken === undefined ? {} : { taken: owned(best.taken) }),
    lowerBoundDb: found.reduce((least, each) => Math.min(least, each.lowerBoundDb), lossDb),
    proven: found.every(({ proven }) => proven),
    evaluated: found.reduce((sum, { evaluated }) => sum + evaluated, 0),
  });
}
