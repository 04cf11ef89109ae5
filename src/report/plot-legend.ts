import { notesOf, shading, type Band } from "./bands";
import { element, fragment, pixels, type Markup } from "./markup";
import type { Paint, ResolvedStyle } from "./palette";
import { areaLook, curve, EDGE, ROW, SIZE, textAt } from "./plot-shapes";
import { pixelsOf, wrapText } from "./text-width";
import { LIGHT } from "./theme";
import { largest } from "./value-axis";

interface LegendEntry {
  readonly label: string;
  readonly style: ResolvedStyle;
}

/** Each series once, though it may be in several panels. */
export function legendEntries<S extends LegendEntry>(panels: readonly { readonly series: readonly S[] }[]): readonly S[] {
  const entries = new Map<string, S>();
  for (const series of panels.flatMap((panel) => panel.series)) entries.set(JSON.stringify([series.label, series.style]), series);
  return [...entries.values()];
}

/** The legend in as many equal columns as fit, read row by row. */
export function drawLegend(entries: readonly LegendEntry[], width: number, top: number): { markup: Markup; bottom: number } {
  const sample = 30;
  const indent = sample + 8;
  const room = width - 2 * EDGE;
  const wrapped = entries.map(({ label }) => wrapText(label, room - indent, (text) => pixelsOf(text, SIZE)));
  const entryWidth =
    indent
    + largest(
      wrapped.flat().map((line) => pixelsOf(line, SIZE)),
      0,
    )
    + 20;
  const columns = Math.max(1, Math.floor((room + 20) / entryWidth));
  const parts: Markup[] = [];
  let y = top;
  for (let start = 0; start < entries.length; start += columns) {
    for (const [place, { style }] of entries.slice(start, start + columns).entries()) {
      const x = EDGE + place * entryWidth;
      parts.push(curve(`M${pixels(x + 1)} ${pixels(y + 8)}h${sample - 2}`, style));
      for (const [row, line] of wrapped[start + place]!.entries()) parts.push(textAt(x + indent, y + 12 + row * ROW, line, {}));
    }
    y +=
      ROW
      * largest(
        wrapped.slice(start, start + columns).map(({ length }) => length),
        1,
      );
  }
  return { markup: fragment(parts), bottom: entries.length === 0 ? top : y + 4 };
}

/** What the shaded bands mean, each with its sample. */
export function drawNotes(
  bands: readonly Band[],
  areas: readonly { readonly label: string; readonly paint?: Paint | undefined }[],
  width: number,
  top: number,
): { markup: Markup; bottom: number } {
  const parts: Markup[] = [];
  let y = top;
  const looks = new Map(areas.map(({ label, paint }) => [label, paint] as const));
  for (const note of [...looks.keys(), ...notesOf(bands)]) {
    const indent = EDGE + 38;
    const text = typeof note === "string" ? note : note.text;
    if (typeof note !== "string" && note.shaded) {
      parts.push(
        shading(note.kind, EDGE, y + 2, 30, 12),
        element("rect", { class: "dn-major", stroke: LIGHT.major, fill: "none", x: EDGE, y: y + 2, width: 30, height: 12 }),
      );
    }
    if (looks.has(text)) parts.push(element("rect", { ...areaLook(looks.get(text)), x: EDGE, y: y + 2, width: 30, height: 12 }));
    for (const line of wrapText(text, width - EDGE - indent, (piece) => pixelsOf(piece, SIZE))) {
      parts.push(textAt(indent, y + 12, line, { class: "dn-quiet", fill: LIGHT.quiet }));
      y += ROW;
    }
    y += 1;
  }
  return { markup: fragment(parts), bottom: y };
}
