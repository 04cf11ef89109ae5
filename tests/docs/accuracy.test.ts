// The table of docs/accuracy.md: each bound that it states holds, none is far above what is reached, and its rows are those that are computed.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "../package/program";
import { accuracyRows, accuracyTable } from "./accuracy-rows";

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
    expect(error).toBeGreaterThan(bound / 20);
  });
});
