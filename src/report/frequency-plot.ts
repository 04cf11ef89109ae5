import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { inSi } from "../quantity/internal";
import type { Mark } from "../response";
import { bandsOf, checkMark, notesOf } from "./bands";
import { checkArray, checkCurve, checkRange } from "./curve-checks";
import { drawPlot } from "./draw-plot";
import { frequencyAxis } from "./frequency-axis";
import { checkText } from "./markup";
import { DASHES, PALETTE, settleStyles, WEIGHTS, type ColorName, type LineKind, type LineStyle, type ResolvedStyle } from "./palette";
import { pictureOf, type Picture } from "./picture";
import type { CheckedPanel, CheckedSeries } from "./plot-drawing";
import type { FrequencyPlotOptions, PlotArea, PlotFrame, PlotMarker, PlotPanel, PlotSeries } from "./plot-options";
import { extent, niceRange } from "./value-axis";

/** The options of `PlotFrame`, for the checks of the plots that take them. */
export const FRAME_OPTIONS = ["title", "description", "from", "to", "marks", "markers", "width"] as const;

/**
 * Draws real values over a logarithmic frequency axis in Hz as an SVG picture: one or more panels above each other,
 * curves told apart by colour, dashes and label, bands shaded where a response is marked. The picture needs nothing
 * from outside, follows the reader's light or dark theme, and prints black on white. Equal input gives equal bytes.
 *
 * Curves are named at their ends where there is room, else in a legend below. Of a curve with more points than pixels
 * the first, lowest, highest and last point in each pixel column are drawn. Colours: `LineStyle`.
 *
 * @param options title, panels with their series (Hz against the panel's unit), and the band shown in Hz
 * @returns the picture: its SVG text is `.svg`, a notebook shows it as it is
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { frequencyPlot } from "dividing-network/report";
 *
 * const { svg } = frequencyPlot({
 *   title: "Group delay",
 *   panels: [{ label: "Group delay, ms", series: [{ label: "Low-pass", frequencies: [20, 1000, 20000], values: [0.3, 0.2, 0] }] }],
 * });
 * svg.startsWith("<svg "); // true
 * ```
 */
export function frequencyPlot(options: FrequencyPlotOptions): Picture {
  const checked = checkOptions("frequencyPlot", options, [...FRAME_OPTIONS, "panels", "labels"]);
  return plotAs("frequencyPlot", checked, (index) => `panels[${index}].`);
}

/** Hz: the ends of a plot's axis, checked; 20 Hz and 20 kHz unless stated. */
export function shownBand(caller: string, options: Pick<PlotFrame, "from" | "to">): { readonly from: number; readonly to: number } {
  const from = inSi(caller, "from", options.from ?? 20, "Hz", { above: 0 });
  const to = inSi(caller, "to", options.to ?? 20000, "Hz", { above: from });
  if (!(from >= 1e-6 && to <= 1e12 && to / from >= 1.05 && to / from <= 1e12)) {
    throw new DividingNetworkError(
      "invalid-argument",
      `${caller}: "from" and "to" must span at least 5 % and at most twelve decades between 1e-6 Hz and 1e12 Hz, got ${from} Hz to ${to} Hz`,
    );
  }
  return { from, to };
}

/**
 * `frequencyPlot` under the name of the function that the user called, with the options' keys checked already.
 * `prefix` says how that function calls what stands in a panel, for messages.
 */
export function plotAs(caller: string, options: FrequencyPlotOptions, prefix: (panel: number) => string = () => ""): Picture {
  const title = checkText(caller, "title", options.title);
  const { from, to } = shownBand(caller, options);
  const width = checkNumber(caller, "width", options.width ?? 720, { min: 280, max: 4000, unit: "px" });
  const labels = checkOneOf(caller, "labels", options.labels ?? "all", ["all", "thin"]);
  const common = checkArray<Mark>(caller, "marks", options.marks ?? []).map((mark, index) => checkMark(caller, `marks[${index}]`, mark));
  const panels = checkArray<PlotPanel>(caller, "panels", options.panels).map((panel, index) =>
    checkPanel(caller, prefix(index), panel, from, to),
  );

  const markers = checkArray<PlotMarker>(caller, "markers", options.markers ?? []).map((given, index) => {
    const { frequency, label } = checkOptions<PlotMarker>(caller, given, ["frequency", "label"]);
    return {
      at: inSi(caller, `markers[${index}].frequency`, frequency, "Hz", { above: 0 }),
      label: checkText(caller, `markers[${index}].label`, label),
    };
  });

  const curves = panels.flatMap(({ series }) => series.map(({ label, marks }) => ({ label, marks: [...marks, ...common] })));
  const bands = bandsOf(curves.length === 0 ? [{ label: "", marks: common }] : curves, from, to);
  const names = panels.map(
    ({ label, series, areas }) =>
      `${label}: ${[...series.map((one) => `${one.label} (${one.style.line} line)`), ...areas.map((area) => `${area.label} (area)`)].join(", ") || "no curve"}.`,
  );
  const marked = markers.map(({ label }) => `Marked: ${label}.`);
  const range = `Frequency from ${from} Hz to ${to} Hz.`;
  const description = [
    options.description === undefined ? "" : checkText(caller, "description", options.description),
    range,
    ...names,
    ...marked,
    ...notesOf(bands).map((note) => (typeof note === "string" ? `${note}.` : note.text)),
  ];
  return pictureOf(
    drawPlot({
      title,
      description: description.join(" ").trim(),
      axis: (plotWidth, size) => frequencyAxis(from, to, plotWidth, size),
      width,
      thin: labels === "thin",
      panels,
      bands,
      markers,
      along: "Frequency",
    }),
  );
}

