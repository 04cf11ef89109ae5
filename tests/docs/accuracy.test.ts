// The table of docs/accuracy.md: each bound that it states holds, none is far above what is reached, and its rows are those that are computed.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "../support/program";
import { accuracyRows, accuracyTable } from "./accuracy-rows";
import { withoutRow } from "./accuracy/without-row";

const page = readFileSync(join(root, "docs/accuracy.md"), "utf8");
const table = /<!-- table -->\n([\s\S]*?)\n<!-- \/table -->/.exec(page)?.[1] ?? "";
const bounds = table
  .split("\n")
  .slice(2)
  .map((line) => Number(line.split(/(?<!\\)\|/)[4]));

describe("the table of accuracy", () => {
  it("has the rows that are computed, written by `npm run accuracy`", () => {
    expect(table).toBe(accuracyTable(bounds));
  });

  it.each(accuracyRows.map(({ name, worst }, i) => [name, worst, bounds[i]!] as const))("%s keeps its bound", (_, worst, bound) => {
    const error = worst();
    expect(error).toBeLessThanOrEqual(bound);
    // A bound that says little is no statement: at most one step of 1, 2, 5, 10 and the rounding of another machine above.
    expect(error).toBeGreaterThanOrEqual(bound / 20);
  });

  it("has a row for every public function that gives numbers, or says why there is none", () => {
    const surface = readFileSync(join(root, "tests/package/surface.md"), "utf8");
    const floors = surface.slice(surface.indexOf("## dividing-network/errors"));
    const functions = [...new Set(Array.from(floors.matchAll(/^function (\w+)/gm), ([, name]) => name!))];
    const inRows = accuracyRows.flatMap(({ name }) => Array.from(name.matchAll(/\b([a-z]\w*)\(/g), ([, called]) => called!));
    const reasoned = Object.values(withoutRow).flat();
    expect(functions.length).toBeGreaterThan(250);
    expect(functions.filter((name) => !inRows.includes(name) && !reasoned.includes(name))).toEqual([]);
    // Nothing that is gone, and nothing that has got its row meanwhile.
    expect(reasoned.filter((name) => !functions.includes(name) || inRows.includes(name))).toEqual([]);
    expect(new Set(reasoned).size).toBe(reasoned.length);
  });
});
