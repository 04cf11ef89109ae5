/** What scatters, as a project file states it: options of `spread`. Tolerances of single parts stand with the parts. */
export interface ProjectSpread {
  /** By driver. */
  readonly drivers?: Readonly<
    Record<
      string,
      {
        /** ± dB. */
        readonly levelDb?: number;
        /** ± relative, dimensionless. */
        readonly resonance?: number;
        /** ± relative, dimensionless. */
        readonly q?: number;
        /** ± s. */
        readonly delay?: number;
      }
    >
  >;
  /** ± relative of all parts of a kind that state nothing, dimensionless. */
  readonly byKind?: {
    /** Dimensionless. */
    readonly resistor?: number;
    /** Dimensionless. */
    readonly inductor?: number;
    /** Dimensionless. */
    readonly capacitor?: number;
    /** Dimensionless. */
    readonly "l-pad"?: number;
    /** Dimensionless. */
    readonly transformer?: number;
  };
  /** Whether what isn't stated is assumed or exact. */
  readonly unstated?: "assumed" | "exact";
  /** Parts or drivers of one lot. */
  readonly lots?: readonly (readonly string[])[];
  /** Parts or drivers that are alike in left and right. */
  readonly matched?: readonly string[];
  /** How values lie within their tolerance. */
  readonly distribution?: "uniform" | "triangular" | "normal";
  /** How many loudspeakers are drawn, dimensionless. */
  readonly samples?: number;
  /** What the drawing begins with, dimensionless. */
  readonly seed?: number;
  /** dB. */
  readonly largestLossDb?: number;
}
