import type { DriverRole } from "../loudspeaker";
import type { ProjectPoint } from "./project-place";

/** An impedance curve in a file beside the project. */
export interface ImpedanceFile {
  /** Path relative to the project file's folder. */
  readonly file: string;
  /** After the frequency in Hz: |Z| in Ω and degrees, or parts in Ω. */
  readonly columns: "ohm-degrees" | "re-im";
}

/** What moves a driver's cone, in its enclosure: `re` with `bl`, `mms`, `cms` and `rms`, or with `fs`, `qms`, `qes` and one of `bl` and `mms`. */
export interface ProjectMotion {
  /** Ω: resistance of the voice coil. */
  readonly re: number;
  /** H: its inductance. */
  readonly le?: number;
  /** T·m: force factor. */
  readonly bl?: number;
  /** kg: moving mass with its air load. */
  readonly mms?: number;
  /** m/N: compliance of suspension and enclosure together. */
  readonly cms?: number;
  /** N·s/m: mechanical losses. */
  readonly rms?: number;
  /** Hz: resonance in the enclosure. */
  readonly fs?: number;
  /** Mechanical Q there, dimensionless. */
  readonly qms?: number;
  /** Electrical Q there, dimensionless. */
  readonly qes?: number;
}

/** A driver: its place and the file of its impedance, or the driver whose measurements it shares. */
export interface ProjectDriver {
  /** Also the designator of its part in the networks. */
  readonly name: string;
  /** m. */
  readonly position: ProjectPoint;
  /** The measured impedance; absent with `sameAs`. */
  readonly impedance?: ImpedanceFile;
  /** Absent with `sameAs`, where the other's holds. */
  readonly role?: DriverRole;
  /** Name of the driver whose impedance and pressures stand for this one's too. */
  readonly sameAs?: string;
  /** What moves its cone; absent: not known, or, with `sameAs`, the other's. */
  readonly motion?: ProjectMotion;
  /** What it may stand; absent likewise. */
  readonly ratings?: {
    /** W of heat, kept up for long. */
    readonly power?: number;
    /** m: the largest excursion to one side. */
    readonly excursion?: number;
  };
}
