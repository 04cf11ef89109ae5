import { checkText, element, type Markup } from "../markup";
import type { Picture } from "../picture";

/** Widths in px at which a picture is drawn: beside another, and on a narrow screen or on paper. */
const [WIDE, NARROW] = [560, 400];

/** A picture that stands beside another where there is room, drawn for both widths; no caption where there is nothing to add. */
export function pairFigure(picture: (width: number) => Picture, caption: string): Markup {
  return element(
    "figure",
    {},
    element("div", { class: "wide" }, picture(WIDE)),
    element("div", { class: "narrow" }, picture(NARROW)),
    ...(checkText("figure", "caption", caption) === "" ? [] : [element("figcaption", {}, caption)]),
  );
}

/** Figures side by side on wide screens and on paper. */
export function twoColumns(figures: readonly Markup[], height: "usual" | "tall" = "usual"): Markup {
  return element("div", { class: height === "tall" ? "pair tall" : "pair" }, figures);
}

/** Figures below each other in one column. */
export function stacked(figures: readonly Markup[]): Markup {
  return element("div", {}, figures);
}
