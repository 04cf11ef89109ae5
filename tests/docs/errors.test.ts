// docs/errors.md lists every code that the source knows, and no other, with the floors in which it stands.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "../support/program";
import { codesInSource } from "./error-codes";

const rows = readFileSync(join(root, "docs/errors.md"), "utf8")
  .split("\n")
  .flatMap((line) => {
    const cells = /^\| `([a-z0-9-]+)` \|(.*)\|$/.exec(line);
    return cells === null ? [] : [{ code: cells[1]!, cells: cells[2]!.split("|").map((cell) => cell.trim()) }];
  });

describe("the page of error codes", () => {
  it("lists each code of the source once, in the order of the alphabet", () => {
    expect(rows.map(({ code }) => code)).toEqual([...codesInSource().keys()]);
  });

  it("names the floors where each code stands", () => {
    expect(Object.fromEntries(rows.map(({ code, cells }) => [code, cells[1]!.split(", ").sort()]))).toEqual(
      Object.fromEntries(codesInSource()),
    );
  });

  it("says of each what it means and what to do", () => {
    expect(rows.filter(({ cells }) => cells.length !== 3 || cells.some((cell) => cell === "")).map(({ code }) => code)).toEqual([]);
  });
});
