// The bound of a pair of nodes against every pair of states below them, valued by `lossOf`'s own rule on the public prediction elsewhere.
import { logGrid, type SourceImpedance } from "dividing-network";
import { goal, lossOf } from "dividing-network/assessment";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { writeCodes } from "../../src/design/branch-table";
import { choicesOf, chosen } from "../../src/design/choices";
import { limitsOf } from "../../src/design/limits";
import { DB_PER_NEPER, searchProblem } from "../../src/design/search-problem";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { drawn, monitor } from "./two-way";

const values = (factors: readonly number[]) => ({
  L1: factors.map((x) => 0.68e-3 * x), C1: factors.map((x) => 10e-6 / x), R2: factors.map((x) => 2.2 * x), C2: factors.map((x) => 5.6e-6 * x), R3: [15, "open" as const],
});

/** States below a node of a tree. */
function statesBelow({ left, right }: { left: Int32Array; right: Int32Array }, node: number): number[] {
  return node < 0 ? [-1 - node] : [...statesBelow({ left, right }, left[node]!), ...statesBelow({ left, right }, right[node]!)];
}

describe("the bound of two sets of branch states", () => {
  it("is never above the loss of any network in them, as lossOf gives it", async () => {
    await fc.assert(fc.asyncProperty(
      fc.array(uniform(0.4, 2.5), { minLength: 2, maxLength: 4 }), uniform(0, 1), uniform(0, 1), fc.constantFrom<SourceImpedance | undefined>(undefined, 0.5, { resistance: 0.3, inductance: 40e-6 }), fc.boolean(), fc.option(uniform(80, 90), { nil: undefined }),
      async (factors, a, b, source, turn, levelDb) => {
        const box = monitor(drawn, source);
        const frequencies = logGrid(500, 9000, 11);
        const aim = goal({ frequencies, limits: "stated", places: [{ weight: 2 }, { azimuth: 20 }], ...(levelDb === undefined ? {} : { levelDb }) });
        const choices = choicesOf("test", box, values(factors));
        const { tables, trees, boundFor } = await searchProblem("test", box, aim, choices, limitsOf("test", box, aim, undefined), frequencies, 0, () => undefined);
        const turned = new Set(turn ? ["tweeter"] : []);
        const { below, exact } = boundFor(turned);
        const at = [a, b].map((share, g) => { const { left } = trees[g]!; return Math.min(left.length - 1, Math.floor(share * left.length)); });
        const bound = Math.sqrt(below(Int32Array.from(at), 0)) * DB_PER_NEPER;
        const [some, others] = at.map((node, g) => statesBelow(trees[g]!, node));
        const codes = new Int32Array(choices.length);
        let checked = 0;
        for (const s of some!) for (const t of others!) {
          const loss = Math.sqrt(exact(Int32Array.of(-1 - s, -1 - t), 0)) * DB_PER_NEPER;
          expect(bound).toBeLessThanOrEqual(loss + 1e-9);
          if (checked++ % 17 !== 0) continue;
          [s, t].forEach((state, g) => writeCodes(tables[g]!, choices, state, codes));
          expect(lossOf({ ...box, network: chosen(box.network, choices, codes, turned) }, aim).lossDb).toBeCloseTo(loss, 8);
        }
        // A bound of 0 would hold as well: single states must be bounded by their own loss.
        const leaves = Int32Array.of(-1 - some![0]!, -1 - others![0]!);
        expect(Math.sqrt(below(leaves, 0))).toBeCloseTo(Math.sqrt(exact(leaves, 0)), 10);
      }), { numRuns: cases(25) });
  });
});
