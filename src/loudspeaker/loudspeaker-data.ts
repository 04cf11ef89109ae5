import type { Length } from "../quantity";
import type { Entries, SourceImpedance } from "../network";
import type { DriverMotion } from "../parts";
import type { Air, Point } from "../physics";
import type { PressurePerVolt } from "./pressure-per-volt";

/** A place of the microphone, as it was measured. */
export interface Place {
  /** m, from the rotation centre. */
  readonly distance: number;
  /** Degrees, positive towards the loudspeaker's own left (+y). */
  readonly azimuth: number;
  /** Degrees, positive up. */
  readonly elevation: number;
}

/** A place that is asked for. */
export interface AskedPlace {
  /** m, or text with its unit: from the rotation centre. */
  readonly distance: Length;
  /** Degrees, positive towards the loudspeaker's own left (+y); default 0. */
  readonly azimuth?: number | undefined;
  /** Degrees, positive up; default 0. */
  readonly elevation?: number | undefined;
}

/** What a driver is for; the tweeter is the one whose drive is watched. */
export type DriverRole = "woofer" | "midrange" | "tweeter" | "full-range";

/** What a driver may stand, as its maker rates it; what is absent isn't known, and so isn't checked. */
export interface DriverRatings {
  /** W of heat in its voice coil, kept up for long. Makers' ratings differ in signal and time: take the one for long noise. */
  readonly power?: number | undefined;
  /** m: the largest excursion to one side, peak. */
  readonly excursion?: number | undefined;
}

/** A driver at its place. */
export interface PlacedDriver {
  /** The driver's own name; also its designator in the network, unless `part` says otherwise. */
  readonly name: string;
  /** The part of the network at whose terminals it hangs: several drivers may hang on one. */
  readonly part: string;
  /** What it is for. */
  readonly role: DriverRole;
  /** m: x towards the listener, y to the loudspeaker's own left, z up. */
  readonly position: Point;
  /** Where the driver stood when it was measured, m; differs from `position` where drivers share one measurement. */
  readonly measuredAt: Point;
  /** Pa/V, one for each place measured. */
  readonly pressures: readonly PressurePerVolt[];
  /** What moves its cone, in its enclosure, in SI; absent: not known, and so is its excursion. */
  readonly motion?: DriverMotion | undefined;
  /** W and m that it may stand; absent: not known. */
  readonly ratings?: DriverRatings | undefined;
}

/** A network, its drivers where they sit, and what drives it. */
export interface Loudspeaker<T extends Entries = Entries> {
  /** What lies between the amplifier and the drivers, the drivers included. */
  readonly network: T;
  /** The drivers, each at its place. */
  readonly drivers: readonly PlacedDriver[];
  /** Ω, or resistance in Ω and inductance in H. */
  readonly sourceImpedance?: SourceImpedance;
  /** The air: °C, % and Pa, or m/s and kg/m³. */
  readonly air: Air;
}
