/** Coils that are placed by computation. */
export interface ProjectCoils {
  /** m. */
  readonly board: {
    /** m. */
    readonly width: number;
    /** m. */
    readonly depth: number;
  };
  /** By designator: turns, and lengths in m. */
  readonly windings: Readonly<
    Record<
      string,
      {
        /** A count, need not be whole. */
        readonly turns: number;
        /** m, from the axis to the middle of the section. */
        readonly meanRadius: number;
        /** m, along the axis. */
        readonly length: number;
        /** m, from the innermost to the outermost turn. */
        readonly depth: number;
      }
    >
  >;
}
