// Tests src/numeric/: linear-system.ts
// The default path against solutions of 50 and more digits: 440 random networks over 12 decades of values, with and without loss,
// with links of 1e-12 Ω, with coupled coils. The bounds are about ten times what was measured (tests/bench/precision.ts prints it).
import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { precisionLines } from "../bench/precision";
import { makeSet } from "./make-precise-set";
import { median, preciseErrors, preciseSet, worst } from "./precise-set";

/** Worst relative error of node voltages, part voltages and input impedance. */
const bounds: Readonly<Record<string, readonly [nodes: number, parts: number, impedance: number]>> = {
  "12 decades": [2e-14, 5e-13, 1e-14],
  "12 decades, lossless": [1e-14, 2e-14, 1e-14],
  "12 decades, links of 1e-12 Ω": [2e-14, 2e-14, 1e-13],
  // Voltages of 1e-18 V/V, made by mutual inductance from voltages a billion times larger.
  "12 decades, coupled coils": [1e-11, 5e-7, 2e-14],
};
const quantities = ["node voltages", "part voltages", "input impedance"] as const;

describe("the precision of the default path", () => {
  const all = preciseErrors();

  for (const [family, limits] of Object.entries(bounds)) {
    quantities.forEach((quantity, index) => {
      it(`stays within its bound: ${quantity}, ${family}`, () => {
        const { errors } = all.find((each) => each.family === family && each.quantity === quantity)!;
        expect(errors.length).toBeGreaterThanOrEqual(80);
        expect(median(errors)).toBeLessThan(5e-16);
        expect(worst(errors)).toBeLessThan(limits[index]!);
      });
    });
  }

  it("is what docs/solver.md states, within a factor of three", () => {
    const page = readFileSync(join(import.meta.dirname, "../../docs/solver.md"), "utf8");
    for (const { family, quantity, errors } of all) {
      const row = page.split("\n").find((line) => line.startsWith(`| ${family} | ${quantity} |`))!;
      const [typical, largest] = row.split("|").slice(3, 5).map(Number) as [number, number];
      expect(median(errors), row).toBeLessThanOrEqual(3 * typical);
      expect(worst(errors), row).toBeLessThanOrEqual(3 * largest);
      expect(worst(errors), row).toBeGreaterThan(largest / 3);
    }
  });

  it("is printed by the bench, a line for each", async () => {
    const lines = await precisionLines();
    expect(lines).toHaveLength(12);
    expect(lines[0]).toMatch(/^12 decades: node voltages, median \d\.\de-\d+, worst \d\.\de-\d+ \(of \d+\)$/);
  });
});

describe("the set of exact solutions", () => {
  const set = preciseSet();

  it("is what its generator makes: npx tsx tests/network/make-precise-set.ts", () => {
    const families = new Set(set.map(({ family }) => family));
    expect([...families]).toEqual(Object.keys(bounds));
    const first = [...families].flatMap((family) => set.filter((each) => each.family === family).slice(0, 4));
    expect(makeSet(4)).toEqual(first);
  });

  it("spans 12 decades, holds the links that it speaks of, and is smaller than 1 MB", () => {
    const resistances = set.flatMap(({ parts }) =>
      Object.values(parts).flatMap(([kind, value]) => (kind === "R" && value !== 1e-12 ? [Math.log10(value)] : [])),
    );
    expect(Math.max(...resistances) - Math.min(...resistances)).toBeGreaterThan(11.5);
    expect(set.filter(({ parts }) => Object.values(parts).some(([kind, value]) => kind === "R" && value === 1e-12)).length).toBeGreaterThan(
      100,
    );
    expect(set.filter(({ parts }) => Object.values(parts).some(([kind]) => kind === "K")).length).toBe(80);
    const voltages = set.flatMap(({ nodes }) => Object.values(nodes).map(([re, im]) => Math.hypot(Number(re), Number(im))));
    expect(voltages.filter((size) => size > 1e-9 && Math.abs(size - 1) > 1e-3).length).toBeGreaterThan(500);
    expect(statSync(join(import.meta.dirname, "precise-set.json")).size).toBeLessThan(1e6);
  });

  it("notices a value that is wrong by one part in 10⁹", () => {
    const spoilt = set.slice(0, 160).map((each) => ({
      ...each,
      parts: Object.fromEntries(
        Object.entries(each.parts).map(([name, [kind, value, ...rest]]) => [
          name,
          [kind, kind === "R" ? value * (1 + 1e-9) : value, ...rest] as const,
        ]),
      ),
    }));
    const { errors } = preciseErrors(spoilt).find(({ quantity }) => quantity === "node voltages")!;
    expect(worst(errors)).toBeGreaterThan(1e-10);
  });
});
