import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions, show } from "../errors/internal";
import { checkArray } from "./curve-checks";
import { checkText, element, fragment, isMarkup, MARKUP, trusted, type Markup } from "./markup";
import { pageStyleSheet } from "./page-style";

/** One section of a page. */
export interface PageSection {
  readonly heading: string;
  /** Built by `paragraph`, `table`, `figure` and `list`; several are set one after the other. */
  readonly html: Markup | readonly Markup[];
  /** On paper: whether it begins a new side, or stays on one. */
  readonly onPaper?: "own-side" | "together" | undefined;
}

/** What `htmlPage` takes. */
export interface HtmlPageOptions {
  readonly title: string;
  readonly sections: readonly PageSection[];
  /** What the page was made from, for its foot: names of files, their dates. */
  readonly generatedFrom?: string | undefined;
}

/** Nothing may be loaded: the page is complete in itself. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

/**
 * One self-contained HTML document: no scripts, nothing fetched, set in the reader's own fonts, readable on narrow
 * screens, in dark mode and on paper. All text is escaped; equal input gives equal bytes (there is no time of making
 * in it).
 *
 * @param options title, sections made with the builders, and what the page was made from
 * @returns the text of the document, HTML that is also well-formed XML
 * @throws DividingNetworkError `invalid-argument` or `unknown-option`
 */
export function htmlPage(options: HtmlPageOptions): string {
  const caller = "htmlPage";
  const { generatedFrom, ...given } = checkOptions(caller, options, ["title", "sections", "generatedFrom"]);
  const title = checkText(caller, "title", given.title);
  const sections = checkArray<PageSection>(caller, "sections", given.sections).map((section, index) => {
    const { heading: words, html, onPaper } = checkOptions(caller, section, ["heading", "html", "onPaper"]);
    const heading = checkText(caller, `sections[${index}].heading`, words);
    const parts: readonly unknown[] = Array.isArray(html) ? html : [html];
    for (const part of parts) {
      if (!isMarkup(part)) {
        throw new DividingNetworkError(
          "invalid-argument",
          `${caller}: "sections[${index}].html" must be made with the builders, got ${show(part)}`,
          "Wrap text in paragraph(…)",
        );
      }
    }
    return {
      heading,
      onPaper: onPaper === undefined ? undefined : checkOneOf(caller, `sections[${index}].onPaper`, onPaper, ["own-side", "together"]),
      id: `section-${index + 1}`,
      content: fragment(parts as readonly Markup[]),
    };
  });

  const links = sections.map(({ heading, id }) => element("li", {}, element("a", { href: `#${id}` }, heading)));
  const contents = sections.length < 3 ? [] : [element("nav", { "aria-label": "Contents" }, element("ul", {}, links))];
  const body = sections.map(({ heading, id, content, onPaper }) =>
    element(
      "section",
      { id, class: onPaper, "aria-labelledby": `${id}-heading` },
      element("h2", { id: `${id}-heading` }, heading),
      content,
    ),
  );
  const source =
    generatedFrom === undefined
      ? []
      : [element("footer", {}, element("p", {}, `Made from ${checkText(caller, "generatedFrom", generatedFrom)}`))];
  const document = element(
    "html",
    { lang: "en", xmlns: "http://www.w3.org/1999/xhtml" },
    element(
      "head",
      {},
      element("meta", { charset: "utf-8" }),
      element("meta", { "http-equiv": "Content-Security-Policy", content: POLICY }),
      element("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
      element("title", {}, title),
      element("style", {}, trusted(pageStyleSheet())),
    ),
    element(
      "body",
      {},
      element("a", { class: "skip", href: "#content" }, "Skip to the content"),
      element("header", {}, element("h1", {}, title)),
      ...contents,
      element("main", { id: "content" }, body),
      ...source,
    ),
  );
  return `<!DOCTYPE html>\n${document[MARKUP]}\n`;
}
