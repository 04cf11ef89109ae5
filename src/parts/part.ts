import type { Capacitor } from "./capacitor";
import type { Coupling } from "./coupling";
import type { CustomPart } from "./custom/custom-part";
import type { DriverImpedance } from "./driver-impedance";
import type { Inductor } from "./inductor";
import type { LPad } from "./l-pad";
import type { Resistor } from "./resistor";
import type { Transformer } from "./transformer";

/** A part with two terminals. */
export type TwoTerminalPart = Resistor | Inductor | Capacitor | DriverImpedance | CustomPart<2>;

/** A part with three terminals. */
export type ThreeTerminalPart = LPad | CustomPart<3>;

/** A part with four terminals. */
export type FourTerminalPart = Transformer | CustomPart<4>;

/** Any part that stands between nodes. */
export type Part = TwoTerminalPart | ThreeTerminalPart | FourTerminalPart;

/** What may stand first in a network's entry. */
export type PartOrCoupling = Part | Coupling;
