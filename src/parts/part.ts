import { DividingNetworkError } from "../errors";
import { show } from "../errors/internal";
import { expandCapacitor, type Capacitor } from "./capacitor";
import type { Coupling } from "./coupling";
import { expandDriver, type DriverImpedance } from "./driver-impedance";
import { expandInductor, type Inductor } from "./inductor";
import { expandLPad, type LPad } from "./l-pad";
import type { Expansion } from "./law";
import { expandResistor, type Resistor } from "./resistor";
import { expandTransformer, type Transformer } from "./transformer";

/** A part with two terminals. */
export type TwoTerminalPart = Resistor | Inductor | Capacitor | DriverImpedance;

/** Any part that stands between nodes. */
export type Part = TwoTerminalPart | LPad | Transformer;

/** What may stand first in a network's entry. */
export type PartOrCoupling = Part | Coupling;

const expansions = {
  resistor: expandResistor,
  inductor: expandInductor,
  capacitor: expandCapacitor,
  driver: expandDriver,
  "l-pad": expandLPad,
  transformer: expandTransformer,
} as const;

/**
 * The branches by which the solver sees a part.
 *
 * @param part any part but a coupling
 * @returns its terminals' count, branches (values in SI), inner couplings and ideal transformers
 * @throws DividingNetworkError `unknown-part` when the object is not a part
 */
export function expandPart(part: Part): Expansion {
  const kind: unknown = typeof part === "object" && part !== null ? part.kind : undefined;
  if (typeof kind !== "string" || !Object.hasOwn(expansions, kind)) {
    throw new DividingNetworkError("unknown-part", `a part must come from resistor, inductor, capacitor, lPad, driverImpedance or transformer, got ${show(kind === undefined ? part : kind)}`, "Call one of them, as in resistor(\"4.7 Ω\")");
  }
  const expansion = (expansions[kind as keyof typeof expansions] as (given: Part) => Expansion)(part);
  for (const { law, values } of expansion.branches) {
    const wrong = values.findIndex((value) => !Number.isFinite(value));
    if (wrong >= 0) throw new DividingNetworkError("invalid-part", `a ${kind} must have a finite ${law.parameters[wrong]}, got ${show(values[wrong])}`, "Make parts with the functions of this library");
  }
  return expansion;
}
