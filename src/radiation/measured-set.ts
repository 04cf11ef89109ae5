import type { Point } from "../physics";
import type { FrequencyResponse } from "../response";

/** One measurement along a half plane. */
export interface MeasuredPlace {
  /** Degrees off the axis. */
  readonly angle: number;
  /** As measured there. */
  readonly response: FrequencyResponse;
  /** s against the axis, removed before interpolating between angles and put back after. */
  readonly delay: number;
  /** m, from the acoustic centre to where the microphone stood. */
  readonly path: number;
}

/** The measurements along one of the four half planes through the axis, from the axis outwards. */
export interface MeasuredHalf {
  /** Angles ascending from 0. */
  readonly places: readonly MeasuredPlace[];
  /** The nearest place on the other side of the axis, at a negative angle; absent when that side is unknown. */
  readonly inner?: MeasuredPlace;
  /** Whether these are another half plane's measurements, taken for want of its own. */
  readonly borrowed: boolean;
}

/** The directional measurements of one driver or loudspeaker. */
export interface MeasuredSet {
  /** m, from the rotation centre to the microphone. */
  readonly distance: number;
  /** m, from the rotation centre, in the source's own coordinates: where the sound spreads from. */
  readonly acousticCentre: Point;
  /** Whether the phase holds the flight from the rotation centre to the microphone. */
  readonly flight: "included" | "removed";
  /** Towards +y, +z, −y, −z of the source; `undefined` where nothing is known. */
  readonly halves: readonly [MeasuredHalf | undefined, MeasuredHalf | undefined, MeasuredHalf | undefined, MeasuredHalf | undefined];
  /** Degrees around the axis, up to which a point counts as near a measured plane. */
  readonly planeTolerance: number;
  /** Whether the outermost measurement is held beyond the measured angles. */
  readonly extrapolate: boolean;
}
