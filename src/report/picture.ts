import { shown, type Views } from "../errors/internal";
import { isMarkup, MARKUP, registered, type Markup } from "./markup";

/**
 * A plot, drawn: its SVG text stands under `svg`, and it shows itself in a notebook. Only the plots of this folder make one,
 * in which every text was escaped, so that a page holds no picture but these: SVG from elsewhere can carry scripts and
 * links, and is no picture however it is written. What has been cloned or posted from a worker keeps its `svg` alone.
 */
export interface Picture extends Markup {
  /** One SVG element, usable alone: as a file, or set into a page. */
  readonly svg: string;
  /** The same text, so that a picture can be written into a template or a file. */
  toString(): string;
}

/** A drawing as a picture. */
export function pictureOf(drawing: Markup): Picture {
  const svg = drawing[MARKUP];
  const hidden = (value: unknown) => ({ value, enumerable: false });
  const picture = Object.defineProperties(shown({ svg }, pictureViews), {
    [MARKUP]: hidden(svg),
    toString: hidden(() => svg),
    [Symbol.for("Jupyter.display")]: hidden(() => ({ "image/svg+xml": svg })),
  });
  return registered(Object.freeze(picture as Picture));
}

/** Its size, its title and its description, in place of the drawing's thousands of letters. */
const pictureViews: Views<{ readonly svg: string }> = {
  text: ({ svg }) => {
    const said = (pattern: RegExp, most: number): string => {
      const text = decoded(pattern.exec(svg)?.[1] ?? "").replace(/\s+/g, " ");
      return text.length > most ? `${text.slice(0, most - 1)}…` : text;
    };
    const description = said(/<desc>([^<]*)<\/desc>/, 300);
    return [
      `Picture: ${said(/<title>([^<]*)<\/title>/, 100)}, ${said(/ width="([\d.]+)"/, 10)} × ${said(/ height="([\d.]+)"/, 10)}`,
      ...(description === "" ? [] : [`  ${description}`]),
      `  ask: .svg, ${svg.length} letters`,
    ].join("\n");
  },
};

/** The letters that stand escaped in the drawing. */
const decoded = (text: string): string =>
  text.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&quot;", '"').replaceAll("&#39;", "'").replaceAll("&amp;", "&");

/** Whether a value is a picture drawn here. */
export function isPicture(value: unknown): value is Picture {
  return isMarkup(value) && "svg" in value;
}
