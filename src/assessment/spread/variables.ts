import { DividingNetworkError } from "../../errors";
import { checkList, checkNumber, checkObject, checkOptions, show } from "../../errors/internal";
import type { Loudspeaker } from "../../loudspeaker";
import type { PartTolerance, ToleranceByKind } from "../../network";
import { ASSUMED_TOLERANCES, scatteringNames, tolerancedValues, type TolerancedValue, type VaryingNetwork } from "../../network/internal";
import { describe, isDriver } from "../../parts/internal";
import { ASSUMED_DRIVER, DRIVER_QUANTITIES, type DriverQuantity, type DriverTolerance } from "./tolerances";

/** One quantity of one driver that scatters. */
export interface DriverVariable {
  /** Index of the driver. */
  readonly driver: number;
  readonly quantity: DriverQuantity;
  /** ± dB, relative, or s. */
  readonly size: number;
}

/** One number that is drawn for each loudspeaker: what it moves goes along together. */
export interface Group {
  /** Parts or drivers. */
  readonly of: readonly string[];
  /** A part's value by its name, or a driver's quantity. */
  readonly quantity: string;
  /** ± relative, dB or s: the largest of its members'. */
  readonly tolerance: number;
  readonly unit: "" | "dB" | "s";
  /** Whether nobody stated it. */
  readonly assumed: boolean;
  readonly values: readonly TolerancedValue[];
  readonly drivers: readonly DriverVariable[];
}

/** What of the options says what scatters. */
export interface VariableOptions {
  readonly tolerances?: Readonly<Record<string, PartTolerance>> | undefined;
  readonly byKind?: ToleranceByKind | undefined;
  readonly drivers?: Readonly<Record<string, DriverTolerance>> | undefined;
  readonly unstated?: "assumed" | "exact" | undefined;
  readonly lots?: readonly (readonly string[])[] | undefined;
}

const UNITS = { levelDb: "dB", resonance: "", q: "", delay: "s" } as const;
const LARGEST = { levelDb: 40, resonance: 0.5, q: 0.8, delay: 1e-3 } as const;

/** ± of every driver's quantities, stated or assumed. */
export function driverTolerances(
  caller: string,
  { drivers }: Loudspeaker,
  given: VariableOptions,
): readonly Readonly<Record<DriverQuantity, { readonly size: number; readonly assumed: boolean }>>[] {
  const named = checkOptions(
    `${caller}: drivers`,
    given.drivers,
    drivers.map(({ name }) => name),
  );
  return drivers.map(({ name }) => {
    const own = Object.hasOwn(named, name)
      ? checkOptions(
          `${caller}: drivers.${name}`,
          checkObject(caller, `drivers.${name}`, named[name], "{ levelDb, resonance, q, delay }"),
          DRIVER_QUANTITIES,
        )
      : {};
    return Object.fromEntries(
      DRIVER_QUANTITIES.map((quantity) => {
        const value = own[quantity];
        if (value !== undefined)
          checkNumber(caller, `drivers.${name}.${quantity}`, value, { min: 0, max: LARGEST[quantity], unit: UNITS[quantity] });
        return [quantity, { size: value ?? (given.unstated === "exact" ? 0 : ASSUMED_DRIVER[quantity]), assumed: value === undefined }];
      }),
    ) as Record<DriverQuantity, { size: number; assumed: boolean }>;
  });
}

