import { fixed, inSi } from "../quantity/internal";
import { DividingNetworkError } from "../errors";
import { checkNumber, checkOneOf, checkOptions } from "../errors/internal";
import { mapClass, MAP_CLASSES, runsOf } from "./angle-map-classes";
import type { AngleSeries } from "./angles-plot";
import { checkArray } from "./curve-checks";
import { shownBand } from "./frequency-plot";
import type { PlotFrame } from "./plot-options";
import { frequencyAxis } from "./frequency-axis";
import { checkText, element, pixels, trusted, type Markup } from "./markup";
import { pictureOf, type Picture } from "./picture";
import { EDGE, haloed, SIZE, textAt, TITLE } from "./plot-shapes";
import { levelsOf } from "./response-plot";
import { pixelsOf, wrapText } from "./text-width";
import { FONT, LIGHT, plotStyleSheet } from "./theme";

/** What `angleMapPlot` takes. */
export interface AngleMapPlotOptions extends Omit<PlotFrame, "marks" | "description"> {
  /** The level of each angle against the axis, dB, or responses in the unit of `reference`. */
  readonly series: readonly AngleSeries[];
  /** The plane of the angles, which names the sides. */
  readonly plane: "horizontal" | "vertical";
  /** The size that counts as 0 dB, in the unit of the responses; 1 by default. Level curves are taken as they are. */
  readonly reference?: number | undefined;
}

const SIDES = { horizontal: "Angle: + to the loudspeaker’s left, − to its right", vertical: "Angle: + up, − down" } as const;
const ROW = 17;

/**
 * Draws levels (dB) over angle (degrees) and frequency (Hz) as an SVG picture: a band for each angle that was measured, halfway to its neighbours, in steps
 * of 3 dB; nothing is drawn between. Lightness falls with the level, over the map "viridis" of van der Walt & Smith (2015), so that it can be read in
 * grey; what rises above +3 dB is outlined with dashes. Azimuth is positive towards the loudspeaker's own left, elevation upwards.
 *
 * @param options title, series (angles in degrees, levels in dB), `plane`, the band in Hz, markers in Hz
 * @returns the picture: its SVG text is `.svg`, a notebook shows it as it is
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { angleMapPlot } from "dividing-network/report";
 *
 * const at = (angle: number) => ({ angle, response: { frequencies: [20, 2000, 20000], levelDb: [0, -1, -Math.abs(angle) / 4] } });
 * angleMapPlot({ title: "Horizontal", plane: "horizontal", series: [-30, 0, 30].map(at) }).svg.includes("within ±3 dB"); // true
 * ```
 */
