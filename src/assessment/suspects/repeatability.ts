import { checkNumber, checkOptions } from "../../errors/internal";

/** By how much a measurement may differ when it is repeated: the unit in which a misfit is counted. */
export interface Repeatability {
  /** dB of sound pressure. */
  readonly levelDb: number;
  /** Part of |Z|, dimensionless. */
  readonly impedance: number;
}

/** What `suspects` may be told. */
export interface SuspectsOptions {
  /**
   * By how much a repeated measurement may differ: dB of level (default 1 dB: 3 mm and 0.2 dB an error per driver come to 0.5 to 0.9 dB,
   * by computation; choice, no source) and part of |Z| (default 0.03; choice, no source).
   */
  readonly repeatability?:
    | {
        /** dB. */
        readonly levelDb?: number | undefined;
        /** Part of |Z|, dimensionless. */
        readonly impedance?: number | undefined;
      }
    | undefined;
}

/** Default repeatability; its standing is in `SuspectsOptions`. */
export const REPEATABILITY: Repeatability = /* @__PURE__ */ Object.freeze({ levelDb: 1, impedance: 0.03 });

/** The repeatability as asked for, or its defaults. */
export function checkRepeatability(caller: string, options: SuspectsOptions): Repeatability {
  const { repeatability = {} } = checkOptions(caller, options, ["repeatability"]);
  const { levelDb = REPEATABILITY.levelDb, impedance = REPEATABILITY.impedance } = checkOptions(caller, repeatability, [
    "levelDb",
    "impedance",
  ]);
  return {
    levelDb: checkNumber(caller, "repeatability.levelDb", levelDb, { above: 0, max: 20, unit: "dB" }),
    impedance: checkNumber(caller, "repeatability.impedance", impedance, { above: 0, max: 1 }),
  };
}