/** All that scatters, in groups that are drawn together. `moving` says of each driver's part whether its resonance can move. */
export function groupsOf(
  caller: string,
  box: Loudspeaker,
  circuit: VaryingNetwork["circuit"],
  given: VariableOptions,
  moving: ReadonlySet<string>,
): readonly Group[] {
  const { network, drivers } = box;
  const lots = lotsOf(caller, box, given.lots);
  const stated: Record<string, PartTolerance> = { ...checkOptions(`${caller}: tolerances`, given.tolerances, scatteringNames(circuit)) };
  for (const name of Object.keys(stated)) {
    if (isDriver(network[name]![0]))
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "tolerances" must name resistors, coils, capacitors, pads and transformers, got the driver ${show(name)}`,
        "Say how a driver scatters under drivers: { name: { levelDb, resonance, q, delay } }",
      );
  }
  for (const [name, [part]] of Object.entries(network)) {
    // What a part states of itself, unless it is said otherwise here.
    const own = "tolerance" in part ? part.tolerance : undefined;
    if (own !== undefined && !Object.hasOwn(stated, name)) stated[name] = own;
  }
  const kinds = given.byKind ?? (given.unstated === "exact" ? {} : ASSUMED_TOLERANCES);
  const found: { of: string; group: Group }[] = [];
  for (const value of tolerancedValues(caller, circuit, stated, kinds)) {
    const named = Object.hasOwn(stated, value.part);
    // A resistor that stands for a driver is nothing that is bought.
    if (!named && drivers.some(({ part }) => part === value.part)) continue;
    const assumed = !named && given.byKind === undefined;
    found.push({
      of: value.part,
      group: { of: [value.part], quantity: value.parameter, tolerance: value.relative, unit: "", assumed, values: [value], drivers: [] },
    });
  }
  const seen = new Set<string>();
  driverTolerances(caller, box, given).forEach((own, driver) => {
    const { name, part } = drivers[driver]!;
    for (const quantity of DRIVER_QUANTITIES) {
      const { size, assumed } = own[quantity];
      const moves = quantity === "resonance" || quantity === "q";
      if (size === 0 || (moves && !moving.has(part))) continue;
      // Drivers on one part have one impedance: their resonance and Q move together.
      const sharing = moves ? drivers.flatMap((other, index) => (other.part === part ? [index] : [])) : [driver];
      const key = `${quantity} of ${part}`;
      if (moves && seen.has(key)) continue;
      seen.add(key);
      found.push({
        of: name,
        group: {
          of: sharing.map((index) => drivers[index]!.name),
          quantity,
          tolerance: size,
          unit: UNITS[quantity],
          assumed,
          values: [],
          drivers: sharing.map((index) => ({ driver: index, quantity, size })),
        },
      });
    }
  });
  const joined = new Map<string, Group>();
  for (const { of, group } of found) {
    const lot = lots.get(of);
    const key = lot === undefined ? `one ${of} ${group.quantity}` : `lot ${lot} ${group.quantity}`;
    const before = joined.get(key);
    joined.set(
      key,
      before === undefined
        ? group
        : {
            ...group,
            of: [...before.of, ...group.of],
            tolerance: Math.max(before.tolerance, group.tolerance),
            assumed: before.assumed && group.assumed,
            values: [...before.values, ...group.values],
            drivers: [...before.drivers, ...group.drivers],
          },
    );
  }
  return [...joined.values()];
}

/** By part or driver: the number of its lot. */
function lotsOf(caller: string, { network, drivers }: Loudspeaker, given: VariableOptions["lots"]): ReadonlyMap<string, number> {
  const lots = new Map<string, number>();
  checkList<readonly string[]>(caller, "lots", given ?? [], "lists of parts or drivers").forEach((lot, index) => {
    const kinds = new Set<string>();
    for (const name of checkList<string>(caller, `lots[${index}]`, lot, "names of parts or drivers")) {
      checkName(caller, `lots[${index}]`, { network, drivers }, name);
      if (lots.has(name))
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}: ${show(name)} must stand in one lot at most, got it in lots[${lots.get(name)}] and lots[${index}]`,
          "Join the two lots",
        );
      lots.set(name, index);
      kinds.add(drivers.some((driver) => driver.name === name) ? "driver" : describe(network[name]![0]).noun);
    }
    if (kinds.size > 1)
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "lots[${index}]" must hold parts of one kind, got ${[...kinds].join(" and ")}`,
        "What comes from one lot is alike: coils, capacitors, or drivers",
      );
  });
  return lots;
}

/** Refuses what is neither a part nor a driver. */
export function checkName(
  caller: string,
  argument: string,
  { network, drivers }: Pick<Loudspeaker, "network" | "drivers">,
  name: unknown,
): void {
  if (typeof name === "string" && (Object.hasOwn(network, name) || drivers.some((driver) => driver.name === name))) return;
  throw new DividingNetworkError(
    "unknown-part",
    `${caller}: "${argument}" names ${show(name)}, which is neither a part nor a driver`,
    `Parts: ${Object.keys(network).join(", ")}; drivers: ${drivers.map((driver) => driver.name).join(", ")}`,
  );
}
