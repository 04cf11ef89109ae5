import type { BoardPlace, Winding } from "../../parts";
import type { Length } from "../../quantity";

/** How the coils of a network are to lie. */
export interface CoilPlan {
  /** Coils that must not couple. */
  readonly coils: readonly string[];
  /** What to do, in sentences. */
  readonly sentences: readonly string[];
  /** Where that comes from. */
  readonly standing: string;
  /** Places on the board, m and axes, where windings and board were given. */
  readonly places?:
    | readonly (BoardPlace & {
        /** Its designator. */
        readonly coil: string;
      })[]
    | undefined;
  /** The largest coupling factor of a pair there, dimensionless. */
  readonly worst?: number | undefined;
}

/** Coils whose windings are known, and the board that they go on. */
export interface CoilLayout {
  /** By designator: turns, and lengths in m. */
  readonly windings: Readonly<Record<string, Winding>>;
  /** m. */
  readonly board: {
    /** m. */
    readonly width: Length;
    /** m. */
    readonly depth: Length;
  };
}
