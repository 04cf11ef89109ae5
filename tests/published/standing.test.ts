// The rule of this folder: every group of checks says its standing in its title, and nothing stands outside of a group.
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { standings } from "./standing";

const files = readdirSync(import.meta.dirname).filter((name) => name.endsWith(".test.ts") && name !== "standing.test.ts");

describe("tests of published values", () => {
  it.each(files)("%s states one of the standings for each group of checks, and its source at the top", (name) => {
    const text = readFileSync(`${import.meta.dirname}/${name}`, "utf8");
    expect(text).toMatch(/^\/\/ Sources?: /);
    const groups = [...text.matchAll(/^(?:published\("([^"]*)"|(describe|it|test)\b)/gm)];
    expect(groups.length).toBeGreaterThan(0);
    for (const [group, standing] of groups) expect(standings, group).toContain(standing);
  });
});
