import { scaleResponse, type Mark } from "../response";
import type { Assessment } from "./assessment-data";
import type { Band } from "./band";
import type { ModelCheck } from "./model-check";
import type { Places } from "./off-axis";

/** What every finding is made from. */
export interface Context {
  readonly before: Assessment;
  readonly after: Assessment;
  readonly model: ModelCheck | undefined;
  /** Hz: the middle of the judged band, the same for every network. */
  readonly centre: number;
  /** Degrees. */
  readonly listenerAngle: number;
}

/** The marks of the data that touch a band. */
export function marksIn({ after }: Context, { from, to }: Band): readonly Mark[] {
  return after.marks.filter((mark) => (mark.from ?? 0) < to && (mark.to ?? Infinity) > from);
}

/** What was measured of the whole with the network as found, at 2.83 V, as far as it was measured at the judged distance. */
export function measuredPlaces({ before, model }: Context): Places {
  const here = model?.measured.pressures.filter(({ distance }) => Math.abs(distance - before.distance) < 1e-3) ?? [];
  return {
    places: here.map(({ distance, azimuth, elevation, response, voltage }) => ({
      distance,
      azimuth,
      elevation,
      sum: scaleResponse(response, before.prediction.voltage / voltage),
    })),
  };
}

/**
 * By how much the model misses a number that can be had from the measured whole as well: the same function of both. Where
 * the whole wasn't measured there, undefined.
 */
export function miss(context: Context, number: (places: Places) => number | undefined): number | undefined {
  const measured = measuredPlaces(context);
  if (measured.places.length === 0) return undefined;
  const [predicted, found] = [number(context.before.prediction), number(measured)];
  return predicted === undefined || found === undefined ? undefined : Math.abs(predicted - found);
}

/** The axis among places, where it was measured. */
export function axisAmong({ places }: Places) {
  return places.find(({ azimuth, elevation }) => azimuth === 0 && elevation === 0)?.sum;
}
