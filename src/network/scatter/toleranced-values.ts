import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import { describe, SCATTERING } from "../../parts/internal";
import type { Circuit } from "../circuit";
import type { Place } from "../place";
import { branchState } from "../state";
import { checkFactorsWithin } from "./factors-within";

/** One value that scatters. */
export interface TolerancedValue {
  readonly part: string;
  readonly parameter: string;
  readonly place: Place;
  readonly nominal: number;
  /** ± relative to the nominal value. */
  readonly relative: number;
}

/** ± relative, for a part's main values (a coupling's factor, an ideal transformer's ratio), or for each of its values by name: `{ fs: 0.1, qes: 0.15 }`. */
export type PartTolerance = number | Readonly<Record<string, number>>;

/** A tolerance for every part of a kind. */
export type ToleranceByKind = Readonly<Partial<Record<(typeof SCATTERING)[number], number>>>;

/** What counts when nothing is said: an assumption, not a property of any part. */
export const ASSUMED_TOLERANCES: ToleranceByKind = /* @__PURE__ */ Object.freeze({
  resistor: 0.05,
  inductor: 0.05,
  capacitor: 0.05,
  "l-pad": 0.05,
});

/** What a tolerance may name: parts, and couplings. */
export function scatteringNames({ parts, couplings }: Circuit): readonly string[] {
  return [...new Set([...parts.keys(), ...couplings.map(({ name }) => name)])];
}

/** A value of a part or coupling, as it stands in the circuit. */
interface NamedValue {
  readonly parameter: string;
  readonly place: Place;
  readonly nominal: number;
  /** Whether a plain tolerance means it. */
  readonly main: boolean;
}

/** The values that scatter, in the order of the network, then those of couplings. A value of 0 stays 0. */
export function tolerancedValues(
  caller: string,
  circuit: Circuit,
  byPart: Readonly<Record<string, PartTolerance>> | undefined,
  byKind: ToleranceByKind | undefined,
): TolerancedValue[] {
  const kinds =
    byKind === undefined ? (byPart === undefined ? ASSUMED_TOLERANCES : {}) : checkOptions(`${caller}: byKind`, byKind, SCATTERING);
  if (typeof byPart === "number")
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "tolerances" must be tolerances by the name of the part, got ${show(byPart)}`,
      "Write { C1: 0.05 }, or for all parts of a kind byKind: { capacitor: 0.05 }",
    );
  const named = checkOptions(`${caller}: tolerances`, byPart, scatteringNames(circuit));
  const found: TolerancedValue[] = [];
  for (const part of scatteringNames(circuit)) {
    const device = circuit.parts.get(part)?.part;
    const own = Object.hasOwn(named, part) ? named[part] : undefined;
    const given =
      own ?? (device !== undefined && Object.hasOwn(kinds, device.kind) ? kinds[device.kind as keyof ToleranceByKind] : undefined);
    if (given === undefined) continue;
    const where = own === undefined ? `byKind.${device!.kind}` : `tolerances.${part}`;
    const values = valuesOf(circuit, part);
    const parameters = new Set(values.map(({ parameter }) => parameter));
    if (typeof given === "object" && given !== null) checkOptions(`${caller}: ${where}`, given, [...parameters]);
    else if (own !== undefined && ((device !== undefined && describe(device).toleranceByName === true) || parameters.size === 0)) {
      const hint =
        parameters.size === 0
          ? "Take it out: a measured impedance has no values"
          : "Give each of its values its own, as in { re: 0.03, fs: 0.1 }";
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${where}" must be tolerances by the name of the value, got ${show(given)}`,
        hint,
      );
    }
    for (const { parameter, place, nominal, main } of values) {
      const each = typeof given === "object" ? given[parameter] : main ? given : undefined;
      if (each === undefined) continue;
      const relative = checkNumber(caller, typeof given === "object" ? `${where}.${parameter}` : where, each, { min: 0, below: 1 });
      if (relative > 0 && nominal !== 0 && !("branch" in place && branchState(circuit.branches[place.branch]!, false) === "short"))
        found.push({ part, parameter, place, nominal, relative });
    }
  }
  checkFactorsWithin(caller, circuit, found);
  return found;
}

/** All that a part or coupling has: values of its branches, a factor, an ideal ratio. */
function valuesOf({ parts, branches, couplings, transformers }: Circuit, name: string): readonly NamedValue[] {
  const own = (parts.get(name)?.branches ?? []).flatMap((branch) =>
    branches[branch]!.law.parameters.map((parameter, index): NamedValue => {
      return { parameter, place: { branch, index }, nominal: branches[branch]!.values[index]!, main: index === 0 };
    }),
  );
  return [
    ...own,
    // Of two windings the inductances are what a plain tolerance means.
    ...couplings.flatMap((each, coupling): NamedValue[] =>
      each.name === name ? [{ parameter: "k", place: { coupling }, nominal: each.k, main: own.length === 0 }] : [],
    ),
    ...transformers.flatMap((each, transformer): NamedValue[] =>
      each.part === name ? [{ parameter: "ratio", place: { transformer }, nominal: each.ratio, main: true }] : [],
    ),
  ];
}
