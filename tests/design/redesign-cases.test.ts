// Redesigns against an independent search that shares no code with the library's, shortened; the long run is tests/bench/redesign-cases.ts, and its table stands in docs/design.md. The loudspeakers are invented.
import { describe, expect, it } from "vitest";
import { lossOf } from "dividing-network/assessment";
import { redesign } from "dividing-network/design";
import { independently, redesignCases } from "./independent-search";

const all = redesignCases();

describe("a redesign", () => {
  it.each([
    [0, 3, 400],
    [4, 3, 400],
    [7, 3, 250],
    [8, 4, 300],
    [10, 3, 250],
  ])("isn't beaten by annealing (case %i, %i parts)", { timeout: 60_000 }, async (index, maxParts, evaluations) => {
    const own = { ...all[index]!, maxParts };
    const { front } = await redesign(own.box, { goal: own.goal, series: "E6", maxParts } as never);
    let drawnHere = 0;
    const other = independently(own, 1000 + index, evaluations, own.name.includes("in series"), (loss, network) => {
      drawnHere++;
      expect(lossOf({ ...own.box, network }, own.goal).lossDb).toBe(loss);
    });
    expect(drawnHere).toBeGreaterThan(1);
    for (const [parts, loss] of other) {
      const member = front.filter((one) => one.parts <= parts).at(-1);
      expect(member?.lossDb).toBeLessThanOrEqual(loss + 1e-9);
    }
    // What is claimed to be proven isn't above what the other search found either.
    for (const { parts, lowerBoundDb } of front) {
      const least = Math.min(...[...other].flatMap(([count, loss]) => (count <= parts ? [loss] : [])));
      expect(lowerBoundDb).toBeLessThanOrEqual(least + 1e-9);
    }
  });

  it("is tried on twelve loudspeakers of five kinds, each drawn from a seed of its own", () => {
    expect(all).toHaveLength(12);
    expect(new Set(all.map(({ name }) => name.replace(/ \d.*$/, ""))).size).toBe(4);
    expect(all.filter(({ name }) => name.includes("in series"))).toHaveLength(2);
    const losses = all.map(({ box, goal }) => lossOf(box, goal).lossDb);
    expect(new Set(losses.map((loss) => loss.toFixed(6))).size).toBe(12);
    expect(Math.min(...losses)).toBeGreaterThan(0.5);
  });
});
