import { checkOptions } from "../errors/internal";
import type { DriverMotion, DriverMotionOptions } from "../parts";
import { checkMotion } from "../parts/internal";
import type { Length, Power } from "../quantity";
import { inSi } from "../quantity/internal";
import type { DriverRatings } from "./loudspeaker-data";

/** What a driver may stand, as it is given. */
export interface DriverRatingsOptions {
  /** W of heat in its voice coil, kept up for long; default not known. */
  readonly power?: Power | undefined;
  /** m: the largest excursion to one side, peak; default not known. */
  readonly excursion?: Length | undefined;
}

/** Reads what is known of a driver beside its pressures: what moves its cone, and what it may stand. */
export function driverFacts(
  caller: string,
  of: string,
  { motion, ratings }: { readonly motion?: DriverMotionOptions | undefined; readonly ratings?: DriverRatingsOptions | undefined },
): { readonly motion?: DriverMotion; readonly ratings?: DriverRatings } {
  const { power, excursion } = checkOptions(`${caller}: ratings${of}`, ratings ?? {}, ["power", "excursion"]);
  return {
    ...(motion === undefined ? {} : { motion: checkMotion(caller, `motion${of}`, motion) }),
    ...(ratings === undefined
      ? {}
      : {
          ratings: Object.freeze({
            ...(power === undefined ? {} : { power: inSi(caller, `ratings.power${of}`, power, "W", { above: 0 }) }),
            ...(excursion === undefined ? {} : { excursion: inSi(caller, `ratings.excursion${of}`, excursion, "m", { above: 0 }) }),
          }),
        }),
  };
}
