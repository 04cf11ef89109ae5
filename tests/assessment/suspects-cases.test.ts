// Tests src/assessment/suspects/: suspects.ts, groups.ts, trial.ts
// The cases that take long or read the example's files: seeded faults by the dozen, and the example drawn wrongly. How cases are made stands in suspects.test.ts.
import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { DividingNetworkError } from "dividing-network/errors";
import { suspects, type Suspect } from "dividing-network/assessment";
import type { Loudspeaker } from "dividing-network/loudspeaker";
import { readProject } from "dividing-network/project";
import { beforeAll, describe, expect, it } from "vitest";
import { faultyCase, type Case } from "./faulty-networks";

const names = (found: { readonly parts: readonly string[]; readonly fault: string }, { parts, fault }: Case["truth"]) =>
  found.fault === fault && [...found.parts].sort().join() === [...parts].sort().join();
const rank = (list: readonly Suspect[], truth: Case["truth"]) =>
  list.findIndex((suspect) => names(suspect, truth) || (suspect.alike ?? []).some((other) => names(other, truth)));

describe("a single fault in a seeded network, measured with 1 % of noise", () => {
  const cases: { readonly seed: number; readonly found: readonly Suspect[]; readonly truth: Case["truth"] }[] = [];
  beforeAll(() => {
    for (let seed = 1001; cases.length < 40; seed++) {
      const made = faultyCase(seed);
      if (made !== undefined) cases.push({ seed, found: suspects(made.drawn, made.measured), truth: made.truth });
    }
  });

  it("is named first in 95 % of the cases, and within the first three in 99 %", () => {
    const [first, three] = [1, 3].map(
      (most) =>
        cases.filter(({ found, truth }) => {
          const at = rank(found, truth);
          return at >= 0 && at < most!;
        }).length,
    );
    expect(first! / cases.length).toBeGreaterThanOrEqual(0.95);
    expect(three! / cases.length).toBeGreaterThanOrEqual(0.99);
  });

  it("comes with its value, to 5 % of it", () => {
    for (const { seed, found, truth } of cases) {
      if (truth.value === undefined || truth.fault !== "value") continue;
      const all = found.flatMap((suspect) => [suspect, ...(suspect.alike ?? [])]);
      const named = all.find((suspect) => names(suspect, truth));
      expect(Math.abs(named!.value! / truth.value - 1), `seed ${seed}, ${truth.parts.join()}`).toBeLessThan(0.05);
    }
  });
});

describe("measurements with 5 % of noise", () => {
  it("still name the fault first, which then explains no more than the noise lets it", () => {
    let [first, all] = [0, 0];
    for (let seed = 40_000; all < 12; seed++) {
      const made = faultyCase(seed, 0.05);
      if (made === undefined) continue;
      all++;
      if (rank(suspects(made.drawn, made.measured, { repeatability: { levelDb: 1, impedance: 0.06 } }), made.truth) === 0) first++;
    }
    expect(first / all).toBeGreaterThanOrEqual(0.8);
  });
});

describe("the example's loudspeaker", () => {
  let found: Loudspeaker;
  let measured: Parameters<typeof suspects>[1];
  beforeAll(async () => {
    const folder = resolve(import.meta.dirname, "../../examples/desk-monitor");
    const loaded = await readProject(await readFile(resolve(folder, "project.json"), "utf8"), {
      file: "project.json",
      readFile: (path) => readFile(resolve(folder, path), "utf8"),
    });
    found = loaded.found as unknown as Loudspeaker;
    measured = loaded.measured;
  });
  const redraw = (name: string, entry: unknown): Loudspeaker => ({
    ...found,
    network: { ...found.network, [name]: entry } as unknown as Loudspeaker["network"],
  });

  it("has no suspects, as drawn", () => {
    expect(suspects(found, measured)).toEqual([]);
  });

  it("drawn with 10 µF for its 22 µF: the capacitor is named, with its value to 5 %", () => {
    const [part, ...nodes] = found.network["C1"] as unknown as [{ capacitance: number }, ...string[]];
    const [first] = suspects(redraw("C1", [{ ...part, capacitance: 10e-6 }, ...nodes]), measured);
    expect(first).toMatchObject({ parts: ["C1"], fault: "value" });
    expect(first!.value! / 22e-6).toBeCloseTo(1, 1.3);
  });

  it("drawn with the tweeter reversed: polarity is named, of one of two drivers, which nobody can tell apart", () => {
    const [part, from, to] = found.network["tweeter"] as unknown as [unknown, string, string];
    const [first] = suspects(redraw("tweeter", [part, to, from]), measured);
    expect([first!, ...(first!.alike ?? [])].map(({ parts, fault }) => `${parts.join()} ${fault}`).sort()).toEqual([
      "tweeter reversed",
      "woofer reversed",
    ]);
    expect(first!.wouldTell).toBeDefined();
  });

  it("by its impedance alone: a wrong value is seen, a polarity isn't", () => {
    const [part, ...nodes] = found.network["C1"] as unknown as [{ capacitance: number }, ...string[]];
    const impedance = measured.impedance!;
    expect(suspects(redraw("C1", [{ ...part, capacitance: 10e-6 }, ...nodes]), { impedance })[0]).toMatchObject({
      parts: ["C1"],
      fault: "value",
    });
    const [driver, from, to] = found.network["tweeter"] as unknown as [unknown, string, string];
    expect(suspects(redraw("tweeter", [driver, to, from]), { impedance })).toEqual([]);
  });

  it("asks for a measurement", () => {
    expect(() => suspects(found, {})).toThrow(DividingNetworkError);
    expect(() => suspects(found, {})).toThrow(/must be a measured pressure of the whole or its impedance/);
  });
});
