import { shading, unions } from "./bands";
import type { PlacedLabel } from "./curve-labels";
import type { FrequencyAxis } from "./frequency-axis";
import { element, fragment, pixels, type Markup } from "./markup";
import type { Area, CheckedPanel, PlotDrawing } from "./plot-drawing";
import { areaLook, curve, haloed, SIZE, strokeOf, textAt } from "./plot-shapes";
import { pathData, polyline, type Run } from "./polyline";
import { pixelsOf } from "./text-width";
import { LIGHT } from "./theme";
import { valueAxis, type ValueAxis } from "./value-axis";

/** A panel with its axis and its curves in px. */
export interface Drawn {
  readonly panel: CheckedPanel;
  readonly values: ValueAxis;
  readonly curves: readonly (readonly Run[])[];
}

/** The curves of a panel on a horizontal axis. */
export function drawCurves(panel: CheckedPanel, axis: FrequencyAxis): Drawn {
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

/** A panel with grid, shades, curves, markers and labels. */
export function drawPanel(
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
