// Tests src/design/: merge-shards.ts, series-parts.ts
import { describe, expect, it } from "vitest";
import { logGrid } from "dividing-network";
import { chooseValues, mergeShards, type ChooseValuesOptions, type ChosenValues } from "dividing-network/design";
import { monitor, numbers } from "../support/two-way";

const frequencies = logGrid(400, 10_000, 20);

function space(seed: number): ChooseValuesOptions {
  const next = numbers(seed);
  const around = (value: number, many: number) => Array.from({ length: many }, () => value * 3 ** (2 * next() - 1));
  return {
    goal: { frequencies, limits: "stated", places: [{ azimuth: 0 }, { azimuth: 20 }], amplifier: { smallestImpedance: 3.2 } },
    values: { L1: around(0.68e-3, 5), C1: [...around(10e-6, 3), "open"], C2: around(5.6e-6, 4), L2: around(0.33e-3, 3), R3: [22, "open"] },
    polarity: { tweeter: "either" },
  } as never;
}

/** All shards, as they come back from elsewhere: as text. */
async function sharded(options: ChooseValuesOptions, of: number): Promise<ChosenValues> {
  const all: (ChosenValues | undefined)[] = [];
  for (let index = 0; index < of; index++) {
    const text = await chooseValues(monitor(), { ...options, shard: { index, of } }).then(
      (found) => JSON.stringify(found),
      (error: { code: string }) => {
        if (error.code !== "no-feasible-network") throw error;
        return undefined;
      },
    );
    all.push(text === undefined ? undefined : (JSON.parse(text) as ChosenValues));
  }
  return mergeShards(all);
}

describe("shards of a search", () => {
  it.each([
    [1, 1],
    [2, 2],
    [3, 3],
    [4, 7],
    [5, 100],
  ])("give together what the whole gives, space %i in %i shards", async (seed, of) => {
    const options = space(seed);
    const whole = await chooseValues(monitor(), options);
    const merged = await sharded(options, of);
    expect(merged.proven).toBe(true);
    expect(merged.lossDb).toBe(whole.lossDb);
    expect(merged.lowerBoundDb).toBe(whole.lowerBoundDb);
    expect(merged.networks).toBe(whole.networks);
    expect(JSON.stringify(merged.network)).toBe(JSON.stringify(whole.network));
    expect(merged.polarity).toEqual(whole.polarity);
  });

  it("are disjoint: only one of them holds the best, and each has a best of its own", async () => {
    const options = space(9);
    const whole = await chooseValues(monitor(), options);
    const each = await Promise.all([0, 1, 2].map((index) => chooseValues(monitor(), { ...options, shard: { index, of: 3 } })));
    expect(each.filter(({ lossDb }) => lossDb === whole.lossDb)).toHaveLength(1);
    for (const { lossDb } of each) expect(lossDb).toBeGreaterThanOrEqual(whole.lossDb);
    expect(JSON.stringify(await chooseValues(monitor(), { ...options, shard: { index: 1, of: 3 } }))).toBe(JSON.stringify(each[1]));
  });

  it("are refused where they can't be, or don't belong together", async () => {
    const options = space(1);
    await expect(chooseValues(monitor(), { ...options, shard: { index: 2, of: 2 } })).rejects.toMatchObject({ code: "invalid-argument" });
    await expect(chooseValues(monitor(), { ...options, shard: { index: 0.5, of: 2 } })).rejects.toMatchObject({ code: "invalid-argument" });
    await expect(
      chooseValues(monitor(), { ...options, goal: { band: { from: 500, to: 8000 } }, shard: { index: 0, of: 2 } }),
    ).rejects.toMatchObject({ code: "invalid-argument" });
    const first = await chooseValues(monitor(), { ...options, shard: { index: 0, of: 2 } });
    const whole = await chooseValues(monitor(), options);
    const codeOf = (results: unknown): string => {
      try {
        mergeShards(results as never);
      } catch (error) {
        return (error as { code: string }).code;
      }
      return "none";
    };
    expect(
      [
        [],
        [first],
        [undefined, first],
        [whole, first],
        [first, whole],
        [first, { ...first, shard: { index: 1, of: 2 }, networks: 3 }],
        7,
      ].map(codeOf),
    ).toEqual(Array(7).fill("invalid-argument"));
    // Two goals whose searches count the same can't be told by their counts.
    const { goal } = options as { goal: { levelDb?: number } };
    const second = async (other: object) => chooseValues(monitor(), { ...options, ...other, shard: { index: 1, of: 2 } });
    expect(codeOf([first, await second({})])).toBe("none");
    const otherGoal = await second({ goal: { ...goal, levelDb: (goal.levelDb ?? 80) + 1 } });
    expect(otherGoal.networks).toBe(first.networks);
    expect(codeOf([first, otherGoal])).toBe("invalid-argument");
    expect(first.shard!.question).toMatch(/^[0-9a-f]{16}$/);
    const alone = await chooseValues(monitor(), { ...options, shard: { index: 0, of: 1 } });
    expect([{ proven: "no" }, { lossDb: -1 }, { lossDb: NaN }, { networks: "9" }].map((wrong) => codeOf([{ ...alone, ...wrong }]))).toEqual(
      Array(4).fill("invalid-argument"),
    );
    expect(codeOf([undefined, undefined])).toBe("no-feasible-network");
  });
});
