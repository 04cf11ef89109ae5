/** What the command's `--redesign` does beyond its number of parts, as a project file states it. */
export interface ProjectRedesign {
  /** Most lines of the stock that stand in the place of one part, dimensionless. */
  readonly mostPieces?: 1 | 2;
  /** Networks are chosen by what tolerances of parts and drivers do to them; which these are, the parts and `spread` say. */
  readonly robust?: {
    /** By the loss to be expected, or by the share of good loudspeakers; absent: the loss. */
    readonly by?: "loss" | "yield";
    /** dB of loss that a good loudspeaker may have; absent: that of `spread`. */
    readonly largestLossDb?: number;
    /** How many loudspeakers are drawn of each network, dimensionless. */
    readonly samples?: number;
    /** What the drawing begins with, dimensionless. */
    readonly seed?: number;
  };
}
