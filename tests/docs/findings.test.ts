// docs/findings.md has a row for every danger, topic and finding that stands in the source, and for no other.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "../support/program";

const folder = join(root, "src/assessment");
const read = (file: string) => readFileSync(join(folder, file), "utf8");
const page = readFileSync(join(root, "docs/findings.md"), "utf8");

/** The rows of the table under a heading: what stands in backticks in the first cell, and the other cells. */
function rows(heading: string): readonly { readonly name: string; readonly cells: readonly string[] }[] {
  const section = page.split("\n## ").find((part) => part.startsWith(heading)) ?? "";
  return section.split("\n").flatMap((line) => {
    const match = /^\| `([^`]+)` \|(.*)\|$/.exec(line);
    return match === null ? [] : [{ name: match[1]!, cells: match[2]!.split("|").map((cell) => cell.trim()) }];
  });
}

const names = (heading: string) =>
  rows(heading)
    .map(({ name }) => name)
    .sort();
/** What stands between quotes in the union after some words. */
const union = (file: string, before: string) =>
  [...new RegExp(`${before}((?:[\\s|]+"[^"]+")+);`).exec(read(file))![1]!.matchAll(/"([^"]+)"/g)].map((match) => match[1]!).sort();

describe("the page of findings", () => {
  it("has a row for each finding of the source", () => {
    const codes = readdirSync(folder)
      .filter((file) => file.endsWith("-findings.ts"))
      .flatMap((file) => [...read(file).matchAll(/code: "([^"]+)"/g)].map((match) => match[1]!));
    expect(codes.length).toBeGreaterThan(20);
    expect(names("Findings")).toEqual([...new Set(codes)].sort());
  });

  it("has a row for each danger and each topic", () => {
    expect(names("Dangers")).toEqual(union("dangers.ts", "readonly code:"));
    expect(names("Topics")).toEqual(union("planes.ts", "export type TopicName ="));
  });

  it("says of each what is measured, and in which band, within what limit, on what standing", () => {
    const empty = (heading: string, cells: number) =>
      rows(heading)
        .filter(
          (row) =>
            row.cells.length !== cells || row.cells.slice(0, -1).includes("") || (row.cells.at(-1) === "" && row.cells.at(-2) !== "none"),
        )
        .map(({ name }) => name);
    expect([empty("Dangers", 3), empty("Topics", 3), empty("Findings", 4)]).toEqual([[], [], []]);
  });
});
