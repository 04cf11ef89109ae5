import type { Mark } from "../response";
import { shading, unions, type Band } from "./bands";
import { placeLabels, type PlacedLabel } from "./curve-labels";
import type { FrequencyAxis } from "./frequency-axis";
import { element, fragment, pixels, trusted, type Markup } from "./markup";
import type { Paint, ResolvedStyle } from "./palette";
import { drawLegend, drawNotes, legendEntries } from "./plot-legend";
import { areaLook, curve, EDGE, haloed, SIZE, strokeOf, textAt, TITLE } from "./plot-shapes";
import { pathData, polyline, type Run } from "./polyline";
import { pixelsOf, wrapText } from "./text-width";
import { FONT, LIGHT, plotStyleSheet } from "./theme";
import { largest, valueAxis, type ValueAxis } from "./value-axis";

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

interface Drawn {
  readonly panel: CheckedPanel;
  readonly values: ValueAxis;
  readonly curves: readonly (readonly Run[])[];
}

/** Lays a plot out and draws it. */
export function drawPlot(drawing: PlotDrawing): Markup {
  const { width, panels } = drawing;
  const tickWidth = largest(
    panels.flatMap((panel) => valueAxis(...panel.range, panel.height, panel.steps).ticks.map(({ text }) => pixelsOf(text, SIZE))),
    24,
  );
  const left = Math.ceil(EDGE + tickWidth + 6);
  const layout = (right: number): { axis: FrequencyAxis; drawn: Drawn[]; labels: (readonly PlacedLabel[] | undefined)[] } => {
    const axis = drawing.axis(width - left - right, SIZE);
    const drawn = panels.map((panel) => drawCurves(panel, axis));
    const labels = drawn.map(({ panel, values, curves }) =>
      placeLabels(
        panel.series.map(({ label }) => label),
        curves,
        axis.width,
        values.height,
        SIZE,
        drawing.thin,
      ),
    );
    return { axis, drawn, labels };
  };

  // Direct labels need room at the right; when they fail in any panel, a legend takes their place and the room is given back.
  const longest = largest(
    panels.flatMap(({ series }) => series.map(({ label }) => pixelsOf(label, SIZE))),
    0,
  );
  const roomy = longest <= 0.3 * width - 24 && panels.some(({ series }) => series.length > 0);
  const direct = roomy ? layout(Math.max(30, longest + 18 + EDGE)) : undefined;
  const named = direct !== undefined && direct.labels.every((labels) => labels !== undefined);
  const { axis, drawn, labels } = named ? direct : layout(30);

  const body: Markup[] = [];
  let y = EDGE + TITLE;
  for (const line of wrapText(drawing.title, width - 2 * EDGE, (text) => pixelsOf(text, TITLE) * 1.08)) {
    body.push(textAt(EDGE, y, line, { "font-size": TITLE, "font-weight": 600 }));
    y += TITLE + 5;
  }
  y += 2;
  for (const [index, { panel, values, curves }] of drawn.entries()) {
    y += index === 0 ? 0 : 6;
    for (const line of wrapText(panel.label, width - 2 * EDGE, (text) => pixelsOf(text, SIZE))) {
      body.push(textAt(EDGE, y + SIZE - 4, line, { class: "dn-quiet", fill: LIGHT.quiet }));
      y += SIZE + 4;
    }
    y += 4;
    body.push(drawPanel(panel, axis, values, curves, named ? labels[index]! : [], drawing, index === 0, left, y));
    y += values.height + (index < drawn.length - 1 ? 12 : 0);
  }
  for (const { x, text } of axis.labels)
    body.push(textAt(left + x, y + 17, text, { class: "dn-quiet", fill: LIGHT.quiet, "text-anchor": "middle" }));
  body.push(textAt(left + axis.width / 2, y + 35, drawing.along, { class: "dn-quiet", fill: LIGHT.quiet, "text-anchor": "middle" }));
  y += 42;

  if (!named) {
    const legend = drawLegend(legendEntries(panels), width, y);
    body.push(legend.markup);
    y = legend.bottom;
  }
  const notes = drawNotes(
    drawing.bands,
    panels.flatMap(({ areas }) => areas),
    width,
    y,
  );
  body.push(notes.markup);
  const height = Math.ceil(notes.bottom + EDGE - 4);

  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      class: "dn-plot",
      role: "img",
      viewBox: `0 0 ${pixels(width)} ${height}`,
      width,
      height,
      "font-family": FONT,
      "font-size": SIZE,
    },
    element("title", {}, drawing.title),
    element("desc", {}, drawing.description),
    element("style", {}, trusted(plotStyleSheet())),
    element("rect", { class: "dn-paper", fill: LIGHT.paper, width, height }),
    body,
  );
}