function checkPanel(caller: string, prefix: string, given: PlotPanel, from: number, to: number): CheckedPanel {
  const panel = checkOptions(caller, given, ["label", "series", "range", "steps", "height", "unitsPerDecade", "areas"]);
  const list = checkArray<PlotSeries>(caller, `${prefix}series`, panel.series);
  const styles = settleStyles(
    caller,
    list.map((one, index) => checkStyle(caller, `${prefix}series[${index}]`, one)),
  );
  const series = list.map((one, index) => checkSeries(caller, `${prefix}series[${index}]`, one, styles[index]!));
  const positive = (name: "steps" | "unitsPerDecade"): readonly number[] =>
    checkArray<number>(caller, `${prefix}${name}`, panel[name] ?? []).map((value, index) =>
      checkNumber(caller, `${prefix}${name}[${index}]`, value, { above: 0 }),
    );
  return {
    label: checkText(caller, `${prefix}label`, panel.label),
    series,
    range: panel.range === undefined ? niceRange(extent(series, from, to)) : checkRange(caller, `${prefix}range`, panel.range),
    steps: positive("steps"),
    height: checkNumber(caller, `${prefix}height`, panel.height ?? 260, { min: 60, max: 4000, unit: "px" }),
    unitsPerDecade: positive("unitsPerDecade"),
    areas: checkArray<PlotArea>(caller, `${prefix}areas`, panel.areas ?? []).map((given, index) => {
      const area = checkOptions<PlotArea>(caller, given, ["label", "frequencies", "low", "high", "color"]);
      checkCurve(caller, `${prefix}areas[${index}]`, area.frequencies, area.low, "low");
      checkCurve(caller, `${prefix}areas[${index}]`, area.frequencies, area.high, "high");
      return {
        label: checkText(caller, `${prefix}areas[${index}].label`, area.label),
        frequencies: area.frequencies,
        low: area.low,
        high: area.high,
        ...(area.color === undefined
          ? {}
          : { paint: PALETTE[checkOneOf(caller, `${prefix}areas[${index}].color`, area.color, Object.keys(PALETTE) as ColorName[])] }),
      };
    }),
  };
}

function checkStyle(caller: string, argument: string, series: PlotSeries): LineStyle {
  const given = checkOptions(caller, series, ["label", "frequencies", "values", "style", "marks", "breakStep"]);
  const style = checkOptions<LineStyle>(caller, given.style, ["color", "line", "weight"]);
  if (style.line !== undefined) checkOneOf(caller, `${argument}.style.line`, style.line, Object.keys(DASHES) as LineKind[]);
  if (style.weight !== undefined)
    checkOneOf(caller, `${argument}.style.weight`, style.weight, Object.keys(WEIGHTS) as (keyof typeof WEIGHTS)[]);
  if (typeof style.color === "string")
    checkOneOf(caller, `${argument}.style.color`, style.color, Object.keys(PALETTE) as (keyof typeof PALETTE)[]);
  return style;
}

function checkSeries(caller: string, argument: string, given: PlotSeries, style: ResolvedStyle): CheckedSeries {
  const series = given ?? {};
  checkCurve(caller, argument, series.frequencies, series.values, "values");
  return {
    label: checkText(caller, `${argument}.label`, series.label),
    frequencies: series.frequencies,
    values: series.values,
    style,
    marks: checkArray<Mark>(caller, `${argument}.marks`, series.marks ?? []).map((mark, place) =>
      checkMark(caller, `${argument}.marks[${place}]`, mark),
    ),
    breakStep: series.breakStep === undefined ? undefined : checkNumber(caller, `${argument}.breakStep`, series.breakStep, { above: 0 }),
  };
}
