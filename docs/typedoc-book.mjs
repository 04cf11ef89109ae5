// Puts the pages of the site into the parts and the order of docs/book.md. A page that has no line there comes last, under "Further pages".
import { readFileSync } from "node:fs";
import { basename, dirname, relative, resolve } from "node:path";
import { Converter } from "typedoc";

const docs = import.meta.dirname;
const alone = new Set(["book.md", "mutation.md"]);

/** The parts of the book, each with the pages in their order; the pages of a folder follow its index. */
const parts = readFileSync(resolve(docs, "book.md"), "utf8")
  .split(/^## /m)
  .slice(1)
  .map((part) => ({
    title: part.split("\n", 1)[0],
    pages: [...part.matchAll(/\[[^\]]*\]\(([^)#]+)\)/g)].map(([, page]) => page),
  }));
const placeOf = (page) => {
  for (const [part, { pages }] of parts.entries()) {
    const exact = pages.indexOf(page);
    const at = exact >= 0 ? exact : pages.findIndex((each) => each === `${dirname(page)}/index.md`);
    if (at >= 0) return { part, at: exact >= 0 ? at : at + 0.5 };
  }
  if (alone.has(page)) return { part: page === "book.md" ? -1 : parts.length, at: 0 };
  return { part: parts.length + 1, at: 0 };
};

/** @param {import("typedoc").Application} app */
export function load(app) {
  const places = new Map();
  app.converter.on(Converter.EVENT_RESOLVE_BEGIN, (context) => {
    for (const document of context.project.documents ?? []) {
      const path = context.project.files.getReflectionPath(document);
      const page = relative(docs, path);
      const place = placeOf(page);
      places.set(document.id, { ...place, name: basename(page) });
      document.name = /^# (.+)$/m.exec(readFileSync(path, "utf8"))?.[1].replaceAll("`", "") ?? document.name;
      document.frontmatter.group =
        place.part < 0 ? "The book" : (parts[place.part]?.title ?? (place.part === parts.length ? "For contributors" : "Further pages"));
    }
  });
  app.converter.on(
    Converter.EVENT_RESOLVE_END,
    (context) => {
      const order = (a, b) => {
        const [first, second] = [places.get(a.id), places.get(b.id)];
        if (first === undefined || second === undefined) return 0;
        return first.part - second.part || first.at - second.at || first.name.localeCompare(second.name);
      };
      context.project.documents?.sort(order);
      for (const group of context.project.groups ?? []) group.children.sort(order);
    },
    -1000,
  );
}
