// Tests src/report/: blocks.ts, page-style.ts, table.ts
import fc from "fast-check";
import { responsePlot, type Picture } from "dividing-network/report";
import { figure, htmlPage, list, paragraph, table } from "../../src/report/internal";
import { describe, expect, it } from "vitest";
import { findAll, named, parseXml, textOf, withClass } from "./xml";

const plot = (width?: number): Picture =>
  responsePlot({
    title: "Sum",
    yLabel: "Level, dB",
    width,
    series: [{ label: "a", response: { frequencies: [20, 20000], levelDb: [80, 82] } }],
  });
const parts = table({
  caption: "Parts",
  columns: [{ label: "Part" }, { label: "Value", unit: "µF" }, { label: "Note", align: "center" }],
  rows: [
    ["C1", 6.8, "a"],
    ["C2", -10, "b"],
  ],
});
const page = (): string =>
  htmlPage({
    title: "Before & after",
    generatedFrom: "a.json",
    sections: [
      { heading: "Load", html: paragraph("Above ", 4, " Ω") },
      { heading: "Parts", html: [parts, list(["one", paragraph("two")], { ordered: true })] },
      { heading: "Sum", html: figure(plot, "On axis <here>") },
    ],
  });

describe("htmlPage", () => {
  const root = parseXml(page());

  it("is one document that is also well-formed XML", () => {
    expect(page().startsWith('<!DOCTYPE html>\n<html lang="en"')).toBe(true);
    expect(root.name).toBe("html");
    expect(textOf(findAll(root, named("title"))[0]!)).toBe("Before & after");
    expect(page()).toBe(page());
  });

  it("forbids and needs nothing to be loaded", () => {
    const policy = findAll(root, (element) => element.attributes["http-equiv"] === "Content-Security-Policy")[0]!;
    expect(policy.attributes["content"]).toBe("default-src 'none'; style-src 'unsafe-inline'; img-src data:");
    expect(findAll(root, (element) => ["script", "link", "img", "iframe", "object", "form", "base"].includes(element.name))).toEqual([]);
    expect(page().replaceAll(/xmlns="[^"]+"/g, "")).not.toMatch(/https?:|url\(|@import|src=/);
    const hrefs = findAll(root, named("a")).map((link) => link.attributes["href"]!);
    expect(hrefs.every((href) => href.startsWith("#"))).toBe(true);
  });

  it("has landmarks, headings in order, a skip link, and links that lead somewhere", () => {
    const ids = findAll(root, (element) => element.attributes["id"] !== undefined).map((element) => element.attributes["id"]!);
    expect(new Set(ids).size).toBe(ids.length);
    for (const link of findAll(root, named("a"))) expect(ids).toContain(link.attributes["href"]!.slice(1));
    expect(findAll(root, withClass("skip"))[0]!.attributes["href"]).toBe("#content");
    for (const name of ["header", "nav", "main", "footer", "h1"]) expect(findAll(root, named(name))).toHaveLength(1);
    expect(findAll(root, named("h2")).map(textOf)).toEqual(["Load", "Parts", "Sum"]);
    for (const section of findAll(root, named("section"))) expect(ids).toContain(section.attributes["aria-labelledby"]!);
    expect(textOf(findAll(root, named("footer"))[0]!)).toBe("Made from a.json");
  });

  it("sets tables with headings for columns and rows, units and alignment", () => {
    const [found] = findAll(root, named("table"));
    expect(findAll(found!, named("th")).map((cell) => [textOf(cell), cell.attributes["scope"], cell.attributes["class"]])).toEqual([
      ["Part", "col", "left"],
      ["Value (µF)", "col", "right"],
      ["Note", "col", "center"],
      ["C1", "row", "left"],
      ["C2", "row", "left"],
    ]);
    expect(findAll(found!, named("td")).map(textOf)).toEqual(["6.8", "a", "−10", "b"]);
    expect(textOf(findAll(found!, named("caption"))[0]!)).toBe("Parts");
  });

  it("draws a figure for wide and for narrow screens when it is given the way to draw it", () => {
    expect(findAll(root, (element) => element.attributes["role"] === "img").map((svg) => svg.attributes["width"])).toEqual(["720", "400"]);
    expect(textOf(findAll(root, named("figcaption"))[0]!)).toBe("On axis <here>");
    const once = parseXml(htmlPage({ title: "x", sections: [{ heading: "y", html: figure(plot(), "z") }] }));
    expect(findAll(once, (element) => element.attributes["role"] === "img")).toHaveLength(1);
  });

  it("keeps text from outside text, wherever it stands", () => {
    const hostile = `</style></title><script>x</script><img src="y" onerror='z'>&\u0007`;
    const shown = hostile.replace("\u0007", "\ufffd");
    const document = parseXml(
      htmlPage({
        title: hostile,
        generatedFrom: hostile,
        sections: [
          {
            heading: hostile,
            html: [
              paragraph(hostile),
              list([hostile]),
              table({ caption: hostile, columns: [{ label: hostile, unit: hostile }], rows: [[hostile]] }),
              figure(plot(), hostile),
            ],
          },
        ],
      }),
    );
    expect(findAll(document, (element) => ["script", "img"].includes(element.name))).toEqual([]);
    for (const name of ["title", "h1", "h2", "p", "li", "caption", "figcaption"])
      expect(textOf(findAll(document, named(name))[0]!)).toBe(shown);
  });

  it("is well-formed for any text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.double({ noNaN: true }), (text, number) => {
        const document = parseXml(
          htmlPage({
            title: text,
            sections: [{ heading: text, html: [paragraph(text, number), table({ columns: [{ label: text }], rows: [[text], [number]] })] }],
          }),
        );
        expect(findAll(document, named("section"))).toHaveLength(1);
      }),
    );
  });

  it("takes text for a section only through a builder, and no look-alike of what builders make", () => {
    expect(() => htmlPage({ title: "x", sections: [{ heading: "y", html: "<b>bold</b>" as never }] })).toThrow(
      /made with the builders, got "<b>bold<\/b>"\. Wrap text in paragraph/,
    );
    expect(() => htmlPage({ title: "x", sections: [{ heading: "y", html: JSON.parse('{"html":"<b>","svg":"<b>"}') as never }] })).toThrow(
      /made with the builders/,
    );
    expect(() => paragraph({ html: "<script>" } as never)).toThrow(/must be text, a number or markup/);
    expect(() => table({ columns: [{ label: "x" }], rows: [[{ html: "<script>" } as never]] })).toThrow(/"rows\[0\]\[0\]" must be text/);
    expect(() => paragraph(NaN)).toThrow(/must be text, a number/);
  });

  it("takes a picture only from a plot: no text, no copy and no look-alike, since SVG from elsewhere can act", () => {
    const { svg } = plot();
    const keys = Object.getOwnPropertySymbols(plot());
    const forged = {
      svg: "<svg><a href='javascript:x()'/></svg>",
      ...Object.fromEntries(keys.map((key) => [key, "<svg><script>x()</script></svg>"])),
    };
    const acting = [
      "<svg onload='x()'/>",
      "<svg><script>x</script></svg>",
      "<svg><image href='https://example.com/x.png'/></svg>",
      "<svg><set attributeName='href' to='javascript:x()'/></svg>",
      "<svg><p",
    ];
    for (const given of [
      "",
      svg,
      ...acting,
      ...acting.map((text) => ({ svg: text })),
      forged,
      { ...plot() },
      structuredClone(plot()),
      JSON.parse(JSON.stringify(plot())),
      paragraph("x"),
      3,
      null,
      undefined,
      {},
    ]) {
      expect(() => figure(given as never, "caption")).toThrow(/"picture" must be what a plot of this library returned/);
      expect(() => figure(() => given as never, "caption")).toThrow(/"picture" must be what a plot of this library returned/);
    }
    expect(() => paragraph(forged as never)).toThrow(/must be text, a number or markup/);
    expect(() => figure(responsePlot({ title: 'Gain, one = "full"', yLabel: "y", series: [] }), "caption")).not.toThrow();
  });

  it("refuses unknown options and rows of the wrong length", () => {
    expect(() => htmlPage({ title: "x", sections: [], author: "z" } as never)).toThrow(/unknown option "author"/);
    expect(() => table({ columns: [{ label: "a" }, { label: "b" }], rows: [["1"]] })).toThrow(
      /"rows\[0\]" must have 2 cells, one a column, got 1/,
    );
    expect(() => table({ columns: [], rows: [] })).toThrow(/at least one column/);
    expect(() => list("abc" as never)).toThrow(/"items" must be an array/);
    expect(() => htmlPage(undefined as never)).toThrow(/"title" must be text/);
  });
});

describe("a picture", () => {
  it("is its SVG text, frozen, and answers a notebook through a key that is not enumerable", () => {
    const picture = plot();
    expect({ ...picture }).toEqual({ svg: picture.svg });
    expect(JSON.stringify(picture)).toBe(JSON.stringify({ svg: picture.svg }));
    expect(`${picture}`).toBe(picture.svg);
    expect(Object.isFrozen(picture)).toBe(true);
    const display = (picture as unknown as Record<symbol, () => unknown>)[Symbol.for("Jupyter.display")]!;
    expect(display()).toEqual({ "image/svg+xml": picture.svg });
  });
});
