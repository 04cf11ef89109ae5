// Tests src/design/: band-bound.ts, band-cells.ts, least-distance.ts, place-bands.ts, prove-thirds.ts
// The bound of third-octave losses against `lossOf` of the networks below the nodes, and its proofs against looking at every network by itself. No published source: the drivers are invented.
import type { Entries, SourceImpedance } from "dividing-network";
import { goal, lossOf, type Goal } from "dividing-network/assessment";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { writeCodes } from "../../src/design/branch-table";
import { choicesOf, chosen } from "../../src/design/choices";
import { approximated, enumerated } from "../../src/design/enumerate";
import { limitsOf } from "../../src/design/limits";
import { placeBands } from "../../src/design/place-bands";
import { provenByThirds } from "../../src/design/prove-thirds";
import type { Question } from "../../src/design/question";
import { DB_PER_NEPER, searchProblem } from "../../src/design/search-problem";
import { turnsOf } from "../../src/design/turns";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";
import { drawn, monitor, numbers } from "../support/two-way";

const values = (factors: readonly number[]) => ({
  L1: factors.map((x) => 0.68e-3 * x),
  C1: factors.map((x) => 10e-6 / x),
  R2: factors.map((x) => 2.2 * x),
  C2: factors.map((x) => 5.6e-6 * x),
  R3: [15, "open" as const],
});

/** States below a node of a tree. */
function statesBelow({ left, right }: { left: Int32Array; right: Int32Array }, node: number): number[] {
  return node < 0 ? [-1 - node] : [...statesBelow({ left, right }, left[node]!), ...statesBelow({ left, right }, right[node]!)];
}

describe("the bound of third-octave losses", () => {
  it("is never above the loss of any network below the nodes, and near it for single networks", async () => {
    let [compared, tight, looked] = [0, 0, 0];
    await fc.assert(
      fc.asyncProperty(
        fc.array(uniform(0.4, 2.5), { minLength: 2, maxLength: 3 }),
        fc.tuple(uniform(0, 1), uniform(0, 1)),
        fc.constantFrom<SourceImpedance | undefined>(undefined, 0.5, { resistance: 6, inductance: 1e-4 }),
        fc.boolean(),
        fc.option(uniform(80, 90), { nil: undefined }),
        uniform(-1, 1),
        fc.constantFrom({ from: 300, to: 10_000 }, { from: 210, to: 15_500 }, { from: 1500, to: 2500 }),
        async (factors, shares, source, turn, levelDb, slopeDbPerOctave, band) => {
          const box = monitor(drawn as unknown as Entries, source);
          const aim = goal({
            band,
            limits: "stated",
            places: [{ weight: 2 }, { azimuth: 20 }],
            slopeDbPerOctave,
            ...(levelDb === undefined ? {} : { levelDb }),
          });
          const choices = choicesOf("test", box, values(factors));
          const { frequencies, bands } = placeBands(box, aim);
          const lossDb = () => 0;
          const limits = limitsOf("test", box, aim, undefined);
          const { tables, trees, boundFor } = await searchProblem(
            "test",
            box,
            aim,
            choices,
            limits,
            frequencies,
            0,
            () => undefined,
            undefined,
            undefined,
            { starts: 0, bands, lossDb },
          );
          for (const tree of trees) for (let node = 0; node < tree.left.length; node++) tree.split(node);
          const turned = new Set(turn ? ["tweeter"] : []);
          const bounds = boundFor(turned);
          const at = trees.map(({ left }, g) => Math.min(left.length - 1, Math.floor(Math.sqrt(shares[g]!) * left.length)));
          const bound = Math.sqrt(bounds.below(Int32Array.from(at), 0)) * DB_PER_NEPER;
          const states = at.map((node, g) => statesBelow(trees[g]!, node));
          const codes = new Int32Array(choices.length);
          for (let turnOf = 0; turnOf < 4; turnOf++) {
            const own = states.map((each, g) => each[(turnOf * 7 + g) % each.length]!);
            tables.forEach((table, g) => writeCodes(table, choices, own[g]!, codes));
            const { lossDb: loss } = lossOf({ ...box, network: chosen(box.network, choices, codes, turned) }, aim);
            expect(bound).toBeLessThanOrEqual(loss * (1 + 1e-9));
            const single =
              Math.sqrt(
                bounds.below(
                  Int32Array.from(own, (state) => -1 - state),
                  0,
                ),
              ) * DB_PER_NEPER;
            expect(single).toBeLessThanOrEqual(loss * (1 + 1e-9));
            compared++;
            looked += loss;
            tight += single;
          }
        },
      ),
      { numRuns: cases(25) },
    );
    expect(compared).toBeGreaterThan(50);
    expect(tight / looked).toBeGreaterThan(0.98);
  });

  it("proves the best of seeded spaces, as looking at each network does", { timeout: 60_000 }, async () => {
    let proven = 0;
    for (let seed = 0; seed < 5; seed++) {
      const next = numbers(70 + seed);
      const box = monitor(drawn as unknown as Entries, seed % 3 === 1 ? 0.4 : undefined);
      const aim: Goal = goal({
        band: { from: 400, to: 9000 },
        limits: "stated",
        places: seed % 2 === 0 ? [{}] : [{}, { azimuth: 20 }, { azimuth: -20 }],
        ...(seed % 4 === 2 ? { levelDb: 86 } : {}),
        amplifier: seed % 4 === 3 ? { smallestImpedance: 4 } : {},
      });
      const some = (value: number, many: number) =>
        Array.from({ length: many }, () => Number((value * 3 ** (2 * next() - 1)).toPrecision(2)));
      const choices = choicesOf("test", box, {
        L1: some(0.68e-3, 3),
        C1: [...some(10e-6, 2), "open"],
        C2: some(5.6e-6, 3),
        R2: some(2.2, 2),
      });
      const question: Question = {
        caller: "test",
        box,
        goal: aim,
        choices,
        turns: turnsOf("test", box, aim, { tweeter: "either" }),
        limits: limitsOf("test", box, aim, undefined),
        networks: 2 * 3 * 3 * 3 * 2,
        shard: undefined,
        signal: undefined,
        onProgress: undefined,
        robust: undefined,
      };
      const loss = ({ codes, turned }: { codes: Int32Array; turned: ReadonlySet<string> }) =>
        lossOf({ ...box, network: chosen(box.network, choices, codes, turned) }, aim).lossDb;
      const [every, bounded] = [await enumerated(question), await provenByThirds(question, await approximated(question))];
      expect(bounded.complete, `seed ${seed}`).toBe(true);
      expect(loss(bounded), `seed ${seed}`).toBeCloseTo(loss(every), 9);
      proven++;
    }
    expect(proven).toBe(5);
  });
});
