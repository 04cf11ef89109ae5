import type { Redesigned } from "./redesigned";

/** What a redesign found. */
export interface Redesign {
  /** From few parts to many; each is nearer to the goal than all before it, or cheaper, where a stock states prices. */
  readonly front: readonly Redesigned[];
  /** Topologies looked at, dimensionless. */
  readonly topologies: number;
  /** Of these, those whose search took too long and was left with the best so far, dimensionless. */
  readonly unfinished: number;
  /** Whether all were looked at. */
  readonly complete: boolean;
}
