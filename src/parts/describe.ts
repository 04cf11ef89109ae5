import { DividingNetworkError } from "../errors";
import { checkNumber, show } from "../errors/internal";
import type { FrequencyResponse } from "../response";
import { capacitorKind } from "./capacitor";
import { customKind } from "./custom/custom-part";
import { couplingKind, type Coupling } from "./coupling";
import { driverKind, type DriverImpedance } from "./driver-impedance";
import type { DriverModel } from "./driver-model";
import { inductorKind, type Inductor } from "./inductor";
import type { PartKind } from "./kind";
import { lPadKind } from "./l-pad";
import type { Expansion } from "./law";
import type { Part, PartOrCoupling } from "./part";
import { resistorKind } from "./resistor";
import { transformerKind } from "./transformer";

/** Every kind of part: the one place where they are listed. */
const KINDS = {
  resistor: resistorKind,
  inductor: inductorKind,
  capacitor: capacitorKind,
  driver: driverKind,
  "l-pad": lPadKind,
  transformer: transformerKind,
  coupling: couplingKind,
  custom: customKind,
} as const;

/** The kinds whose parts may scatter by one tolerance for all of a kind. */
export const SCATTERING = ["resistor", "inductor", "capacitor", "l-pad", "transformer"] as const satisfies readonly Part["kind"][];

/** What there is to know of a part's kind; `undefined` for what is no part. */
function kindOf(part: unknown): PartKind<PartOrCoupling> | undefined {
  const kind: unknown = typeof part === "object" && part !== null ? (part as { readonly kind?: unknown }).kind : undefined;
  return typeof kind === "string" && Object.hasOwn(KINDS, kind)
    ? (KINDS[kind as keyof typeof KINDS] as unknown as PartKind<PartOrCoupling>)
    : undefined;
}

/**
 * What there is to know of a part without asking its kind: terminals and branches, words, symbols, main value.
 *
 * @param part any part, or a coupling
 * @returns the description of its kind
 * @throws DividingNetworkError `unknown-part` when the object is not a part
 */
export function describe(part: PartOrCoupling): PartKind<PartOrCoupling> {
  const kind = kindOf(part);
  if (kind !== undefined) return kind;
  const named: unknown = typeof part === "object" && part !== null ? part.kind : undefined;
  throw new DividingNetworkError(
    "unknown-part",
    `a part must come from resistor, inductor, capacitor, lPad, driverImpedance, transformer or part, got ${show(named === undefined ? part : named)}`,
    'Call one of them, as in resistor("4.7 Ω")',
  );
}

/** Whether an entry names coils that it couples, not nodes. */
export function isCoupling(part: unknown): part is Coupling {
  return kindOf(part)?.joins === "coils";
}

/** Whether a part is a coil that a coupling may name. */
export function isCoil(part: unknown): part is Inductor {
  return kindOf(part)?.coil === true;
}

/** Whether a part is a device that sounds. */
export function isDriver(part: unknown): part is DriverImpedance {
  return kindOf(part)?.sounds === true;
}

/** The measured impedance (Ω) that stands for a part, if one does. */
export function measuredImpedance(part: PartOrCoupling): FrequencyResponse | undefined {
  return kindOf(part)?.measured?.(part);
}

/** The parameters of a driver that is known by them. */
export function driverModel(part: PartOrCoupling): DriverModel | undefined {
  return kindOf(part)?.model?.(part);
}

/** What a part is rated for, where its kind has a rating: W of heat, V peak or A peak; the value where it is stated. */
export function ratingOf(
  part: PartOrCoupling,
): { readonly quantity: "power" | "voltage" | "current"; readonly value: number | undefined } | undefined {
  const quantity = kindOf(part)?.rated;
  return quantity === undefined
    ? undefined
    : { quantity, value: (part as unknown as Readonly<Record<string, number | undefined>>)[quantity] };
}

/** The one value of a part that may be chosen freely, SI, by name; none where there are several or none. */
export function mainOf(part: PartOrCoupling): { readonly parameter: string; readonly value: number } | undefined {
  const main = kindOf(part)?.main;
  return main === undefined ? undefined : { parameter: main, value: (part as unknown as Readonly<Record<string, number>>)[main]! };
}

/** The number by which a coupling or an ideal transformer joins: dimensionless, by name. */
export function linkOf(part: PartOrCoupling): { readonly parameter: "k" | "ratio"; readonly value: number } | undefined {
  const link = kindOf(part)?.link?.(part);
  return link === undefined ? undefined : { parameter: link, value: (part as unknown as Readonly<Record<"k" | "ratio", number>>)[link] };
}

/** Whether a part lets no direct current through between its first two terminals, so that it may hold a charge. */
export function blocksDirectCurrent(part: Part): boolean {
  return quotients(part, false).some(({ a }) => a === 0);
}

/** Whether a reading of direct current shows a part of which no resistance is stated: a coil's winding, an ideal transformer. */
export function leavesResistanceOut(part: Part): boolean {
  return (expandPart(part).transformers ?? []).length > 0 || quotients(part, true).some(({ b }) => b === 0);
}

/** Each branch at 0 Hz as a·V = b·I, in sizes; what is only measured isn't known there. */
function quotients(part: Part, coilsAlone: boolean): readonly { readonly a: number; readonly b: number }[] {
  return expandPart(part)
    .branches.filter(({ law, values }) => values.length > 0 && !(coilsAlone && law.kernel === "resistance"))
    .map(({ law, values }) => {
      const out = new Float64Array(4);
      law.ratio(values, 0, 0, out);
      return { a: Math.hypot(out[0]!, out[1]!), b: Math.hypot(out[2]!, out[3]!) };
    });
}

/** Pairs of terminals that make nonsense of a part when they lie at one node. */
export function apartOf(part: Part): readonly (readonly [number, number])[] {
  const { apart, expand } = describe(part);
  return apart ?? expand(part).branches.map(({ from, to }) => [from, to] as const);
}

/** Whether two parts are of one kind, so that one may stand in the other's place by mistake. */
export function sameKind(a: PartOrCoupling, b: PartOrCoupling): boolean {
  return kindOf(a) === kindOf(b);
}

/**
 * A part in words: what it is with its value as the trade writes it (Ω, mH, µF), and what else it must keep.
 *
 * @param part any part, or a coupling
 * @returns the name with the value, and the rest, which may be empty
 */
export function describePart(part: PartOrCoupling): readonly [what: string, detail: string] {
  return describe(part).words(part);
}

/** The ways in which a part's coupling or branches can't be: throws what is wrong with them. */
export function checkPart(part: PartOrCoupling): void {
  if (isCoupling(part)) checkNumber("coupling", "k", part.k);
  else expandPart(part);
}

/**
 * The branches by which the solver sees a part.
 *
 * @param part any part but a coupling
 * @returns its terminals' count, branches (values in SI), inner couplings and ideal transformers
 * @throws DividingNetworkError `unknown-part` when the object is not a part
 */
export function expandPart(part: Part): Expansion {
  const { noun, expand } = describe(part);
  const expansion = expand(part);
  for (const { law, values } of expansion.branches) {
    const wrong = values.findIndex((value) => !Number.isFinite(value));
    if (wrong >= 0)
      throw new DividingNetworkError(
        "invalid-part",
        `a ${noun} must have a finite ${law.parameters[wrong]}, got ${show(values[wrong])}`,
        "Make parts with the functions of this library",
      );
  }
  return expansion;
}
