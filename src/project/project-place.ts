/** A place or a point in metres: x towards the listener, y to the loudspeaker's own left, z up. */
export interface ProjectPoint {
  /** m, towards the listener. */
  readonly x: number;
  /** m, to the loudspeaker's own left. */
  readonly y: number;
  /** m, up. */
  readonly z: number;
}

/** A band of frequencies. */
export interface ProjectBand {
  /** Hz, above 0. */
  readonly from: number;
  /** Hz, above `from`. */
  readonly to: number;
}
