import { DividingNetworkError } from "../errors";
import { checkList, show } from "../errors/internal";
import type { Entries, Entry } from "../network";
import { describe, isCoupling, isDriver, mainOf } from "../parts/internal";
import { linkHint } from "./link-hint";

/** One value to be found, by its logarithm. */
export interface Unknown {
  readonly part: string;
  readonly parameter: string;
  /** As drawn, SI, above 0. */
  readonly drawn: number;
}

/** The values that may move: main values of the parts named, and their losses where asked for. */
export function unknownsOf(caller: string, network: Entries, vary: readonly string[] | undefined, parasitics: boolean): readonly Unknown[] {
  const coupled = new Set(Object.values(network).flatMap(([part, ...names]) => (isCoupling(part) ? names : [])));
  const names = vary === undefined ? undefined : checkList<string>(caller, "vary", vary, "parts' names");
  const drawnOf = (name: string, parameter: string): number => (network[name]![0] as unknown as Record<string, number>)[parameter] ?? 0;
  const mainIn = (name: string) => mainOf(network[name]![0])?.parameter;
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
        `${caller}: "vary" must name resistors, coils and capacitors, got ${name}, a ${describe(network[name]![0]).noun}`,
        isDriver(network[name]![0])
          ? "A driver's impedance is measured by itself; fit it with driverImpedance"
          : (linkHint(network[name]![0]) ?? "Leave it as drawn: it is no single value that impedance or voltages tell apart here"),
      );
    if (coupled.has(name))
      throw new DividingNetworkError(
        "unsupported",
        `${caller}: "vary" names ${name}, a coil that is coupled to another`,
        "Measure coupled coils by themselves",
      );
    if (!(drawnOf(name, main) > 0))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "vary" names ${name}, which is drawn with 0: there is no scale to begin with`,
        "Draw it with a guess above 0",
      );
  }
  if (names !== undefined && new Set(names).size < names.length)
    throw new DividingNetworkError("invalid-argument", `${caller}: "vary" must name each part once, got ${names.join(", ")}`);
  const chosen = names ?? Object.keys(network).filter((name) => !coupled.has(name) && drawnOf(name, mainIn(name) ?? "") > 0);
  const unknowns = chosen.flatMap((part) => {
    return [mainIn(part)!, ...(parasitics ? (describe(network[part]![0]).losses ?? []) : [])]
      .filter((parameter) => drawnOf(part, parameter) > 0)
      .map((parameter) => ({ part, parameter, drawn: drawnOf(part, parameter) }));
  });
  if (unknowns.length === 0)
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: the network must have a resistor, a coil or a capacitor whose value is unknown, got none`,
      "Name them in vary",
    );
  return unknowns;
}

/** The network with other values, given by their logarithms. */
export function withValues(network: Entries, unknowns: readonly Unknown[], logarithms: ArrayLike<number>): Entries {
  const own: Record<string, Entry> = { ...network };
  unknowns.forEach(({ part, parameter }, index) => {
    const [before, ...nodes] = own[part]!;
    own[part] = [{ ...before, [parameter]: Math.exp(logarithms[index]!) }, ...nodes] as unknown as Entry;
  });
  return own;
}
