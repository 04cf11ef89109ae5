import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions } from "../errors/internal";
import type { Frequency, Inductance, Mass, Resistance } from "../quantity";
import { inSi } from "../quantity/internal";
import { positiveResults } from "./positive-results";

/** What moves a driver's cone, in SI: all that its excursion hangs on. */
export interface DriverMotion {
  /** Ω: resistance of the voice coil at zero frequency. */
  readonly re: number;
  /** H: inductance of the voice coil, 0 where it doesn't matter. */
  readonly le: number;
  /** T·m: force factor. */
  readonly bl: number;
  /** kg: moving mass with its air load. */
  readonly mms: number;
  /** m/N: compliance, of suspension and enclosure together. */
  readonly cms: number;
  /** N·s/m: mechanical losses. */
  readonly rms: number;
}

/** A driver's constants: its mechanics outright, or its resonance and Q with one of `bl` and `mms`. In its enclosure: the box is part of the compliance. */
export type DriverMotionOptions =
  | {
      /** Ω: resistance of the voice coil at zero frequency. */
      readonly re: Resistance;
      /** H: inductance of the voice coil; default 0 H. */
      readonly le?: Inductance | undefined;
      /** T·m: force factor. */
      readonly bl: number;
      /** kg: moving mass with its air load. */
      readonly mms: Mass;
      /** m/N: compliance, of suspension and enclosure together. */
      readonly cms: number;
      /** N·s/m: mechanical losses. */
      readonly rms: number;
    }
  | {
      /** Ω: resistance of the voice coil at zero frequency. */
      readonly re: Resistance;
      /** H: inductance of the voice coil; default 0 H. */
      readonly le?: Inductance | undefined;
      /** Hz: resonance in the enclosure in which the driver works. */
      readonly fs: Frequency;
      /** Mechanical Q there, dimensionless. */
      readonly qms: number;
      /** Electrical Q there, dimensionless. */
      readonly qes: number;
      /** T·m: force factor; or `mms`. */
      readonly bl?: number | undefined;
      /** kg: moving mass with its air load; or `bl`. */
      readonly mms?: Mass | undefined;
    };

/** Reads a driver's constants; a `DriverMotion` is one of their forms. */
export function checkMotion(caller: string, argument: string, options: DriverMotionOptions): DriverMotion {
  const at = (name: string) => (argument === "" ? name : `${argument}.${name}`);
  const given = checkOptions(caller, options as Partial<Record<string, unknown>>, [
    "re",
    "le",
    "bl",
    "mms",
    "cms",
    "rms",
    "fs",
    "qms",
    "qes",
  ]);
  const positive = (name: string, unit: string) => checkNumber(caller, at(name), given[name], { above: 0, unit });
  const [re, le] = [
    inSi(caller, at("re"), given["re"], "Ω", { above: 0 }),
    given["le"] === undefined ? 0 : inSi(caller, at("le"), given["le"], "H"),
  ];
  const mass = () => inSi(caller, at("mms"), given["mms"], "kg", { above: 0 });
  if (given["fs"] === undefined) {
    if (given["qms"] !== undefined || given["qes"] !== undefined) throw incomplete(caller, argument);
    return Object.freeze({ re, le, bl: positive("bl", "T·m"), mms: mass(), cms: positive("cms", "m/N"), rms: positive("rms", "N·s/m") });
  }
  if (given["cms"] !== undefined || given["rms"] !== undefined || (given["bl"] === undefined) === (given["mms"] === undefined))
    throw incomplete(caller, argument);
  const [omega, qms, qes] = [
    2 * Math.PI * inSi(caller, at("fs"), given["fs"], "Hz", { above: 0 }),
    positive("qms", ""),
    positive("qes", ""),
  ];
  const mms = given["mms"] === undefined ? (positive("bl", "T·m") ** 2 * qes) / (omega * re) : mass();
  const found = positiveResults(caller, {
    mms,
    bl: Math.sqrt((omega * mms * re) / qes),
    cms: 1 / (omega ** 2 * mms),
    rms: (omega * mms) / qms,
  });
  return Object.freeze({ re, le, ...found });
}

function incomplete(caller: string, argument: string): DividingNetworkError {
  return new DividingNetworkError(
    "invalid-argument",
    `${caller}: ${argument === "" ? "a driver's constants" : `"${argument}"`} must be { re, bl, mms, cms, rms }, or { re, fs, qms, qes } and one of bl and mms`,
    "Resonance and Q say nothing of the excursion without the mass or the force factor; with both, one of them would be said twice",
  );
}
