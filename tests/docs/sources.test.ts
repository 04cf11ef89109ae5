// Whoever cites a source gives it a row in docs/sources.md, with its standing; and what the page says can be looked up.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "./collect";

interface Row {
  readonly key: string;
  readonly source: string;
  readonly standing: string;
  readonly checked: readonly string[];
}

/** The rows of all tables of the page whose first cell is a key. */
const rows: readonly Row[] = readFileSync(join(root, "docs/sources.md"), "utf8")
  .split("\n")
  .flatMap((line) => {
    const cells = line
      .split("|")
      .slice(1, -1)
      .map((cell) => cell.trim());
    const key = cells[0]?.match(/^`([a-z0-9-]+)`$/)?.[1];
    if (key === undefined || cells.length < 5) return [];
    return [{ key, source: cells[1]!, standing: cells[3]!, checked: [...cells[4]!.matchAll(/`([^`]+)`/g)].map((match) => match[1]!) }];
  });

const standings = ["recomputed", "recalled-then-recomputed", "seen-in-secondary-text", "from-memory"];

/** Names and a year, or a standard's number, as a text cites them. */
interface Citation {
  readonly text: string;
  /** All of these stand in the row's source. */
  readonly words: readonly string[];
}

const name = "[A-Z][\\p{L}’']+";
const names = `${name}(?:(?:, (?:and )?| and | & )${name})*`;
const patterns = [
  new RegExp(`(?<!\\p{L})(${names}) \\(((?:18|19|20)\\d\\d)(?:, (?:18|19|20)\\d\\d)*[);]`, "gu"),
  new RegExp(`(?:\\(|after )(${names}),? ((?:18|19|20)\\d\\d)(?!\\d)`, "gu"),
];
const standard = /\b(?:IEC|ISO|ASTM|EN|DIN|AES|ANSI\/CTA)[ -]?(\d{2,}(?:-\d+(?![\d.]))?)/g;

/** A text on one line, without the stars and slashes of comments. */
const flowing = (text: string): string => text.replace(/\n\s*(?:\*|\/\/)?\s?/g, " ");

function citations(text: string): Citation[] {
  const one = flowing(text);
  const authors = patterns.flatMap((pattern) =>
    [...one.matchAll(pattern)].map(([whole, people = "", year = ""]) => ({
      text: whole,
      words: [...people.split(/, and |, | and | & /), year],
    })),
  );
  const numbers = [...one.matchAll(standard)].map(([whole, number = ""]) => ({ text: whole, words: [number] }));
  return [...authors, ...numbers];
}

/** The row's order of authors counts: two papers of a year may differ in nothing else. */
function rowOf({ words }: Citation): Row | undefined {
  const places = (row: Row): number[] => words.map((word) => row.source.indexOf(word));
  const fitting = rows.filter((row) => places(row).every((place) => place >= 0));
  return fitting.find((row) => places(row).every((place, i, all) => i === 0 || place > all[i - 1]!)) ?? fitting[0];
}

/** What a file's first comment says, up to its first line of code. */
const header = (text: string): string =>
  text
    .split("\n")
    .slice(
      0,
      text.split("\n").findIndex((line) => !line.startsWith("//")),
    )
    .join("\n");

const published = readdirSync(join(root, "tests/published")).filter((file) => file.endsWith(".test.ts"));

describe("docs/sources.md", () => {
  it("has each key once, a standing that the page explains, and no test that is not there", () => {
    expect(rows.length).toBeGreaterThan(50);
    expect(rows.map(({ key }) => key).filter((key, i, all) => all.indexOf(key) !== i)).toEqual([]);
    for (const { key, standing, checked } of rows) {
      const words = [...standing.matchAll(/`([^`]+)`/g)].map((match) => match[1]!);
      expect(words.length, key).toBeGreaterThan(0);
      expect(
        words.filter((word) => !standings.includes(word)),
        key,
      ).toEqual([]);
      expect(
        checked.filter((file) => !existsSync(join(root, file))),
        key,
      ).toEqual([]);
    }
  });

  it("finds what a text cites", () => {
    const found = citations(
      "after Small (1972); Lipshitz and\n// Vanderkooy (1986), Matthaei, Young and Jones (1964). (Dekker 1971, from memory) after IEC 61260-1:2014 and Bullock (1982, 1985)",
    );
    expect(found.map(({ words }) => words.join(" "))).toEqual([
      "Small 1972",
      "Lipshitz Vanderkooy 1986",
      "Matthaei Young Jones 1964",
      "Bullock 1982",
      "Dekker 1971",
      "61260-1",
    ]);
    expect(rowOf({ text: "", words: ["Vanderkooy", "Lipshitz", "1986"] })?.key).toBe("vanderkooy-lipshitz1986");
    expect(rowOf({ text: "", words: ["Lipshitz", "Vanderkooy", "1986"] })?.key).toBe("lipshitz-vanderkooy1986");
    expect(rowOf({ text: "", words: ["Nobody", "1986"] })).toBeUndefined();
  });
});

describe("a test of published values", () => {
  it.each(published)("%s names in its header a source that has a row, and that source's standing", (file) => {
    const text = flowing(header(readFileSync(join(root, "tests/published", file), "utf8")));
    expect(text, 'the header must have a line "Source: …"').toMatch(/Source: \S/);
    expect(text, 'the header must have a line "Provenance: …"').toMatch(/Provenance: \S/);
    expect(text).toMatch(/recomputed|recalled|seen|memory/);
    const cited = citations(text);
    expect(
      cited.filter((citation) => rowOf(citation) === undefined).map((citation) => citation.text),
      "without a row in docs/sources.md",
    ).toEqual([]);
    // Without author or number it is what textbooks hold.
    const keys =
      cited.length > 0
        ? cited.map((citation) => rowOf(citation)!.key)
        : /textbook|attenuator|definition|closed form|Introduction to Electroacoustics/i.test(text)
          ? ["textbooks"]
          : [];
    expect(keys.length, "no source found in the header").toBeGreaterThan(0);
  });

  it("is named in the row of a source", () => {
    const named = new Set(rows.flatMap(({ checked }) => checked));
    expect(published.map((file) => `tests/published/${file}`).filter((file) => !named.has(file))).toEqual([]);
  });
});

describe("every source that the code, its tests or its pages cite", () => {
  it("has a row", () => {
    const files = ["src", "tests", "docs"]
      .flatMap((folder) =>
        readdirSync(join(root, folder), { recursive: true, encoding: "utf8" }).map((file) => `${folder}/${file.replaceAll("\\", "/")}`),
      )
      .filter((file) => /\.(ts|md)$/.test(file) && file !== "docs/sources.md" && file !== "tests/docs/sources.test.ts");
    expect(files.length).toBeGreaterThan(100);
    const missing = files.flatMap((file) =>
      citations(readFileSync(join(root, file), "utf8"))
        .filter((citation) => rowOf(citation) === undefined)
        .map(({ text }) => `${file}: ${text}`),
    );
    expect(missing).toEqual([]);
  });
});
