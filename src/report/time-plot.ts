import { drawPlot } from "./draw-plot";
import type { CheckedPanel } from "./plot-drawing";
import type { FrequencyAxis } from "./frequency-axis";
import { settleStyles, type LineStyle } from "./palette";
import { pictureOf, type Picture } from "./picture";
import { pixelsOf } from "./text-width";
import { extent, niceRange } from "./value-axis";

/** One curve over time. */
export interface TimeSeries {
  readonly label: string;
  /** s, ascending. */
  readonly times: ArrayLike<number>;
  readonly values: ArrayLike<number>;
  readonly style: LineStyle;
}

/** Draws values over time in ms, from `from` to `to` (s); the times are shown from 0. For this folder's own use: what it is given is checked. */
export function timePlot(options: {
  readonly title: string;
  readonly label: string;
  readonly series: readonly TimeSeries[];
  readonly from: number;
  readonly to: number;
  readonly width: number;
  readonly height: number;
}): Picture {
  const { title, label, series, from, to, width, height } = options;
  const styles = settleStyles(
    "timePlot",
    series.map(({ style }) => style),
  );
  // Shifted, so that every time is above 0, as the drawing of curves expects it of an axis.
  const shift = 1 - from;
  const curves = series.map(({ label: name, times, values }, index) => ({
    label: name,
    frequencies: Float64Array.from(times, (time) => time + shift),
    values,
    style: styles[index]!,
    marks: [],
    breakStep: undefined,
  }));
  const panel: CheckedPanel = {
    label,
    series: curves,
    range: niceRange(extent(curves, 1, to + shift)),
    steps: [],
    height,
    unitsPerDecade: [],
    areas: [],
  };
  const axis = (room: number, size: number) => timeAxis(to - from, room, size);
  return pictureOf(
    drawPlot({
      title,
      description: `Time from 0 to ${(1000 * (to - from)).toPrecision(3)} ms. ${series.map((each, index) => `${each.label} (${styles[index]!.line} line)`).join(", ")}.`,
      axis,
      width,
      thin: false,
      panels: [panel],
      bands: [],
      markers: [],
      along: "Time",
    }),
  );
}

/** An axis from 0 to `span` seconds, whose positions begin at 1. */
function timeAxis(span: number, width: number, size: number): FrequencyAxis {
  const position = (time: number): number => ((time - 1) / span) * width;
  const room = pixelsOf("0.00 ms", size) + 10;
  const step = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50].find((ms) => (ms / 1000 / span) * width >= room) ?? 100;
  const count = Math.floor((1000 * span) / step + 1e-9);
  const ticks = Array.from({ length: count + 1 }, (_, index) => ({
    x: ((index * step) / 1000 / span) * width,
    text: `${Number((index * step).toFixed(1))}${index === count || index === 0 ? " ms" : ""}`,
  }));
  return { from: 1, to: 1 + span, width, position, lines: ticks.map(({ x }) => ({ x, frequency: 0, major: true })), labels: ticks };
}
