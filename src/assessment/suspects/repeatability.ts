import { checkNumber, checkOptions } from "../../errors/internal";
import type { Length } from "../../quantity";
import { inSi } from "../../quantity/internal";

/** By how much a measurement may differ when it is repeated: the unit in which a misfit is counted. */
export interface Repeatability {
  /** dB of sound pressure. */
  readonly levelDb: number;
  /** Part of |Z|, dimensionless. */
  readonly impedance: number;
  /** m: by how much the path of one driver may differ from that of another. */
  readonly path: number;
}

/** What `suspects` may be told. */
export interface SuspectsOptions {
  /**
   * By how much a repeated measurement may differ: dB of level (default 1 dB; choice, no source), part of |Z| (default 0.03; choice, no source) and m of path of one
   * driver (default 3 mm; choice, no source). What that path does is added where branches meet askew, to level and to phase. A repetition with 3 mm and 0.2 dB an error
   * per driver then comes to 0.3 to 0.8 of it, of level and of phase, and at the worst of many places to less than 2 (by computation: 600 drawn at random, of four loudspeakers).
   */
  readonly repeatability?:
    | {
        /** dB. */
        readonly levelDb?: number | undefined;
        /** Part of |Z|, dimensionless. */
        readonly impedance?: number | undefined;
        /** m, or text with its unit. */
        readonly path?: Length | undefined;
      }
    | undefined;
}

/** Default repeatability; its standing is in `SuspectsOptions`. */
export const REPEATABILITY: Repeatability = /* @__PURE__ */ Object.freeze({ levelDb: 1, impedance: 0.03, path: 0.003 });

/** The repeatability as asked for, or its defaults. */
export function checkRepeatability(caller: string, options: SuspectsOptions): Repeatability {
  const { repeatability = {} } = checkOptions(caller, options, ["repeatability"]);
  const {
    levelDb = REPEATABILITY.levelDb,
    impedance = REPEATABILITY.impedance,
    path = REPEATABILITY.path,
  } = checkOptions(caller, repeatability, ["levelDb", "impedance", "path"]);
  return {
    levelDb: checkNumber(caller, "repeatability.levelDb", levelDb, { min: 1e-6, max: 20, unit: "dB" }),
    impedance: checkNumber(caller, "repeatability.impedance", impedance, { above: 0, max: 1 }),
    path: inSi(caller, "repeatability.path", path, "m", { min: 0, max: 1 }),
  };
}