function drawCurves(panel: CheckedPanel, axis: FrequencyAxis): Drawn {
  const [low, high] = panel.range;
  const perDecade = axis.width / Math.log10(axis.to / axis.from);
  let height = panel.height;
  if (panel.unitsPerDecade.length > 0) {
    const limit = 0.7 * axis.width;
    height = panel.unitsPerDecade.map((units) => ((high - low) / units) * perDecade).find((candidate) => candidate <= limit) ?? limit;
    height = Math.round(Math.max(140, height));
  }
  const values = valueAxis(low, high, height, panel.steps);
  const curves = panel.series.map((series) =>
    polyline(series.frequencies, series.values, {
      x: axis.position,
      y: values.position,
      width: axis.width,
      ...(series.breakStep === undefined ? {} : { breakStep: series.breakStep }),
    }),
  );
  return { panel, values, curves };
}

function drawPanel(
  panel: CheckedPanel,
  axis: FrequencyAxis,
  values: ValueAxis,
  curves: readonly (readonly Run[])[],
  labels: readonly PlacedLabel[],
  { bands, markers }: PlotDrawing,
  first: boolean,
  left: number,
  top: number,
): Markup {
  const { width } = axis;
  const { height } = values;
  const shaded = unions(bands).map(({ kind, from, to }) => {
    const start = axis.position(from);
    return shading(kind, start, 0, Math.max(1, axis.position(to) - start), height);
  });
  const grid = (major: boolean): string =>
    axis.lines
      .filter((line) => line.major === major)
      .map(({ x }) => `M${pixels(x)} 0V${pixels(height)}`)
      .join("");
  const rows = values.ticks.map(({ y }) => `M0 ${pixels(y)}H${pixels(width)}`).join("");
  const ticks = values.ticks.map(({ y, text }) => textAt(-6, y + 4, text, { class: "dn-quiet", fill: LIGHT.quiet, "text-anchor": "end" }));
  const drawn = curves.map((runs, index) => {
    const { style } = panel.series[index]!;
    return runs.length === 0 ? fragment() : curve(pathData(runs), style);
  });
  const areas = panel.areas.map((area) => areaPath(area, axis, values));
  const marks = markers.flatMap(({ at, label }) => {
    const x = axis.position(at);
    if (!(x >= 0 && x <= width)) return [];
    const room = pixelsOf(label, SIZE) + 6;
    return [
      element("path", {
        class: "dn-marker",
        stroke: LIGHT.quiet,
        "stroke-width": 1,
        "stroke-dasharray": "2 3",
        d: `M${pixels(x)} 0V${pixels(height)}`,
      }),
      ...(first ? [haloed(x + 4 + room > width ? x - room : x + 4, 13, label)] : []),
    ];
  });
  const empty = curves.every((runs) => runs.length === 0) ? [haloed(width / 2, height / 2, "No data in this band", "middle")] : [];
  const names = labels.flatMap(({ index, x, y, leader }) => [
    element("path", {
      ...strokeOf(panel.series[index]!.style),
      "stroke-width": 1,
      d: `M${leader.slice(0, 2).map(pixels).join(" ")}L${leader.slice(2).map(pixels).join(" ")}`,
    }),
    haloed(x, y + 4, panel.series[index]!.label),
  ]);
  return element(
    "g",
    { transform: `translate(${pixels(left)} ${pixels(top)})`, "stroke-linejoin": "round" },
    shaded,
    element("path", { class: "dn-minor", stroke: LIGHT.minor, "stroke-width": 1, d: grid(false) }),
    element("path", { class: "dn-major", stroke: LIGHT.major, "stroke-width": 1, d: grid(true) + rows }),
    element("rect", { class: "dn-major", stroke: LIGHT.major, fill: "none", width, height }),
    ticks,
    element("svg", { width, height }, areas, drawn),
    marks,
    names,
    empty,
  );
}

/** The outline of an area: along its upper edge and back along its lower one. */
function areaPath({ frequencies, low, high, paint }: Area, axis: FrequencyAxis, values: ValueAxis): Markup {
  const point = (index: number, edge: ArrayLike<number>): string =>
    `${pixels(axis.position(frequencies[index]!))} ${pixels(Math.max(-1e4, Math.min(1e4, values.position(edge[index]!))))}`;
  const indices = Array.from({ length: frequencies.length }, (_, index) => index).filter(
    (index) => frequencies[index]! > 0 && Number.isFinite(low[index]) && Number.isFinite(high[index]),
  );
  if (indices.length < 2) return fragment();
  return element("path", {
    ...areaLook(paint),
    d: `M${indices.map((index) => point(index, high)).join("L")}L${[...indices]
      .reverse()
      .map((index) => point(index, low))
      .join("L")}Z`,
  });
}
