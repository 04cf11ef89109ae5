import type { DriverFloor } from "./driver-floor";
import type { Redesigned } from "./redesigned";

/** What a redesign found. */
export interface Redesign {
  /** From few parts to many; each is nearer to the goal than all before it, or cheaper, where a stock states prices. */
  readonly front: readonly Redesigned[];
  /** Where the drivers themselves limit: a loss (dB) below which no network comes, of however many parts; 0 where the goal states no frequencies, since none is known of third-octave powers: `reachableDb` and `byFrequencyDb` are then of plain levels. */
  readonly floor?: DriverFloor | undefined;
  /** Topologies looked at, dimensionless. */
  readonly topologies: number;
  /** Of these, those whose search took too long and was left with the best so far, dimensionless. */
  readonly unfinished: number;
  /** Whether all were looked at. */
  readonly complete: boolean;
}
