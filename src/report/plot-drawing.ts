import type { Mark } from "../response";
import type { Band } from "./bands";
import type { FrequencyAxis } from "./frequency-axis";
import type { Paint, ResolvedStyle } from "./palette";

/** A series with everything settled. */
export interface CheckedSeries {
  readonly label: string;
  readonly frequencies: ArrayLike<number>;
  readonly values: ArrayLike<number>;
  readonly style: ResolvedStyle;
  readonly marks: readonly Mark[];
  readonly breakStep: number | undefined;
}

/** A panel with everything settled. */
export interface CheckedPanel {
  readonly label: string;
  readonly series: readonly CheckedSeries[];
  readonly range: readonly [number, number];
  readonly steps: readonly number[];
  readonly height: number;
  readonly unitsPerDecade: readonly number[];
  readonly areas: readonly Area[];
}

/** What lies between two curves, drawn beneath all others: a corridor, a spread. */
export interface Area {
  readonly label: string;
  readonly frequencies: ArrayLike<number>;
  readonly low: ArrayLike<number>;
  readonly high: ArrayLike<number>;
  /** Of its tint; without one it is grey with a dashed rim. */
  readonly paint?: Paint | undefined;
}

/** A place on the horizontal axis that is to be seen, with its name. */
export interface Marker {
  readonly at: number;
  readonly label: string;
}

/** A plot with everything decided but the px. */
export interface PlotDrawing {
  readonly title: string;
  readonly description: string;
  readonly axis: (width: number, fontSize: number) => FrequencyAxis;
  readonly width: number;
  readonly thin: boolean;
  readonly panels: readonly CheckedPanel[];
  readonly bands: readonly Band[];
  readonly markers: readonly Marker[];
  /** What the horizontal axis is called. */
  readonly along: string;
}
