import type { Loudspeaker } from "../loudspeaker";
import { isDriver } from "../parts/internal";
import { hertz } from "../quantity/internal";
import type { BassDamping } from "./bass";
import type { Goal } from "./goal-types";
import { knownBand } from "./load";
import { HIGHEST, woofersOf } from "./source-seen";
import { resonanceOf } from "./spared";

/**
 * Limits that the goal states and that nothing which is known of the loudspeaker can be held against, each with why: they count neither as kept nor as broken. A largest Q, of each branch of woofers
 * or full-range drivers of which no single Q is told.
 */
export function limitsNotChecked(box: Loudspeaker, { damping: { largestQ } }: Goal, bass: readonly BassDamping[]): readonly string[] {
  if (largestQ === undefined) return Object.freeze([]);
  const limit = `the largest Q of ${largestQ} that the goal states`;
  const branches = woofersOf(box);
  if (branches.length === 0) return Object.freeze([`${limit} (no driver is a woofer or a full-range driver)`]);
  return Object.freeze(
    branches
      .map(({ part }) => ({ part, row: bass.find((one) => one.part === part) }))
      .filter(({ row }) => row?.q === undefined)
      .map(({ part, row }) => `${limit}, for ${part} (${whyNot(box, part, row)})`),
  );
}

/** Why no Q is told of a driver. */
function whyNot({ network }: Loudspeaker, part: string, row: BassDamping | undefined): string {
  if (!isDriver(network[part]![0])) return "its part is no driver's impedance";
  const resonance = resonanceOf(network, part);
  if (resonance === undefined)
    return "its impedance shows no resonance: measure it from below its peak on, or state the driver's parameters";
  if (resonance > HIGHEST) return `it resonates at ${hertz(resonance)}, above ${HIGHEST} Hz, where it is no bass`;
  const { from, to } = knownBand(network);
  if (resonance < from || resonance > to)
    return `it resonates at ${hertz(resonance)}, and all impedances are known from ${hertz(from)} to ${hertz(to)} alone`;
  return row === undefined
    ? "what it sees of its source there can't be told"
    : "its impedance shows no single peak of which a Q can be told, as a vented box's doesn't: state largestSourceResistance instead";
}
