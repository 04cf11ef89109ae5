// The tables of the pages on alignments are what the library computes now, and every plot that they show exists.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { plots, tables } from "../../docs/alignments/generate";
import { withTables } from "../../docs/alignments/make";
import { root } from "./collect";

const folder = join(root, "docs/alignments");
const pages = readdirSync(folder).filter((name) => name.endsWith(".md"));

describe("the pages on alignments", () => {
  it("carry the tables that the library computes: if not, run npx tsx docs/alignments/make.ts and read the difference", () => {
    const contents = tables();
    for (const page of pages) {
      const text = readFileSync(join(folder, page), "utf8");
      expect(withTables(text, contents), page).toBe(text);
    }
    const used = new Set(
      pages.flatMap((page) => [...readFileSync(join(folder, page), "utf8").matchAll(/<!-- table: ([\w-]+) -->/g)].map((match) => match[1])),
    );
    expect([...used].sort()).toEqual(Object.keys(contents).sort());
  });

  it("show plots that exist, one for each family", () => {
    const shown = pages.flatMap((page) =>
      [...readFileSync(join(folder, page), "utf8").matchAll(/\]\((plots\/[\w-]+\.svg)\)/g)].map((match) => match[1]!),
    );
    expect(shown.map((name) => name.slice(6, -4)).sort()).toEqual(Object.keys(plots()).sort());
    for (const name of shown) {
      const svg = readFileSync(join(folder, name), "utf8");
      expect(svg.startsWith("<svg"), name).toBe(true);
      expect(svg.includes("NaN"), name).toBe(false);
    }
  });

  it("link to each other by names that exist", () => {
    for (const page of pages) {
      for (const [, target] of readFileSync(join(folder, page), "utf8").matchAll(/\]\(([\w-]+\.md)[#)]/g))
        expect(existsSync(join(folder, target!)), `${page}: ${target}`).toBe(true);
    }
  });
});
