import type { Entries } from "../network";
import type { Loudspeaker } from "../loudspeaker";
import { misfitOfDrawing } from "./suspects/misfit-of-drawing";
import { REPEATABILITY, type Repeatability } from "./suspects/repeatability";
import type { WholeMeasurement } from "./model-check";
import type { FrequencyResponse } from "../response";

/** Whether the drawing explains what was measured of the whole loudspeaker: asked before anything is judged. */
export interface Trust {
  /** Whether there was anything to check by, and what it came to. */
  readonly state: "not checked" | "explained" | "refuted";
  /** dB, root mean square of the level's misfit relative to the stronger branch, so that nulls don't rule. */
  readonly levelDb?: number;
  /** Part of |Z|, root mean square, dimensionless. */
  readonly impedance?: number;
  /** dB and part of |Z| by which a repeated measurement may differ. */
  readonly repeatability: Repeatability;
  /** In words. */
  readonly sentence: string;
}

/** Checks a drawing against the measured whole. */
export function trustOf<T extends Entries>(
  box: Loudspeaker<T>,
  measured: { readonly pressures: readonly WholeMeasurement[]; readonly impedance?: FrequencyResponse } | undefined,
  repeatability: Repeatability = REPEATABILITY,
): Trust {
  if (measured === undefined || (measured.pressures.length === 0 && measured.impedance === undefined)) {
    return Object.freeze({
      state: "not checked",
      repeatability,
      sentence: "The model was not checked against a measurement of the whole loudspeaker",
    });
  }
  const { levelDb, impedance } = misfitOfDrawing(box, measured, repeatability);
  const refuted =
    (levelDb !== undefined && !(levelDb <= repeatability.levelDb)) || (impedance !== undefined && !(impedance <= repeatability.impedance));
  const said = [
    ...(levelDb === undefined
      ? []
      : [`level by ${levelDb.toFixed(2)} dB of the stronger branch (a repeated measurement may differ by ${repeatability.levelDb} dB)`]),
    ...(impedance === undefined
      ? []
      : [
          `impedance by ${(100 * impedance).toFixed(1)} % (may differ by ${(100 * repeatability.impedance).toFixed(0)} %)${levelDb === undefined ? "; impedance alone sees no polarity of a driver, and nothing of what the drivers give" : ""}`,
        ]),
  ].join(", ");
  return Object.freeze({
    state: refuted ? "refuted" : "explained",
    ...(levelDb === undefined ? {} : { levelDb }),
    ...(impedance === undefined ? {} : { impedance }),
    repeatability,
    sentence: refuted
      ? `The loudspeaker as measured is not the one as drawn: the model misses its ${said}`
      : `The model was checked against the loudspeaker as measured, and misses its ${said}`,
  });
}
