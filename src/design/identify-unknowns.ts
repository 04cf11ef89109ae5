import { DividingNetworkError } from "../errors";
import { checkList, show } from "../errors/internal";
import type { Entries } from "../network";
import { describe, isDriver } from "../parts/internal";
import { drawnOtherwise, MOVABLE, movableOf, onlyNamed } from "./movable";
import type { MovingValue } from "./moving-value";
import { scaleOf } from "./scale";

/** One value to be found, on its scale. */
export type Unknown = MovingValue;

/** The values that may move: main values, factors and ratios of what is named, and the losses where asked for. */
export function unknownsOf(caller: string, network: Entries, vary: readonly string[] | undefined, parasitics: boolean): readonly Unknown[] {
  const isNamedOnly = onlyNamed(network);
  const names = vary === undefined ? undefined : checkList<string>(caller, "vary", vary, "parts' names");
  const drawnOf = (name: string, parameter: string): number => (network[name]![0] as unknown as Record<string, number>)[parameter] ?? 0;
  const mainIn = (name: string) => movableOf(network[name]![0])?.parameter;
  for (const name of names ?? []) {
    if (!Object.hasOwn(network, name))
      throw new DividingNetworkError(
        "unknown-part",
        `${caller}: "vary" names ${show(name)}, which isn't in the network`,
        `Parts: ${Object.keys(network).join(", ")}`,
      );
    const main = mainIn(name);
    if (main === undefined)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "vary" must name ${MOVABLE}, got ${name}, a ${describe(network[name]![0]).noun}`,
        isDriver(network[name]![0])
          ? "A driver's impedance is measured by itself; fit it with driverImpedance"
          : drawnOtherwise(network[name]![0]),
      );
    if (!hasStart(main, drawnOf(name, main)))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "vary" names ${name}, which is drawn with 0: there is no scale to begin with`,
        "Draw it with a guess above 0",
      );
  }
  if (names !== undefined && new Set(names).size < names.length)
    throw new DividingNetworkError("invalid-argument", `${caller}: "vary" must name each part once, got ${names.join(", ")}`);
  const chosen = names ?? Object.keys(network).filter((name) => !isNamedOnly(name) && drawnOf(name, mainIn(name) ?? "") > 0);
  const unknowns = chosen.flatMap((part) => {
    return [mainIn(part)!, ...(parasitics ? (describe(network[part]![0]).losses ?? []) : [])]
      .filter((parameter) => hasStart(parameter, drawnOf(part, parameter)))
      .map((parameter) => ({ part, parameter, drawn: drawnOf(part, parameter), scale: scaleOf(parameter, drawnOf(part, parameter)) }));
  });
  if (unknowns.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: the network must have a resistor, a coil or a capacitor whose value is unknown, got none`,
      "Name them in vary",
    );
  return unknowns;
}

/** Whether a value as drawn is one that its scale has: a factor may be 0, and a ratio below 0. */
function hasStart(parameter: string, drawn: number): boolean {
  return parameter === "k" || (parameter === "ratio" ? drawn !== 0 : drawn > 0);
}
