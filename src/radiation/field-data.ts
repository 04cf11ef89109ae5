import type { Point } from "../physics";
import type { Mark } from "../response";
import type { FrequencyResponse } from "../response";

/**
 * Complex values at several points and frequencies in flat arrays: the value at point p and frequency f stands at index
 * `p * frequencies.length + f`. Per unit drive it is in 1/m; driven by a pressure at 1 m it is in Pa.
 */
export interface PressureField {
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** m: x towards the listener, y to the loudspeaker's own left, z up. */
  readonly points: readonly Point[];
  /** Real parts: point by point, each with all frequencies; in 1/m per unit of drive, or Pa. */
  readonly re: Float64Array;
  /** Imaginary parts, in the same order. */
  readonly im: Float64Array;
  /** Largest estimated error of a source's integral at any point and frequency, relative to that source in phase; dimensionless. */
  readonly errorEstimate: number;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}

/** Pressure over angle and frequency in one plane; the value at angle i and frequency f stands at index `i * frequencies.length + f`. */
export interface PolarMap {
  /** Horizontal: angles are azimuths, positive towards +y. Vertical: elevations, positive up, on over the top beyond 90°. */
  readonly plane: "horizontal" | "vertical";
  /** Degrees, ascending, −180 to 180. */
  readonly angles: Float64Array;
  /** m, from the map's centre. */
  readonly distance: number;
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** Real parts: angle by angle, each with all frequencies; in 1/m per unit of drive, or Pa. */
  readonly re: Float64Array;
  /** Imaginary parts, in the same order. */
  readonly im: Float64Array;
  /** Largest estimated error of a source's integral, dimensionless; 0 for measurements. */
  readonly errorEstimate: number;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}

/** Pressure all around; the value in direction i and at frequency f stands at index `i * frequencies.length + f`. */
export interface SphereMap {
  /** Degrees: azimuth positive towards +y, elevation positive up. */
  readonly directions: readonly {
    /** Degrees, positive towards +y. */
    readonly azimuth: number;
    /** Degrees, positive up. */
    readonly elevation: number;
  }[];
  /** Share of the sphere of each direction, dimensionless; their sum is 1. */
  readonly weights: Float64Array;
  /** One sentence: how the sphere is integrated. */
  readonly quadrature: string;
  /** m, from the map's centre. */
  readonly distance: number;
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** Real parts: direction by direction, each with all frequencies; in 1/m per unit of drive, or Pa. */
  readonly re: Float64Array;
  /** Imaginary parts, in the same order. */
  readonly im: Float64Array;
  /** The response on the axis at the same distance. */
  readonly axis: FrequencyResponse;
  /** Largest estimated error of a source's integral, dimensionless. */
  readonly errorEstimate: number;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}

/** The mean square of the pressure over the whole sphere, and what it came from. */
export interface PowerResponse {
  /** Hz, ascending. */
  readonly frequencies: Float64Array;
  /** Square of the map's unit, mean over the whole sphere at `distance`. */
  readonly meanSquare: Float64Array;
  /** dB re 1 of the map's unit: the level of that mean. */
  readonly levelDb: Float64Array;
  /** The response on the axis at the same distance. */
  readonly axis: FrequencyResponse;
  /** m. */
  readonly distance: number;
  /** One sentence: how the sphere was integrated. */
  readonly quadrature: string;
  /** What must be known about parts of the band; absent when there is nothing. */
  readonly marks?: readonly Mark[];
}
