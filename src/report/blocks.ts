import { checkOptions, DividingNetworkError, show } from "../errors";
import { checkArray } from "./curve-checks";
import type { Displayable } from "./displayable";
import { checkText, element, fragment, trusted, type Content, type Markup } from "./markup";
import { checkTable, type Table } from "./table";

/**
 * A paragraph of a page. Text is escaped.
 *
 * @param content text, numbers or markup made by the builders, set one after the other
 * @returns markup for a section of `htmlPage`
 * @throws DividingNetworkError `invalid-argument`
 * @example
 * ```ts
 * import { htmlPage, paragraph } from "dividing-network/report";
 *
 * const page = htmlPage({ title: "Report", sections: [{ heading: "Load", html: paragraph("Above 4 Ω & resistive.") }] });
 * page.includes("<p>Above 4 Ω &amp; resistive.</p>"); // true
 * ```
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
 * @example
 * ```ts
 * import { htmlPage, list } from "dividing-network/report";
 *
 * const page = htmlPage({ title: "Report", sections: [{ heading: "Parts", html: list(["C1", "L1"]) }] });
 * page.includes("<li>C1</li><li>L1</li>"); // true
 * ```
 */
export function list(items: readonly Content[], options: { readonly ordered?: boolean } = {}): Markup {
  const { ordered } = checkOptions<{ readonly ordered?: boolean }>("list", options, ["ordered"]);
  return element(ordered ? "ol" : "ul", {}, checkArray<Content>("list", "items", items).map((item) => element("li", {}, item)));
}

/**
 * A table of a page, with its caption above and the first cell of each row as that row's heading. On a screen too narrow
 * for it, the table scrolls by itself.
 *
 * @param spec caption, columns and rows; text is escaped
 * @returns markup for a section of `htmlPage`
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 * @example
 * ```ts
 * import { htmlPage, table } from "dividing-network/report";
 *
 * const parts = table({ caption: "Parts", columns: [{ label: "Part" }, { label: "Value", unit: "µF" }], rows: [["C1", 6.8]] });
 * htmlPage({ title: "Report", sections: [{ heading: "Parts", html: parts }] }).includes("<caption>Parts</caption>"); // true
 * ```
 */
export function table(spec: Table<Content>): Markup {
  checkOptions("table", spec, ["caption", "columns", "rows"]);
  const columns = checkTable("table", spec, true);
  const head = columns.map(({ heading, align }) => element("th", { scope: "col", class: align }, heading));
  const rows = spec.rows.map((row) =>
    element(
      "tr",
      {},
      row.map((cell, index) => element(index === 0 ? "th" : "td", { ...(index === 0 ? { scope: "row" } : {}), class: columns[index]!.align }, cell)),
    ),
  );
  const caption = spec.caption === undefined ? [] : [element("caption", {}, spec.caption)];
  const body = element("table", {}, ...caption, element("thead", {}, element("tr", {}, head)), element("tbody", {}, rows));
  return element("div", { class: "scroll", role: "region", "aria-label": spec.caption ?? "Table", tabindex: 0 }, body);
}

/** Widths in px at which a figure that can be redrawn is drawn for a page: for wide and for narrow screens. */
const WIDE = 720;
const NARROW = 400;

/**
 * A picture of a page with its caption below. Given a function of the width, the picture is drawn twice, and narrow
 * screens are shown the narrow one with its text at full size; given one picture, it scrolls on a narrow screen.
 *
 * @param svg SVG text as the plots return it, what `displayable` returned, or a function of the width in px that returns either
 * @param caption says what is to be seen; escaped
 * @returns markup for a section of `htmlPage`
 * @throws DividingNetworkError `invalid-argument` when it is not SVG text
 * @example
 * ```ts
 * import { figure, htmlPage, responsePlot } from "dividing-network/report";
 *
 * const series = [{ label: "Sum", response: { frequencies: [20, 20000], levelDb: [80, 86] } }];
 * const sum = figure((width) => responsePlot({ title: "Sum", yLabel: "Level, dB re 20 µPa", series, width }), "The sum on axis.");
 * htmlPage({ title: "Report", sections: [{ heading: "Sum", html: sum }] }).includes("The sum on axis."); // true
 * ```
 */
export function figure(svg: string | Displayable | ((width: number) => string | Displayable), caption: string): Markup {
  const words = element("figcaption", {}, checkText("figure", "caption", caption));
  if (typeof svg !== "function") return element("figure", { class: "one" }, element("div", { class: "scroll" }, picture(svg)), words);
  return element("figure", {}, element("div", { class: "wide" }, picture(svg(WIDE))), element("div", { class: "narrow" }, picture(svg(NARROW))), words);
}

function picture(given: string | Displayable): Markup {
  const svg: unknown = typeof given === "object" && given !== null ? given.svg : given;
  if (typeof svg !== "string" || !/^\s*<svg[\s>]/.test(svg) || !/(<\/svg>|\/>)\s*$/.test(svg) || /<script|<foreignObject|<[a-z][^>]*\son[a-z]+\s*=\s*["']/i.test(svg)) {
    throw new DividingNetworkError("invalid-argument", `figure: "svg" must be one SVG picture without scripts, got ${show(svg)}`, "Pass on what a plot returned");
  }
  return trusted(svg.trim());
}
