import type { RobustOptions } from "../design";
import type { Loudspeaker } from "../loudspeaker";
import type { Project } from "./project-types";

/** What a project says of tolerances, as a redesign takes it: of its drivers, and of parts that have no names yet. */
export function projectRobust({ spread = {}, redesign = {} }: Project, { drivers: present }: Loudspeaker): RobustOptions {
  const named = new Set(present.map(({ name }) => name));
  const { drivers, byKind, unstated, distribution, largestLossDb, lots } = spread;
  const alike = (lots ?? []).map((lot) => lot.filter((name) => named.has(name))).filter((lot) => lot.length > 1);
  return Object.freeze({
    ...(drivers === undefined
      ? {}
      : { drivers: Object.freeze(Object.fromEntries(Object.entries(drivers).filter(([name]) => named.has(name)))) }),
    ...(byKind === undefined ? {} : { byKind }),
    ...(unstated === undefined ? {} : { unstated }),
    ...(distribution === undefined ? {} : { distribution }),
    // What must be 0 would be kept by none.
    ...(largestLossDb === undefined || largestLossDb === 0 ? {} : { largestLossDb }),
    ...(alike.length === 0 ? {} : { lots: Object.freeze(alike.map((lot) => Object.freeze(lot))) }),
    ...redesign.robust,
  });
}
