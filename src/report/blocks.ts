import { DividingNetworkError } from "../errors";
import { checkOptions, show } from "../errors/internal";
import { checkArray } from "./curve-checks";
import { checkText, element, fragment, type Content, type Markup } from "./markup";
import { isPicture, type Picture } from "./picture";
import { checkTable, type Table } from "./table";

/**
 * A paragraph of a page. Text is escaped.
 *
 * @param content text, numbers or markup made by the builders, set one after the other
 * @returns markup for a section of `htmlPage`
 * @throws DividingNetworkError `invalid-argument`
 */
export function paragraph(...content: readonly Content[]): Markup {
  return element("p", {}, fragment(content));
}

/**
 * A bulleted or numbered list of a page. Text is escaped.
 *
 * @param items text, numbers or markup made by the builders, one an item
 * @param options `ordered`: numbered; false by default
 * @returns markup for a section of `htmlPage`
 * @throws DividingNetworkError `invalid-argument`
 */
export function list(items: readonly Content[], options: { readonly ordered?: boolean | undefined } = {}): Markup {
  const { ordered } = checkOptions<{ readonly ordered?: boolean | undefined }>("list", options, ["ordered"]);
  return element(
    ordered ? "ol" : "ul",
    {},
    checkArray<Content>("list", "items", items).map((item) => element("li", {}, item)),
  );
}

/**
 * A table of a page, with its caption above and the first cell of each row as that row's heading. On a screen too narrow
 * for it, the table scrolls by itself.
 *
 * @param spec caption, columns and rows; text is escaped
 * @param options `label`: what the table is called for those who don't see it, where it has no caption; each table of a page has a name of its own
 * @returns markup for a section of `htmlPage`
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 */
export function table(spec: Table<Content>, options: { readonly label?: string | undefined } = {}): Markup {
  checkOptions("table", spec, ["caption", "columns", "rows"]);
  const columns = checkTable("table", spec, true);
  const head = columns.map(({ heading, align }) => element("th", { scope: "col", class: align }, heading));
  const rows = spec.rows.map((row) =>
    element(
      "tr",
      {},
      row.map((cell, index) =>
        element(index === 0 ? "th" : "td", { ...(index === 0 ? { scope: "row" } : {}), class: columns[index]!.align }, cell),
      ),
    ),
  );
  const caption = spec.caption === undefined ? [] : [element("caption", {}, spec.caption)];
  const body = element("table", {}, ...caption, element("thead", {}, element("tr", {}, head)), element("tbody", {}, rows));
  return element("div", { class: "scroll", role: "region", "aria-label": spec.caption ?? options.label ?? "Table", tabindex: 0 }, body);
}

/** Widths in px at which a figure that can be redrawn is drawn for a page: for wide and for narrow screens. */
const WIDE = 720;
const NARROW = 400;

/**
 * A picture of a page with its caption below. Given a function of the width, the picture is drawn twice, and narrow
 * screens are shown the narrow one with its text at full size; given one picture, it scrolls on a narrow screen.
 *
 * @param picture what a plot returned, or a function of the width in px that returns it; nothing but the plots makes one
 * @param caption says what is to be seen; escaped
 * @returns markup for a section of `htmlPage`
 * @throws DividingNetworkError `invalid-argument` when it is not a picture that a plot drew
 */
export function figure(picture: Picture | ((width: number) => Picture), caption: string): Markup {
  const words = element("figcaption", {}, checkText("figure", "caption", caption));
  if (typeof picture !== "function") return element("figure", { class: "one" }, element("div", { class: "scroll" }, drawn(picture)), words);
  return element(
    "figure",
    {},
    element("div", { class: "wide" }, drawn(picture(WIDE))),
    element("div", { class: "narrow" }, drawn(picture(NARROW))),
    words,
  );
}

function drawn(picture: unknown): Picture {
  if (isPicture(picture)) return picture;
  throw new DividingNetworkError(
    "invalid-argument",
    `figure: "picture" must be what a plot of this library returned, got ${show(picture)}`,
    "Pass on the plot itself, not its text: SVG from elsewhere can carry scripts and links",
  );
}
