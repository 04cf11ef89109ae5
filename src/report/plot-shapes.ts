import { element, type Markup } from "./markup";
import { DASHES, WEIGHTS, type Paint, type ResolvedStyle } from "./palette";
import { LIGHT } from "./theme";

/** Font sizes, the margin and the distance of rows, in px. */
export const SIZE = 12;
export const TITLE = 15;
export const EDGE = 12;
export const ROW = 17;

/** The attributes of a line in a series' colour. */
export function strokeOf({ paint }: ResolvedStyle): Readonly<Record<string, string>> {
  return { class: "dn-curve", style: `--dn-light:${paint.light};--dn-dark:${paint.dark}`, stroke: paint.light, fill: "none" };
}

/** A curve, or a sample of it, in the look of its series. */
export function curve(data: string, style: ResolvedStyle): Markup {
  return element("path", {
    ...strokeOf(style),
    "stroke-width": WEIGHTS[style.weight] * (style.line === "dotted" ? 1.25 : 1),
    "stroke-dasharray": DASHES[style.line],
    "stroke-linecap": "round",
    d: data,
  });
}

/** Text with its anchor at a point, in px. */
export function textAt(x: number, y: number, text: string, attributes: Readonly<Record<string, string | number>>): Markup {
  return element("text", { class: "dn-ink", fill: LIGHT.ink, ...attributes, x, y }, text);
}

/** Text with a rim in the colour of the paper, so that the grid behind it does not disturb. */
export function haloed(x: number, y: number, text: string, anchor?: "middle"): Markup {
  return element(
    "text",
    {
      class: "dn-ink dn-halo",
      fill: LIGHT.ink,
      stroke: LIGHT.paper,
      "stroke-width": 3,
      "stroke-linejoin": "round",
      "paint-order": "stroke",
      "text-anchor": anchor,
      x,
      y,
    },
    text,
  );
}

/** How an area is filled and rimmed: a tint of a colour, or grey with a dashed rim. */
export function areaLook(paint: Paint | undefined): Readonly<Record<string, string | number>> {
  return paint === undefined
    ? { class: "dn-area", fill: LIGHT.band, stroke: LIGHT.quiet, "stroke-width": 1, "stroke-dasharray": "4 3" }
    : {
        class: "dn-curve dn-tint",
        style: `--dn-light:${paint.light};--dn-dark:${paint.dark}`,
        fill: paint.light,
        "fill-opacity": 0.25,
        stroke: paint.light,
        "stroke-width": 0.75,
      };
}
