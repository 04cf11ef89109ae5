import type { Frequency } from "../quantity";
import type { Mark } from "../response";
import type { ColorName, LineStyle } from "./palette";

/** One curve of a plot: real values over frequency. */
export interface PlotSeries {
  /** What the curve is called. */
  readonly label: string;
  /** Hz, ascending, length n. */
  readonly frequencies: ArrayLike<number>;
  /** In the unit of the panel, length n; a value that is not finite breaks the line. */
  readonly values: ArrayLike<number>;
  /** How it is drawn; what is left open is the colour and the dashes used least so far. */
  readonly style?: LineStyle | undefined;
  /** What must be known about parts of the band. */
  readonly marks?: readonly Mark[] | undefined;
  /** The line is broken between two values that differ by more, such as at a wrap of phase. */
  readonly breakStep?: number | undefined;
}

/** One of the panels of a plot, which stand above each other over one frequency axis. */
export interface PlotPanel {
  /** What the value axis shows, with its unit: `"Group delay, ms"`. */
  readonly label: string;
  /** Its curves. */
  readonly series: readonly PlotSeries[];
  /** Lowest and highest value shown; by default round numbers around the values. */
  readonly range?: readonly [number, number] | undefined;
  /** Steps between ticks to choose from, ascending, such as 15, 30, 45 and 90 for degrees. */
  readonly steps?: readonly number[] | undefined;
  /** Height in px, dimensionless; 260 by default. */
  readonly height?: number | undefined;
  /** What lies between two curves, beneath all others: a corridor, a spread. */
  readonly areas?: readonly PlotArea[] | undefined;
  /** The first of these that keeps the panel's height at 70 % of its width or less: value units as long as one decade. */
  readonly unitsPerDecade?: readonly number[] | undefined;
}

/** What lies between two curves of a panel. */
export interface PlotArea {
  /** What it is: stands below the plot. */
  readonly label: string;
  /** Hz, ascending, length n. */
  readonly frequencies: ArrayLike<number>;
  /** Its lower edge, in the unit of the panel, length n. */
  readonly low: ArrayLike<number>;
  /** Its upper edge, in the unit of the panel, length n. */
  readonly high: ArrayLike<number>;
  /** Of its tint; without one it is grey with a dashed rim. */
  readonly color?: ColorName | undefined;
}

/** A frequency that is to be seen in a plot. */
export interface PlotMarker {
  /** Hz. */
  readonly frequency: Frequency;
  /** Beside the line: `"crossover 1.8 kHz"`. */
  readonly label: string;
}

/** What every plot over frequency takes. */
export interface PlotFrame {
  /** Set above the plot, and its name for screen readers. */
  readonly title: string;
  /** For screen readers: what the plot shows, in a sentence or two; by default the labels of panels and series. */
  readonly description?: string | undefined;
  /** Lowest frequency shown, Hz; 20 by default. */
  readonly from?: Frequency | undefined;
  /** Highest frequency shown, Hz; 20 000 by default. */
  readonly to?: Frequency | undefined;
  /** Bands to be shaded besides those that the responses carry. */
  readonly marks?: readonly Mark[] | undefined;
  /** Frequencies at which a line stands upright, each with its name. */
  readonly markers?: readonly PlotMarker[] | undefined;
  /** Width of the picture in px, dimensionless, 280 to 4000; 720 by default. */
  readonly width?: number | undefined;
}

/** What `frequencyPlot` takes. */
export interface FrequencyPlotOptions extends PlotFrame {
  /** From top to bottom, over one frequency axis. */
  readonly panels: readonly PlotPanel[];
  /** `"all"`: every curve is named, in a legend if need be; `"thin"`: where labels are crowded, every second or third. */
  readonly labels?: "all" | "thin" | undefined;
}
