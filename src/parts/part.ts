import type { Capacitor } from "./capacitor";
import type { Coupling } from "./coupling";
import type { DriverImpedance } from "./driver-impedance";
import type { Inductor } from "./inductor";
import type { LPad } from "./l-pad";
import type { Resistor } from "./resistor";
import type { Transformer } from "./transformer";

/** A part with two terminals. */
export type TwoTerminalPart = Resistor | Inductor | Capacitor | DriverImpedance;

/** Any part that stands between nodes. */
export type Part = TwoTerminalPart | LPad | Transformer;

/** What may stand first in a network's entry. */
export type PartOrCoupling = Part | Coupling;
