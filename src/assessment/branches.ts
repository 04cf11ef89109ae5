import type { Entries } from "../network";
import type { Loudspeaker, Prediction, PressureAtPlace } from "../loudspeaker";
import { isCoupling } from "../parts/internal";
import { addResponses, type FrequencyResponse } from "../response";

/** A branch of the network as it is heard: the drivers that share one part, or play together behind one, as one. */
export interface Branch {
  /** The first driver's part. */
  readonly part: string;
  /** Names of its drivers. */
  readonly drivers: readonly string[];
  /** Pa. */
  readonly response: FrequencyResponse;
}

/** The branches at one place, from the lowest to the highest by where their energy lies on the log axis. */
export function branchesAt<T extends Entries>(prediction: Prediction<T>, place: PressureAtPlace): readonly Branch[] {
  return branchParts(prediction.loudspeaker as unknown as Loudspeaker)
    .map(({ part, drivers }) => {
      const responses = drivers.map((name) => place.branches[name]!);
      return { part, drivers, response: responses.length === 1 ? responses[0]! : addResponses(...responses) };
    })
    .sort((a, b) => compareNumbers(centre(a.response), centre(b.response)));
}

/**
 * Drivers that hand nothing over to each other: on one part; or of one role and in parallel, in series, or one behind a coil of its own, all of
 * which hang together by nodes inside the network or between the same two nodes.
 */
export function branchParts({ network, drivers }: Loudspeaker): readonly { readonly part: string; readonly drivers: readonly string[] }[] {
  const groups = insideGroups(network);
  const ends = (part: string) => [...network[part]!.slice(1)].sort((a, b) => (a < b ? -1 : 1)).join(" ");
  const found: { readonly part: string; readonly role: string; readonly drivers: string[] }[] = [];
  for (const { name, part, role } of drivers) {
    const own = found.find(
      (branch) =>
        branch.part === part
        || (branch.role === role && (ends(branch.part) === ends(part) || groups.get(branch.part) === groups.get(part))),
    );
    if (own === undefined) found.push({ part, role, drivers: [name] });
    else own.drivers.push(name);
  }
  return found;
}

/** A number for each part, the same for parts that are connected by nodes other than `in` and `gnd`. */
function insideGroups(network: Entries): ReadonlyMap<string, number> {
  const group = new Map<string, number>();
  const ofNode = new Map<string, number>();
  Object.entries(network).forEach(([name, [part, ...nodes]], index) => {
    if (isCoupling(part)) return;
    const inner = nodes.filter((node) => node !== "in" && node !== "gnd");
    const met = new Set(inner.flatMap((node) => ofNode.get(node) ?? []));
    for (const map of [group, ofNode]) for (const [key, number] of map) if (met.has(number)) map.set(key, index);
    group.set(name, index);
    for (const node of inner) ofNode.set(node, index);
  });
  return group;
}

const compareNumbers = (a: number, b: number): number => (a < b ? -1 : a > b ? 1 : 0);

/** The mean of log₂ f, weighted by |p|² per octave. */
function centre({ frequencies, re, im }: FrequencyResponse): number {
  let [sum, weight] = [0, 0];
  for (let i = frequencies[0]! > 0 ? 1 : 2; i < frequencies.length; i++) {
    const power = (re[i]! ** 2 + im[i]! ** 2) * Math.log2(frequencies[i]! / frequencies[i - 1]!);
    sum += power * Math.log2(frequencies[i]!);
    weight += power;
  }
  // A silent branch lies nowhere: lowest.
  return weight > 0 ? sum / weight : -Infinity;
}
