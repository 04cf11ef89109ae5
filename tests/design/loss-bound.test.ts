// Tests src/design/: branch-elimination.ts, branch-laws.ts, branch-limits.ts, branch-pattern.ts, branch-solver.ts, branch-table.ts, branches.ts, choices.ts, hump-check.ts, pause.ts, search-problem.ts, shard.ts
// Tests src/design/: state-tree.ts
// The bound of nodes together against the states below them; the states' own loss against `lossOf`.
import { capacitor, logGrid, resistor, type SourceImpedance } from "dividing-network";
import { goal, lossOf } from "dividing-network/assessment";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { writeCodes } from "../../src/design/branch-table";
import { choicesOf, chosen } from "../../src/design/choices";
import { limitsOf } from "../../src/design/limits";
import { DB_PER_NEPER, searchProblem } from "../../src/design/search-problem";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { drawn, monitor } from "../support/two-way";

/** A branch that no driver is in: it is heard through the source's impedance alone. */
const shunted = { ...drawn, R9: [resistor(3), "in", "q"], C9: [capacitor(30e-6), "q", "gnd"] } as const;

const values = (factors: readonly number[]) => ({
  L1: factors.map((x) => 0.68e-3 * x),
  C1: factors.map((x) => 10e-6 / x),
  R2: factors.map((x) => 2.2 * x),
  C2: factors.map((x) => 5.6e-6 * x),
  R3: [15, "open" as const],
  C9: factors.map((x) => 30e-6 * x * x * x),
  R9: [0.5, 20],
});

/** States below a node of a tree. */
function statesBelow({ left, right }: { left: Int32Array; right: Int32Array }, node: number): number[] {
  return node < 0 ? [-1 - node] : [...statesBelow({ left, right }, left[node]!), ...statesBelow({ left, right }, right[node]!)];
}

describe("the bound of sets of branch states", () => {
  it("is never above the loss of any network in them that keeps the limits, and theirs is what lossOf gives", async () => {
    let [compared, cut, earlier] = [0, 0, 0];
    await fc.assert(
      fc.asyncProperty(
        fc.array(uniform(0.4, 2.5), { minLength: 2, maxLength: 3 }),
        fc.tuple(uniform(0, 1), uniform(0, 1), uniform(0, 1)),
        fc.constantFrom<SourceImpedance | undefined>(undefined, 0.5, 6, { resistance: 20, inductance: 1e-3 }),
        fc.boolean(),
        fc.option(uniform(80, 90), { nil: undefined }),
        fc.option(uniform(2, 4), { nil: undefined }),
        fc.option(uniform(60, 88), { nil: undefined }),
        async (factors, shares, source, turn, levelDb, smallestImpedance, leastLevelDb) => {
          const box = monitor(shunted, source);
          const frequencies = logGrid(500, 9000, 13);
          const aim = goal({
            frequencies,
            limits: "stated",
            places: [{ weight: 2 }, { azimuth: 20 }],
            corridorDb: 20,
            amplifier: { smallestImpedance },
            leastLevelDb,
            levelDb,
          });
          const choices = choicesOf("test", box, values(factors));
          const { tables, trees, boundFor } = await searchProblem(
            "test",
            box,
            aim,
            choices,
            limitsOf("test", box, aim, undefined),
            frequencies,
            0,
            () => undefined,
          );
          // Nodes are numbered as they are made, so that each exists when its turn comes.
          for (const tree of trees) for (let node = 0; node < tree.left.length; node++) tree.split(node);
          const turned = new Set(turn ? ["tweeter"] : []);
          const bounds = boundFor(turned);
          // Small sets more often than large ones: there the bound is tight.
          const at = trees.map(({ left }, g) => Math.min(left.length - 1, Math.floor(Math.sqrt(shares[g]!) * left.length)));
          const bound = Math.sqrt(bounds.below(Int32Array.from(at), 0)) * DB_PER_NEPER;
          // What is given early, from some of the frequencies, is a bound as well.
          const early = Math.sqrt(bounds.below(Int32Array.from(at), 0, 0)) * DB_PER_NEPER;
          if (early < bound) earlier++;
          const states = at.map((node, g) => statesBelow(trees[g]!, node));
          const codes = new Int32Array(choices.length);
          for (const s of states[0]!.slice(0, 12))
            for (const t of states[1]!.slice(0, 12))
              for (const u of states[2]!.slice(0, 6)) {
                const loss = Math.sqrt(bounds.exact(Int32Array.of(-1 - s, -1 - t, -1 - u), 0)) * DB_PER_NEPER;
                if (loss === Infinity) {
                  cut++;
                  continue;
                }
                expect(bound).toBeLessThanOrEqual(loss + 1e-9);
                expect(early).toBeLessThanOrEqual(bound + 1e-9);
                if (compared++ % 97 !== 0) continue;
                [s, t, u].forEach((state, g) => writeCodes(tables[g]!, choices, state, codes));
                expect(lossOf({ ...box, network: chosen(box.network, choices, codes, turned) }, aim).lossDb).toBeCloseTo(loss, 8);
              }
          // A bound of 0 would hold as well: single states must be bounded by their own loss.
          const leaves = Int32Array.from(states, (own) => -1 - own[0]!);
          expect(Math.sqrt(bounds.below(leaves, 0))).toBeCloseTo(Math.sqrt(bounds.exact(leaves, 0)), 10);
        },
      ),
      { numRuns: cases(60) },
    );
    expect(compared).toBeGreaterThan(0);
    expect(cut).toBeGreaterThan(0);
    expect(earlier).toBeGreaterThan(0);
  });
});
