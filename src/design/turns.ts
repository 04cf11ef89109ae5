import { DividingNetworkError } from "../errors";
import { checkOneOf, show } from "../errors/internal";
import type { Goal } from "../assessment";
import type { Loudspeaker } from "../loudspeaker";
import type { Group } from "./driver-groups";

/** Which drivers are connected the other way round than drawn. */
export interface Turns {
  readonly named: readonly string[];
  /** How many may be either. */
  readonly either: number;
  /** The sets of turned parts to look at. */
  readonly sets: readonly ReadonlySet<string>[];
}

/** The polarities to look at: those that sound alike are looked at once. */
export function turnsOf(caller: string, { network, drivers }: Loudspeaker, { partner }: Goal, polarity: object): Turns {
  if (typeof polarity !== "object" || polarity === null || Array.isArray(polarity))
    throw new DividingNetworkError("invalid-argument", `${caller}: "polarity" must be an object by designator, got ${show(polarity)}`);
  const hung = new Set(drivers.map(({ part }) => part));
  const named = Object.keys(polarity);
  const free: string[] = [];
  const fixed: string[] = [];
  for (const part of named) {
    if (!hung.has(part))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: "polarity" names ${show(part)}, at which no driver hangs`,
        `Drivers' parts: ${[...hung].join(", ")}`,
      );
    if (network[part]!.length !== 3)
      throw new DividingNetworkError("invalid-argument", `${caller}: "polarity.${part}" must name a part with two terminals`);
    const asked = checkOneOf(caller, `polarity.${part}`, (polarity as Record<string, unknown>)[part], ["either", "same", "reversed"]);
    if (asked === "either") free.push(part);
    if (asked === "reversed") fixed.push(part);
  }
  // All drivers turned at once sound the same, unless something else plays beside them.
  const alike = [...hung].every((part) => free.includes(part)) && (partner === undefined || "highPass" in partner);
  const moving = alike ? free.slice(1) : free;
  const sets = Array.from(
    { length: 2 ** moving.length },
    (_, bits) => new Set([...fixed, ...moving.filter((_part, index) => (bits >> index) & 1)]),
  );
  return { named, either: free.length, sets };
}

/** Each group above the lowest as drawn or turned round, all its drivers at once: what sounds the same upside down is looked at once. */
export function turnsOfGroups(groups: readonly Group[]): Turns {
  const moving = groups.slice(1);
  const sets = Array.from(
    { length: 2 ** moving.length },
    (_, bits) => new Set(moving.flatMap(({ parts }, index) => ((bits >> index) & 1 ? parts : []))),
  );
  return { named: moving.flatMap(({ parts }) => parts), either: moving.length, sets };
}
