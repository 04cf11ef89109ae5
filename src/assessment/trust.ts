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
  /** Of the phase, after one sign for all places and one delay for each, root mean square in units of what a repeated measurement may turn it by; absent where it can't be compared. */
  readonly phase?: number;
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
  const {
    levelDb,
    levelAllowedDb = repeatability.levelDb,
    phase,
    impedance,
    within,
    worst,
    levelOnly,
    places,
    inverted,
  } = misfitOfDrawing(box, measured, repeatability);
  const said = [
    ...(levelDb === undefined
      ? []
      : [
          `level by ${levelDb.toFixed(2)} dB of the stronger branch (a repeated measurement may differ by ${Number(levelAllowedDb.toPrecision(2))} dB)`,
        ]),
    ...(phase === undefined
      ? []
      : [
          `phase by ${phase.toFixed(2)} times what a repeated measurement may turn it (${millimetres(repeatability)} of path, and that level)`,
        ]),
    ...(impedance === undefined
      ? []
      : [
          `impedance by ${(100 * impedance).toFixed(1)} % (may differ by ${(100 * repeatability.impedance).toFixed(0)} %)${levelDb === undefined ? "; impedance alone sees no polarity of a driver, and nothing of what the drivers give" : ""}`,
        ]),
  ].join(", ");
  const more = [
    ...(worst === undefined
      ? []
      : [
          `At azimuth ${worst.azimuth}°, elevation ${worst.elevation}° alone, level is missed by ${worst.levelDb.toFixed(1)} dB${worst.phase === undefined ? "" : ` and phase by ${worst.phase.toFixed(1)} of it`}, more than chance may do at one place`,
        ]),
    ...levelOnly.map(
      ({ why, places: of }) =>
        `${of === places ? "Of its pressures only the level" : `At ${of} of ${places} places only the level`} was compared, not the phase: ${why}`,
    ),
    ...(inverted
      ? ["The whole was measured with the opposite sign: the amplifier inverts, or the wires to the loudspeaker are exchanged"]
      : []),
  ];
  return Object.freeze({
    state: within ? "explained" : "refuted",
    ...(levelDb === undefined ? {} : { levelDb }),
    ...(phase === undefined ? {} : { phase }),
    ...(impedance === undefined ? {} : { impedance }),
    repeatability,
    sentence: [
      within
        ? `The model was checked against the loudspeaker as measured, and misses its ${said}`
        : `The loudspeaker as measured is not the one as drawn: the model misses its ${said}`,
      ...more,
    ].join(". "),
  });
}

function millimetres({ path }: Repeatability): string {
  return `${Number((1000 * path).toPrecision(3))} mm`;
}
