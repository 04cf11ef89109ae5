// Searches whose candidates can silence the loudspeaker, and goals without the axis: each against looking at every network. The drivers are invented.
import { inductor, logGrid, loudspeaker, network, resistor, type Loudspeaker } from "dividing-network";
import { assess, lossOf, type GoalOptions } from "dividing-network/assessment";
import { chooseValues, fitValues } from "dividing-network/design";
import { describe, expect, it } from "vitest";
import { cone, dome, drawn, monitor } from "../support/two-way";

const frequencies = logGrid(500, 10_000, 9);
const about = (value: number, many: number) => Array.from({ length: many }, (_, i) => value * 2 ** (i / 2 - many / 4));

describe("a choice among networks of which one is silent", () => {
  // With both branches open a resistor is left across the input: a network, but none that is heard.
  const box = monitor({ ...drawn, R9: [resistor(80), "in", "gnd"] });
  const values = { L1: ["open", inductor(0.5e-3, { dcr: 0.2 })], R2: [2.2, "open"] };
  it.each<[string, GoalOptions]>([
    ["third-octave powers", { limits: "stated" }],
    ["a least level", { leastLevelDb: 60, limits: "stated" }],
    ["the default limits", { largestHumpDb: 20 }],
    ["stated frequencies", { frequencies, limits: "stated" }],
  ])("leaves that one out and judges the others (%s)", async (_, goal) => {
    const found = await chooseValues(box, { goal, values } as never);
    expect(found.proven).toBe(true);
    expect(Object.keys(found.network)).toContain("R2");
    const losses = [0.5e-3].map((l) => {
      const own = network({ ...drawn, R9: [resistor(80), "in", "gnd"], L1: [inductor(l, { dcr: 0.2 }), "in", "w"] });
      return lossOf({ ...box, network: own } as unknown as Loudspeaker, goal).lossDb;
    });
    expect(found.lossDb).toBeLessThanOrEqual(losses[0]! + 1e-9);
  });

  it("leaves that one out where networks are chosen by drawn loudspeakers", async () => {
    const found = await chooseValues(box, { goal: { frequencies, limits: "stated" }, values, robust: { samples: 4 } } as never);
    expect(Object.keys(found.network)).toContain("R2");
  });

  it("leaves it out of a proof by third octaves too, and searches from a network as found that is silent itself", async () => {
    const many = { L1: ["open", ...about(0.5e-3, 8)], C1: about(10e-6, 7), C2: about(5e-6, 9), R2: [1, 2.2, 4.7, "open"] };
    const goal = { limits: "stated" } as const;
    const found = await chooseValues(box, { goal, values: many } as never);
    expect(found.networks).toBeGreaterThan(2000);
    expect(found.proven).toBe(true);
    const wired = { RW: [resistor(0), "w", "gnd"], RT: [resistor(0), "t", "gnd"] };
    const silent = { ...box, network: network({ ...box.network, ...wired } as never) } as unknown as Loudspeaker;
    expect(() => lossOf(silent, goal)).toThrow(/nothing is heard/);
    const freed = await chooseValues(silent, { goal, values: { ...many, RW: ["open"], RT: ["open"] } } as never);
    expect(freed.lossDb).toBeCloseTo(found.lossDb, 9);
  });

  it("says so where all that keep the limits are silent", async () => {
    const none = { L1: ["open"], R2: ["open"] };
    for (const goal of [{ limits: "stated" }, { frequencies, limits: "stated" }])
      await expect(chooseValues(box, { goal, values: none } as never)).rejects.toMatchObject({
        code: "no-feasible-network",
        message: expect.stringContaining("silent") as string,
      });
  });
});

describe("a goal without the axis", () => {
  const off = loudspeaker({
    network: drawn,
    drivers: [
      { name: "woofer", role: "woofer", pressures: [cone[1]!] },
      { name: "tweeter", role: "tweeter", pressures: [dome[1]!] },
    ],
  }) as unknown as Loudspeaker;
  const values = { L1: [0.5e-3, 0.7e-3], R2: [2.2, 4.7], C2: [5e-6, 7e-6] };
  it.each<[string, GoalOptions]>([
    ["stated frequencies", { frequencies }],
    ["third-octave powers", {}],
  ])("is judged where it was measured, by default limits, too (%s)", async (_, more) => {
    const goal = { places: [{ azimuth: 20 }], largestHumpDb: 12, drivers: { tweeter: 6 }, ...more };
    const found = await chooseValues(off, { goal, values } as never);
    expect(found.proven).toBe(true);
    // The same place of the loudspeaker that was measured on the axis as well.
    const both = await chooseValues(monitor(), { goal: { ...goal, distance: 1 }, values } as never);
    expect(found.lossDb).toBeCloseTo(both.lossDb, 9);
    await expect(chooseValues(off, { goal: { ...goal, largestHumpDb: 0.01 }, values } as never)).rejects.toMatchObject({
      code: "no-feasible-network",
      message: expect.stringContaining("largestHumpDb") as string,
    });
  });

  it("is refused by assess, whose verdict is one of the axis", () => {
    expect(() => assess(off, { ratedImpedance: 6, goal: { places: [{ azimuth: 20 }] } })).toThrow(
      /^assess: no distance has a measurement of every driver on the axis/,
    );
  });

  it("says what to measure or state where no distance has all of its places", async () => {
    await expect(fitValues(off, { goal: { frequencies, places: [{ azimuth: 20 }, { azimuth: -20 }] } } as never)).rejects.toMatchObject({
      code: "not-measured",
    });
    await expect(chooseValues(off, { goal: { frequencies }, values } as never)).rejects.toMatchObject({
      code: "not-measured",
      hint: expect.stringContaining("the goal's places") as string,
    });
  });
});
