/** What is heard, at n frequencies and K places; the target's shape and any stated level are divided out of all pressures. */
export interface Heard {
  readonly points: number;
  /** Weights of the places, their sum 1. */
  readonly weights: Float64Array;
  /** Whether the place's target has a stated level: 0 then, after the division. */
  readonly fixed: readonly boolean[];
  /** ln of the level that was divided out, by place. */
  readonly offsets: Float64Array;
  /** Per volt at a channel's terminals, with the channel's sign: [frequency][place][channel], re and im in turn. */
  readonly perVolt: Float64Array;
  /** What the branches without choices give per volt at `in`: [frequency][place]. */
  readonly constant: Float64Array;
  /** What is heard beside the network: [frequency][place]. */
  readonly beside: Float64Array | undefined;
  /** Ω of the source, by frequency. */
  readonly source: { readonly re: Float64Array; readonly im: Float64Array } | undefined;
  /** S of the branches without choices: on the frequencies (behind a source), then on the load's. */
  readonly constantAdmittance: Float64Array;
  /** Frequencies of the load. */
  readonly loads: number;
  /** How many of these, the first, the nodes of trees enclose. */
  readonly enclosedLoads: number;
  /** S: the largest input admittance allowed. */
  readonly largestAdmittance: number;
  /** ln of the least mean level. */
  readonly leastLevel: number;
  /** Which place is the axis, −1 where none is, and the ln of the least mean level there. */
  readonly axis: number;
  readonly leastAxis: number;
}

/** Bounds and exact values of the loss of states together, in units of ln² amplitude. */
export interface LossBound {
  /** A value that no choice of states below the nodes undercuts; Infinity where every one of them breaks a limit. Above `enough` any such value will do. */
  below(nodes: Int32Array, at: number, enough?: number): number;
  /** The loss of single states, Infinity beyond a limit. Nodes must be leaves. What is `enough` or more isn't held to every limit, and may be any such number. */
  exact(nodes: Int32Array, at: number, enough?: number): number;
  /** About how far single states are beyond the limits of load and level: less is nearer, 0 within them. Above `enough` any such value will do. */
  beyond(nodes: Int32Array, at: number, enough: number): number;
}

/** Rounding that limits are widened by. */
export const SLACK = 1e-9;