export function angleMapPlot(options: AngleMapPlotOptions): Picture {
  const caller = "angleMapPlot";
  const {
    title: given,
    series,
    plane,
    reference,
    width: asked = 720,
    markers = [],
    ...band
  } = checkOptions(caller, options, ["title", "series", "plane", "reference", "from", "to", "width", "markers"]);
  const title = checkText(caller, "title", given);
  checkOneOf(caller, "plane", plane, ["horizontal", "vertical"]);
  const width = checkNumber(caller, "width", asked, { min: 280, max: 4000, unit: "px" });
  const { from, to } = shownBand(caller, band);
  const rows = checkArray<AngleSeries>(caller, "series", series)
    .map((each, index) => {
      const { angle, response } = checkOptions<AngleSeries>(caller, each, ["angle", "response"]);
      return {
        angle: checkNumber(caller, `series[${index}].angle`, angle, { min: -180, max: 180, unit: "degrees" }),
        ...levelsOf(caller, `series[${index}].response`, response, reference),
      };
    })
    .sort((a, b) => b.angle - a.angle);
  if (rows.length < 2 || new Set(rows.map(({ angle }) => angle)).size < rows.length)
    throw new DividingNetworkError("invalid-argument", `${caller}: "series" must have at least two angles, each once, got ${rows.length}`);
  const lines = checkArray<NonNullable<PlotFrame["markers"]>[number]>(caller, "markers", markers)
    .map((marker, index) => ({ ...checkOptions(caller, marker, ["frequency", "label"]), index }))
    .map(({ frequency, label, index }) => ({
      at: inSi(caller, `markers[${index}].frequency`, frequency, "Hz", { above: 0 }),
      label: checkText(caller, `markers[${index}].label`, label),
    }));

  // The outermost rows reach as far beyond their angle as towards their neighbour.
  const [top, foot] = [(3 * rows[0]!.angle - rows[1]!.angle) / 2, (3 * rows.at(-1)!.angle - rows.at(-2)!.angle) / 2];
  const names = rows.map(({ angle }) => `${angle < 0 ? "−" : angle > 0 ? "+" : ""}${Number(Math.abs(angle).toPrecision(4))}°`);
  const left = Math.ceil(EDGE + Math.max(...names.map((name) => pixelsOf(name, SIZE))) + 6);
  const axis = frequencyAxis(from, to, width - left - 30, SIZE);
  const height = Math.max(120, Math.min(rows.length * 22, Math.round(0.5 * axis.width)));
  const y = (angle: number): number => ((top - angle) / (top - foot)) * height;
  const edges = [0, ...rows.slice(1).map(({ angle }, index) => y((angle + rows[index]!.angle) / 2)), height];
  const paths: string[] = MAP_CLASSES.map(() => "");
  for (const [index, { frequencies, values }] of rows.entries()) {
    const [above, below] = [edges[index]!, edges[index + 1]!];
    for (const { start, end, kind } of runsOf(frequencies, values, axis))
      paths[kind] += `M${pixels(start)} ${pixels(above)}H${pixels(end)}V${pixels(below)}H${pixels(start)}Z`;
  }
  const body: Markup[] = [];
  let at = EDGE + TITLE;
  for (const line of wrapText(title, width - 2 * EDGE, (text) => pixelsOf(text, TITLE) * 1.08)) {
    body.push(textAt(EDGE, at, line, { "font-size": TITLE, "font-weight": 600 }));
    at += TITLE + 5;
  }
  for (const line of wrapText(SIDES[plane], width - 2 * EDGE, (text) => pixelsOf(text, SIZE))) {
    body.push(textAt(EDGE, at + SIZE - 2, line, { class: "dn-quiet", fill: LIGHT.quiet }));
    at += SIZE + 6;
  }
  at += 4;
  let lastLabel = -Infinity;
  body.push(
    element(
      "g",
      { transform: `translate(${left} ${pixels(at)})` },
      MAP_CLASSES.map(({ fill, outlined }, kind) =>
        paths[kind] === ""
          ? trusted("")
          : element("path", {
              fill,
              d: paths[kind],
              ...(outlined ? { stroke: "#1a1a1a", "stroke-width": 1.25, "stroke-dasharray": "2 2" } : {}),
            }),
      ),
      element("path", {
        class: "dn-major",
        stroke: LIGHT.major,
        "stroke-width": 0.75,
        d: axis.lines
          .filter(({ major }) => major)
          .map(({ x }) => `M${pixels(x)} 0V${pixels(height)}`)
          .join(""),
      }),
      element("rect", { class: "dn-major", stroke: LIGHT.major, fill: "none", width: axis.width, height }),
      names.map((name, index) => {
        const middle = (edges[index]! + edges[index + 1]!) / 2;
        if (middle - lastLabel < SIZE + 1) return trusted("");
        lastLabel = middle;
        return textAt(-6, middle + 4, name, { class: "dn-quiet", fill: LIGHT.quiet, "text-anchor": "end" });
      }),
      lines.flatMap(({ at: frequency, label }) => {
        const x = axis.position(frequency);
        if (!(x >= 0 && x <= axis.width)) return [];
        return [
          element("path", { stroke: "#1a1a1a", "stroke-width": 1, "stroke-dasharray": "2 3", d: `M${pixels(x)} 0V${pixels(height)}` }),
          haloed(x + pixelsOf(label, SIZE) + 10 > axis.width ? x - pixelsOf(label, SIZE) - 6 : x + 4, 13, label),
        ];
      }),
    ),
  );
  at += height;
  for (const { x, text } of axis.labels)
    body.push(textAt(left + x, at + 17, text, { class: "dn-quiet", fill: LIGHT.quiet, "text-anchor": "middle" }));
  at += 28;
  const entry = 24 + Math.max(...MAP_CLASSES.map(({ label }) => pixelsOf(label, SIZE))) + 14;
  const columns = Math.max(1, Math.floor((width - 2 * EDGE) / entry));
  for (const [index, { label, fill, outlined }] of MAP_CLASSES.entries()) {
    const [x, row] = [EDGE + (index % columns) * entry, at + Math.floor(index / columns) * ROW];
    body.push(
      element("rect", {
        fill,
        stroke: "#6b6b6b",
        x,
        y: row,
        width: 18,
        height: 11,
        ...(outlined ? { "stroke-dasharray": "2 2", "stroke-width": 1.25 } : {}),
      }),
      textAt(x + 24, row + 10, label, {}),
    );
  }
  const total = Math.ceil(at + Math.ceil(MAP_CLASSES.length / columns) * ROW + EDGE - 4);
  const said = rows.map(({ angle, frequencies, values }, index) => `${names[index]!}: ${extremeOf(angle, frequencies, values, from, to)}.`);
  return pictureOf(
    element(
      "svg",
      {
        xmlns: "http://www.w3.org/2000/svg",
        class: "dn-plot",
        role: "img",
        viewBox: `0 0 ${pixels(width)} ${total}`,
        width,
        height: total,
        "font-family": FONT,
        "font-size": SIZE,
      },
      element("title", {}, title),
      element(
        "desc",
        {},
        [
          `Level against the axis. ${SIDES[plane]}. Frequency from ${from} Hz to ${to} Hz.`,
          ...said,
          ...lines.map(({ label }) => `Marked: ${label}.`),
        ].join(" "),
      ),
      element("style", {}, trusted(plotStyleSheet())),
      element("rect", { class: "dn-paper", fill: LIGHT.paper, width, height: total }),
      body,
    ),
  );
}

/** The lowest and highest level of one angle, for those who don't see the map. */
function extremeOf(_angle: number, frequencies: ArrayLike<number>, values: ArrayLike<number>, from: number, to: number): string {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < values.length; i++) {
    if (frequencies[i]! < from || frequencies[i]! > to || mapClass(values[i]!) === undefined) continue;
    [low, high] = [Math.min(low, values[i]!), Math.max(high, values[i]!)];
  }
  const text = (value: number) => fixed(value, 1);
  return low > high ? "no data" : `${text(low)} to ${text(high)} dB`;
}
