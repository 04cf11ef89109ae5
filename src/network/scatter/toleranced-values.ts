import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import { describe, SCATTERING } from "../../parts/internal";
import type { Circuit } from "../circuit";
import { branchState } from "../state";

/** One value that scatters. */
export interface TolerancedValue {
  readonly part: string;
  readonly parameter: string;
  readonly branch: number;
  readonly index: number;
  readonly nominal: number;
  /** ± relative to the nominal value. */
  readonly relative: number;
}

/** ± relative, for a part's main values, or for each of its values by name: `{ fs: 0.1, qes: 0.15 }`. */
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

/** The values that scatter, in the order of the network. A value of 0 stays 0. */
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
  const named = checkOptions(`${caller}: tolerances`, byPart, [...circuit.parts.keys()]);
  const found: TolerancedValue[] = [];
  for (const [part, { part: device, branches }] of circuit.parts) {
    const { kind } = device;
    const own = Object.hasOwn(named, part) ? named[part] : undefined;
    const given = own ?? (Object.hasOwn(kinds, kind) ? kinds[kind as keyof ToleranceByKind] : undefined);
    if (given === undefined) continue;
    const where = own === undefined ? `byKind.${kind}` : `tolerances.${part}`;
    const parameters = new Set(branches.flatMap((branch) => circuit.branches[branch]!.law.parameters));
    if (typeof given === "object" && given !== null) checkOptions(`${caller}: ${where}`, given, [...parameters]);
    else if (own !== undefined && (describe(device).toleranceByName === true || parameters.size === 0)) {
      const hint =
        parameters.size === 0
          ? "Take it out: a measured impedance and an ideal transformer have no values"
          : "Give each of its values its own, as in { re: 0.03, fs: 0.1 }";
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${where}" must be tolerances by the name of the value, got ${show(given)}`,
        hint,
      );
    }
    for (const branch of branches) {
      const { law, values } = circuit.branches[branch]!;
      law.parameters.forEach((parameter, index) => {
        const each = typeof given === "object" ? given[parameter] : index === 0 ? given : undefined;
        if (each === undefined) return;
        const relative = checkNumber(caller, typeof given === "object" ? `${where}.${parameter}` : where, each, { min: 0, below: 1 });
        const nominal = values[index]!;
        if (relative > 0 && nominal !== 0 && branchState(circuit.branches[branch]!, false) !== "short")
          found.push({ part, parameter, branch, index, nominal, relative });
      });
    }
  }
  return found;
}
