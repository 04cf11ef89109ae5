import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import { levelDb, type FrequencyResponse, type Mark } from "../response";
import { checkResponse } from "../response/internal";
import { checkArray, checkCurve, checkRange } from "./curve-checks";
import { FRAME_OPTIONS, plotAs, shownBand } from "./frequency-plot";
import type { PlotArea, PlotFrame } from "./plot-options";
import { checkText } from "./markup";
import type { LineStyle } from "./palette";
import type { Picture } from "./picture";
import { extent, niceRange } from "./value-axis";

/** A level over frequency without phase, such as a target or a measured magnitude. */
export interface PlotLevels {
  /** Hz, ascending, length n. */
  readonly frequencies: ArrayLike<number>;
  /** dB, length n; −∞ breaks the line. */
  readonly levelDb: ArrayLike<number>;
  /** What must be known about parts of the band. */
  readonly marks?: readonly Mark[] | undefined;
}

/** One curve of a level plot. */
export interface ResponseSeries {
  /** What the curve is called. */
  readonly label: string;
  /** In the unit of `reference`, or levels in dB. */
  readonly response: FrequencyResponse | PlotLevels;
  /** How it is drawn; what is left open is the colour and the dashes used least so far. */
  readonly style?: LineStyle | undefined;
}

/** What `responsePlot` takes. */
export interface ResponsePlotOptions extends PlotFrame {
  /** The curves. */
  readonly series: readonly ResponseSeries[];
  /** What the axis shows, with its reference: `"Sound pressure level, dB re 20 µPa"`. */
  readonly yLabel: string;
  /** Lowest and highest level shown, dB; by default up to 50 dB below the highest value. */
  readonly yRange?: readonly [number, number] | undefined;
  /** What lies between two level curves, dB: the corridor of a goal, a spread. */
  readonly areas?: readonly PlotArea[] | undefined;
  /** The size that counts as 0 dB, in the unit of the responses: 20e-6 for pressures in Pa; 1 by default. Level curves are taken as they are. */
  readonly reference?: number | undefined;
}

/**
 * Draws levels in dB over a logarithmic frequency axis in Hz as an SVG picture. One decade is as long as 10, 25 or
 * 50 dB are high, whichever first gives a plot that is not too tall, so that slopes look alike from plot to plot; only
 * a range of more than about 100 dB is squeezed further.
 *
 * $L = 20 \log_{10}(|p| / p_0)$ with $p_0$ the `reference`.
 *
 * @param options title, series (`FrequencyResponse` in the unit of `reference`, or levels in dB), the axis label, ranges in dB and Hz
 * @returns the picture: its SVG text is `.svg`, a notebook shows it as it is
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { responsePlot } from "dividing-network/report";
 *
 * const { svg } = responsePlot({
 *   title: "Sum on axis",
 *   yLabel: "Sound pressure level, dB re 20 µPa",
 *   series: [{ label: "Target", response: { frequencies: [20, 200, 20000], levelDb: [76, 86, 85] } }],
 * });
 * svg.includes("Sum on axis"); // true
 * ```
 */
export function responsePlot(options: ResponsePlotOptions): Picture {
  const caller = "responsePlot";
  const {
    series,
    yLabel,
    yRange,
    reference,
    areas = [],
    ...frame
  } = checkOptions(caller, options, [...FRAME_OPTIONS, "series", "yLabel", "yRange", "reference", "areas"]);
  const curves = checkArray<ResponseSeries>(caller, "series", series).map((one, index) => {
    const { label, response, style } = checkOptions(caller, one, ["label", "response", "style"]);
    return { label, style, ...levelsOf(caller, `series[${index}].response`, response, reference) };
  });
  const range = yRange === undefined ? levelRange(curves, shownBand(caller, frame)) : checkRange(caller, "yRange", yRange);
  return plotAs(caller, {
    ...frame,
    panels: [{ label: checkText(caller, "yLabel", yLabel), series: curves, range, unitsPerDecade: LEVEL_SCALES, areas }],
  });
}

/** dB that are as long as one decade, in the order of preference. */
export const LEVEL_SCALES: readonly number[] = [10, 25, 50];

/** Levels of a response or a level curve, checked, in dB. */
export function levelsOf(
  caller: string,
  argument: string,
  response: FrequencyResponse | PlotLevels,
  reference: number | undefined,
): { frequencies: ArrayLike<number>; values: ArrayLike<number>; marks: readonly Mark[] } {
  const zero = checkNumber(caller, "reference", reference ?? 1, { above: 0 });
  if (typeof response !== "object" || response === null) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "${argument}" must be a frequency response or { frequencies, levelDb }, got ${show(response)}`,
    );
  }
  const marks = response.marks ?? [];
  if ("levelDb" in response) {
    checkCurve(caller, argument, response.frequencies, response.levelDb, "levelDb");
    return { frequencies: response.frequencies, values: response.levelDb, marks };
  }
  return { frequencies: response.frequencies, values: levelDb(checkResponse(caller, argument, response), { reference: zero }), marks };
}

/** A range in whole steps of 5 dB around the levels between two frequencies in Hz: 10 to 50 dB tall, unless the levels are absurd. */
export function levelRange(
  curves: readonly { frequencies: ArrayLike<number>; values: ArrayLike<number> }[],
  { from, to }: { readonly from: number; readonly to: number },
): readonly [number, number] {
  const [low, high] = extent(curves, from, to) ?? [-19, -1];
  if (Math.max(Math.abs(low), Math.abs(high)) > 1e4) return niceRange([low, high]);
  const top = Math.ceil((high + 1) / 5) * 5;
  const bottom = Math.max(Math.floor((low - 1) / 5) * 5, top - 50);
  return [Math.min(bottom, top - 10), top];
}
