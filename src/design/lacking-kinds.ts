import { DividingNetworkError } from "../errors";
import { listOf } from "../quantity/internal";
import type { Slot } from "./drawing-data";

/** A kind of part in words. */
const NOUNS = { resistor: "resistor", inductor: "coil", capacitor: "capacitor" } as const;

/** The error of a stock that makes no topology: which kinds of part it has none of, of those that the nearest topology needs. */
export function lackingKinds(caller: string, lacks: readonly (readonly Slot["kind"][])[], units: number): DividingNetworkError {
  const least = lacks.reduce((best, own) => (own.length < best.length ? own : best));
  return new DividingNetworkError(
    "not-in-stock",
    `${caller}: "stock" must hold parts of every kind that a network of some usual topology needs, got no ${listOf(least.map((kind) => NOUNS[kind])).replace(" and ", " and no ")}${enough(units)}`,
    `Add ${listOf(least.map((kind) => `${NOUNS[kind]}s`))}, or design with a series of preferred values: series: "E12"`,
  );
}

/** What a line must hold so that it can be taken at all. */
export function enough(units: number): string {
  return units === 1 ? " that can be had" : ` that can be had ${units} times, for ${units} loudspeakers`;
}
