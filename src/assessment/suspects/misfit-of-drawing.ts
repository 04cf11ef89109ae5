import type { Loudspeaker } from "../../loudspeaker";
import type { FrequencyResponse } from "../../response";
import { checkMeasured, type WholeMeasurement } from "../model-check";
import { halves } from "./misfit";
import { observe } from "./observed";
import type { Repeatability } from "./repeatability";
import { trialOf } from "./trial";

/** By how much the drawing misses the whole as measured: dB of the stronger branch, part of |Z|; each where it was measured. */
export function misfitOfDrawing(
  box: Loudspeaker,
  measured: { readonly pressures: readonly WholeMeasurement[]; readonly impedance?: FrequencyResponse },
  repeatability: Repeatability,
): { readonly levelDb?: number; readonly impedance?: number } {
  const observed = observe("compare", box, checkMeasured("compare", measured));
  const { pressures, impedance } = halves(observed, trialOf(box, observed, repeatability).drawn.residuals);
  return {
    ...(pressures === undefined ? {} : { levelDb: pressures * repeatability.levelDb }),
    ...(impedance === undefined ? {} : { impedance: impedance * repeatability.impedance }),
  };
}
