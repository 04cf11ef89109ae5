import type { Entries } from "../../network";
import { describe, expandPart, isCoil, isCoupling, isDriver } from "../../parts/internal";

/** Designators of what has a winding of its own, so that it couples with what lies near: coils, also those of a custom part, and transformers; `drivers` are left out. */
export function woundParts(network: Entries, drivers: readonly string[]): readonly string[] {
  return Object.entries(network).flatMap(([name, [part]]) => {
    if (isCoupling(part) || isDriver(part) || drivers.includes(name)) return [];
    if (isCoil(part)) return part.inductance > 0 ? [name] : [];
    const { branches, transformers = [] } = expandPart(part);
    const wound =
      transformers.length > 0
      || describe(part)
        .symbols(part)
        .some(({ symbol }) => symbol === "inductor")
      || branches.some(({ law, values }) => law.limits.some(({ unit }, index) => unit === "H" && values[index]! > 0));
    return wound ? [name] : [];
  });
}
