import type { Loudspeaker, Place } from "../../loudspeaker";
import type { FrequencyResponse } from "../../response";
import { checkMeasured, type WholeMeasurement } from "../model-check";
import { observe } from "./observed";
import type { Repeatability } from "./repeatability";
import { inside, trialOf, worstPlace } from "./trial";

/** What the drawing leaves of the whole as measured, and what of it could be compared. */
export interface DrawingMisfit {
  /** dB of the stronger branch; absent where no pressure was measured. */
  readonly levelDb?: number;
  /** dB by which a repeated measurement may differ in it: the level's own, and what paths do where branches meet askew. */
  readonly levelAllowedDb?: number;
  /** In units of the repeatability; absent where no phase could be compared. */
  readonly phase?: number;
  /** Part of |Z|; absent where it wasn't measured. */
  readonly impedance?: number;
  /** Whether all of it lies within the repeatability. */
  readonly within: boolean;
  /** The place that alone misses by more than chance may do there: its level in dB, its phase in units of the repeatability. */
  readonly worst?: Place & { readonly levelDb: number; readonly phase?: number };
  /** Why phases weren't compared, each reason once, with how many places it holds for. */
  readonly levelOnly: readonly { readonly why: string; readonly places: number }[];
  /** How many places there are. */
  readonly places: number;
  /** Whether the whole plays with the opposite sign. */
  readonly inverted: boolean;
}

/** By how much the drawing misses the whole as measured, each kind of measurement by itself. */
export function misfitOfDrawing(
  box: Loudspeaker,
  measured: { readonly pressures: readonly WholeMeasurement[]; readonly impedance?: FrequencyResponse },
  repeatability: Repeatability,
): DrawingMisfit {
  const { drawn, drawnLevelsDb, observed, sign, kinds } = trialOf(
    box,
    observe("compare", box, checkMeasured("compare", measured)),
    repeatability,
  );
  const left = kinds(drawn.residuals);
  const { levels, phases, impedance } = left;
  const reasons = new Map<string, number>();
  for (const { levelOnly } of observed.places) if (levelOnly !== undefined) reasons.set(levelOnly, (reasons.get(levelOnly) ?? 0) + 1);
  const at = worstPlace(left);
  return {
    ...(levels === undefined
      ? {}
      : { levelDb: drawnLevelsDb.all, levelAllowedDb: levels > 0 ? drawnLevelsDb.all / levels : repeatability.levelDb }),
    ...(phases === undefined ? {} : { phase: phases }),
    ...(impedance === undefined ? {} : { impedance: impedance * repeatability.impedance }),
    within: inside(left),
    ...(at === undefined ? {} : { worst: described(observed.places[at]!, drawnLevelsDb.places[at]!, left.places[at]!.phase) }),
    levelOnly: [...reasons].map(([why, places]) => ({ why, places })),
    places: observed.places.length,
    inverted: inside(left) && sign < 0,
  };
}

function described(
  { distance, azimuth, elevation }: Place,
  levelDb: number,
  phase: number | undefined,
): NonNullable<DrawingMisfit["worst"]> {
  return { distance, azimuth, elevation, levelDb, ...(phase === undefined ? {} : { phase }) };
}
