import { DividingNetworkError } from "../../errors";
import { checkNumber, checkOptions, show } from "../../errors/internal";
import type { Frequency, Resistance } from "../../quantity";
import { inSi } from "../../quantity/internal";
import type { ChainReactance } from "./chain-transfer";
import { checkFrequency } from "../filters/check-filter";
import type { Ladder, LadderElement } from "./ladder-data";

/** The losses of a ladder's parts; what is left out is lossless. */
export interface LadderLosses {
  /** Direct-current resistance, Ω: of every coil, or by designator. */
  readonly dcr?: Resistance | Readonly<Record<string, Resistance>> | undefined;
  /** Q of every coil, ωL/R, dimensionless, at the frequency `at`; in place of `dcr`. */
  readonly coilQ?: number | undefined;
  /** Hz: where `coilQ` holds. */
  readonly at?: Frequency | undefined;
  /** Equivalent series resistance, Ω: of every capacitor, or by designator. */
  readonly esr?: Resistance | Readonly<Record<string, Resistance>> | undefined;
  /** tan δ of every capacitor, dimensionless; in place of `esr`. */
  readonly dissipationFactor?: number | undefined;
}

/** Checks the losses and returns a function that puts them to an element. */
export function checkLosses(caller: string, ladder: Ladder, losses: LadderLosses): (element: LadderElement) => ChainReactance {
  const given = checkOptions(caller, losses, ["dcr", "coilQ", "at", "esr", "dissipationFactor"]);
  for (const [one, other] of [
    ["dcr", "coilQ"],
    ["esr", "dissipationFactor"],
  ] as const) {
    if (given[one] !== undefined && given[other] !== undefined) {
      throw new DividingNetworkError(
        "invalid-argument",
        `${caller}: "${one}" and "${other}" describe the same loss, got both`,
        "Give one of them",
      );
    }
  }
  if ((given.coilQ === undefined) !== (given.at === undefined)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "coilQ" and "at" must be given together`,
      "The Q of a coil holds at a frequency",
    );
  }
  const q = given.coilQ === undefined ? Infinity : checkNumber(caller, "coilQ", given.coilQ, { min: 0.5, max: 1e6 });
  const w = given.at === undefined ? 0 : 2 * Math.PI * checkFrequency(caller, "at", given.at);
  const tan =
    given.dissipationFactor === undefined ? 0 : checkNumber(caller, "dissipationFactor", given.dissipationFactor, { min: 0, max: 1 });
  const dcr = byDesignator(caller, "dcr", "inductor", ladder, given.dcr);
  const esr = byDesignator(caller, "esr", "capacitor", ladder, given.esr);
  return ({ designator, placement, kind, value }) => ({
    placement,
    kind,
    value,
    loss: kind === "inductor" ? (dcr.get(designator) ?? 0) + (w === 0 ? 0 : (w * value) / q) : (esr.get(designator) ?? 0),
    tan: kind === "capacitor" ? tan : 0,
  });
}

function byDesignator(
  caller: string,
  argument: string,
  kind: LadderElement["kind"],
  ladder: Ladder,
  given: Resistance | Readonly<Record<string, Resistance>> | undefined,
): Map<string, number> {
  const names = ladder.elements.filter((element) => element.kind === kind).map(({ designator }) => designator);
  if (given === undefined) return new Map();
  if (typeof given !== "object" || given === null) {
    const each = inSi(caller, argument, given, "Ω", { min: 0 });
    return new Map(names.map((name) => [name, each]));
  }
  return new Map(
    Object.entries(given).map(([name, value]) => {
      if (!names.includes(name)) {
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}: "${argument}" must name ${kind}s of the ladder (${names.join(", ")}), got ${show(name)}`,
        );
      }
      return [name, inSi(caller, `${argument}.${name}`, value, "Ω", { min: 0 })];
    }),
  );
}
