// The rule of tests/published/: every group of checks says its standing in its title, and nothing stands outside of a group.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { standings } from "../published/standing";

const folder = join(import.meta.dirname, "../published");
const files = readdirSync(folder).filter((name) => name.endsWith(".test.ts"));

describe("tests of published values", () => {
  it.each(files)("%s states one of the standings for each group of checks, and its source at the top", (name) => {
    const text = readFileSync(join(folder, name), "utf8");
    expect(text).toMatch(/^\/\/ Sources?: /);
    const groups = [...text.matchAll(/^(?:published\("([^"]*)"|(describe|it|test)\b)/gm)];
    expect(groups.length).toBeGreaterThan(0);
    for (const [group, standing] of groups) expect(standings, group).toContain(standing);
  });
});
