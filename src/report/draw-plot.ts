import { placeLabels, type PlacedLabel } from "./curve-labels";
import { drawCurves, drawPanel, type Drawn } from "./draw-panel";
import type { FrequencyAxis } from "./frequency-axis";
import { element, pixels, trusted, type Markup } from "./markup";
import type { PlotDrawing } from "./plot-drawing";
import { drawLegend, drawNotes, legendEntries } from "./plot-legend";
import { EDGE, SIZE, textAt, TITLE } from "./plot-shapes";
import { pixelsOf, wrapText } from "./text-width";
import { FONT, LIGHT, plotStyleSheet } from "./theme";
import { largest, valueAxis } from "./value-axis";

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
